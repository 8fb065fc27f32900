using Workshop.Core.Journal;
using Workshop.Core.Timekeeping.Quantities;
using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>What is wrong in a rate set alone: figures that no watch has, from a slip of the hand or the unit.</summary>
internal static class RateFaults
{
    public static IEnumerable<Fault> Of(RateSetRecorded set)
    {
        if (set.Readings.IsDefaultOrEmpty)
        {
            return [new Fault("/readings", Phrase.Of("A rate set has at least one reading."))];
        }

        return set.Readings.GroupBy(reading => reading.Position).Where(group => group.Count() > 1)
            .Select(twice => new Fault("/readings", Phrase.Of("The position '{0}' is there twice.", twice.Key)))
            .Concat(set.LiftAngleDegrees is { } lift ? LiftAngle(lift) : [])
            .Concat(set.VibrationsPerHour is { } vibrations && !new Vibrations(vibrations).IsPossible
                ? [new Fault("/vibrationsPerHour", Phrase.Of("Vibrations an hour are {0} to {1}.", Vibrations.Least, Vibrations.Most))] : [])
            .Concat(set.HoursSinceFullWind < 0 ? [new Fault("/hoursSinceFullWind", Phrase.Of("Less than no time has not passed."))] : [])
            .Concat(set.Readings.Index().SelectMany(one => Reading(one.Item, $"/readings/{one.Index}")));
    }

    public static IEnumerable<Fault> LiftAngle(decimal degrees)
    {
        if (!new LiftAngle(degrees).IsPossible)
        {
            yield return new Fault("/liftAngleDegrees", Phrase.Of("A lift angle is {0} to {1} degrees.", Quantities.LiftAngle.Least, Quantities.LiftAngle.Most));
        }
    }

    private static IEnumerable<Fault> Reading(RateReading reading, string pointer)
    {
        if (!new DailyRate(reading.RatePerDaySeconds).IsPossible)
        {
            yield return new Fault($"{pointer}/ratePerDaySeconds", Phrase.Of("A rate is at most {0} seconds a day either way.", DailyRate.AtMost));
        }

        if (reading.AmplitudeDegrees is { } amplitude && !new Amplitude(amplitude).IsPossible)
        {
            yield return new Fault($"{pointer}/amplitudeDegrees", Phrase.Of("An amplitude is more than 0 and at most {0} degrees; leave out what was not measured.", Amplitude.Most));
        }

        if (reading.BeatErrorMilliseconds is { } error && !new BeatError(error).IsPossible)
        {
            yield return new Fault($"{pointer}/beatErrorMilliseconds", Phrase.Of("A beat error is 0 to {0} milliseconds.", BeatError.Most));
        }
    }
}
