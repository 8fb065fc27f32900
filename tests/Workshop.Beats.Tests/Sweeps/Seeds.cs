namespace Workshop.Beats.Tests.Sweeps;

/// <summary>
/// Which recordings may be looked at while the analyser is being changed, and which may not. What was tuned on one set of recordings must be shown
/// on another: a change is tried on <see cref="Tuning"/>, and the tests that state what it can do use <see cref="Test"/> alone.
/// </summary>
public static class Seeds
{
    /// <summary>
    /// For trying things out: 1 to 899 999. Those from 500 000 on judged the first version of the analyser; what they showed was mended in the second,
    /// and since then they are for trying things out as well.
    /// </summary>
    public static int Tuning(int number) => 1 + number;

    /// <summary>
    /// For what is claimed: from 900 000 on, but for those from 920 000 to 949 999, whose table showed a rate in ten seconds of bad noise that should not have
    /// been given. Never looked at one by one in order to change something; whoever does moves on to another range.
    /// The table from 950 000 on showed an amplitude and a rate that should not have been given; nothing was changed for them yet, and what is has to be shown on others.
    /// </summary>
    public static int Test(int number) => 900_000 + number;
}
