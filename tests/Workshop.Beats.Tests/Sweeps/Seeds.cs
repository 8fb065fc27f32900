namespace Workshop.Beats.Tests.Sweeps;

/// <summary>
/// Which recordings may be looked at while the analyser is being changed, and which may not. What was tuned on one set of recordings must be shown
/// on another: a change is tried on <see cref="Tuning"/>, and the tests that state what it can do use <see cref="Test"/> alone.
/// </summary>
public static class Seeds
{
    /// <summary>
    /// For trying things out: 1 to 1 099 999. Those from 500 000 on judged the first version of the analyser, those from 900 000 on the second, those from 1 000 000 on a draft of the third; what they
    /// showed was mended in the next one, and since then they are for trying things out as well.
    /// </summary>
    public static int Tuning(int number) => 1 + number;

    /// <summary>
    /// For what is claimed: from 1 100 000 on. Never looked at one by one in order to change something; whoever does moves on to another range.
    /// </summary>
    public static int Test(int number) => 1_100_000 + number;
}
