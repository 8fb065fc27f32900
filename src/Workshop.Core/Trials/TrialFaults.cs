using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Trials;

/// <summary>What is wrong in a day of a trial alone.</summary>
internal static class TrialFaults
{
    private const int NameAtMost = 40;
    private const int RateAtMost = 86_400;

    public static IEnumerable<Fault> Of(TrialDayRecorded told)
    {
        if (!IsName(told.Trial))
        {
            yield return new Fault("/trial", Phrase.Of("The name of a trial is 1 to {0} small letters, digits and hyphens.", NameAtMost));
        }

        if (told.Day is < 1 or > TrialSequence.Days)
        {
            yield return new Fault("/day", Phrase.Of("A trial has the days 1 to {0}.", TrialSequence.Days));
        }

        // A watch does not gain or lose more than the day itself.
        if (Math.Abs(told.RatePerDaySeconds) > RateAtMost)
        {
            yield return new Fault("/ratePerDaySeconds", Phrase.Of("A rate is at most {0} seconds a day either way.", RateAtMost));
        }

        if (told.TemperatureCelsius is < -60 or > 100)
        {
            yield return new Fault("/temperatureCelsius", Phrase.Of("No watch was measured at this temperature."));
        }
    }

    /// <summary>The name stands in an address, and two spellings of one name would be two trials.</summary>
    public static bool IsName(string trial) =>
        trial.Length is >= 1 and <= NameAtMost && trial[0] != '-' && trial.All(one => one is (>= 'a' and <= 'z') or (>= '0' and <= '9') or '-');
}
