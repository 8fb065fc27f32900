using System.Globalization;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Words;

namespace Workshop.Core.Stops;

/// <summary>What a stop says, in words.</summary>
public static class StopWords
{
    public static Phrase For(Duration ran) => Phrase.Of("{0} h {1} min", (int)ran.TotalHours, ran.Minutes);

    /// <summary>As it was read.</summary>
    public static string Time(ShownHands hands) =>
        LocalTimePattern.CreateWithInvariantCulture(hands.Step < Duration.FromMinutes(1) ? "HH:mm:ss" : "HH:mm").Format(hands.Time);

    /// <summary>How often it was found, or that too few causes were.</summary>
    public static Phrase Of(Suspicion one) => one.TooFew
        ? Phrase.Of("too few to say (n = {0})", one.OfFound)
        : Phrase.Of("{0} of {1} (n = {1})", one.Found, one.OfFound);

    /// <summary>Why this test comes next.</summary>
    public static Phrase Why(NextTest next) => Phrase.Of(
        "{0}: {1} % of what fits, for {2} minutes", next.Suspicion.Cause, Math.Round(next.Suspicion.Probability * 100).ToString("0", CultureInfo.InvariantCulture), next.Test.Minutes);

    /// <summary>Where the test hurts; null where it does not.</summary>
    public static Phrase? Caution(StopTestCost test) =>
        test.OpensTheCase ? Phrase.Of("The case is opened: casing, water test and wear check are done again.")
        : test.Test == StopTest.ThroughMidnight ? Phrase.Of("Turn slowly: a jammed calendar is not forced.")
        : null;
}
