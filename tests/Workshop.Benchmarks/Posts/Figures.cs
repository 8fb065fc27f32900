namespace Workshop.Benchmarks.Posts;

/// <summary>How many in a second, and how long each took.</summary>
internal sealed record Figures(double PerSecond, Latencies Latencies);

/// <summary>How long each of many things took.</summary>
internal sealed class Latencies
{
    private readonly List<double> milliseconds = [];
    private bool sorted;

    public int Count => milliseconds.Count;

    public void Add(TimeSpan one)
    {
        milliseconds.Add(one.TotalMilliseconds);
        sorted = false;
    }

    /// <summary>Milliseconds that this part of them did not exceed; 0.5 is the median.</summary>
    public double Quantile(double part)
    {
        if (!sorted)
        {
            milliseconds.Sort();
            sorted = true;
        }

        return milliseconds.Count == 0 ? double.NaN : milliseconds[(int)Math.Min(milliseconds.Count - 1, part * milliseconds.Count)];
    }

    public override string ToString() => FormattableString.Invariant(
        $"median {Quantile(0.5):0.00} ms, 95 of 100 within {Quantile(0.95):0.00} ms, 99 of 100 within {Quantile(0.99):0.00} ms");
}
