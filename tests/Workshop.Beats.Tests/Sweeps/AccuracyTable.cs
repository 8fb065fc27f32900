using Xunit.Abstractions;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>
/// The accuracy by signal-to-noise ratio, frequency and length, on one recording a cell of a small table; the whole one is printed by
/// <c>accuracy</c> of the benchmarks.
/// </summary>
public sealed class AccuracyTable(ITestOutputHelper output)
{
    [Fact]
    public void Accuracy_by_ratio_frequency_and_length()
    {
        var all = AccuracyRows.Print([30, 10], [10, 30], 1, Seeds.Test, output.WriteLine);

        Assert.Equal(2 * Scenes.Frequencies.Length * 2, all.Count);
        Assert.All(all, one => Assert.Null(one.Wrong()));
    }
}
