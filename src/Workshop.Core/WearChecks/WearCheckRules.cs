using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.WearChecks;

/// <summary>The shop's figures of checks after wear that are the same for every kind of work. Common practice.</summary>
public sealed record WearCheckRules
{
    public static WearCheckRules Usual { get; } = new();

    /// <summary>Time that measuring the set of a static check takes, up to two hours.</summary>
    public Duration StaticMeasuring { get; init; } = Duration.FromMinutes(20);

    /// <summary>A worn rate further than this from what the last set at the bench predicts is said to be unlike it; seconds a day.</summary>
    [Range(0.1, 600)]
    public decimal UnlikePredictionSeconds { get; init; } = 5;

    /// <summary>Midnights that a check over a week includes at the least.</summary>
    [Range(0, 8)]
    public int MidnightsInAWeek { get; init; } = 3;

    /// <summary>Starts and resets a day that a check over a week of a chronograph includes.</summary>
    [Range(0, 1_000)]
    public int ResetsADay { get; init; } = 10;

    /// <summary>What is wrong besides the limits of each member.</summary>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (StaticMeasuring <= Duration.Zero || StaticMeasuring > Duration.FromHours(2))
        {
            yield return new Fault($"{pointer}/staticMeasuring", "Measuring takes more than no time and at most two hours");
        }
    }
}
