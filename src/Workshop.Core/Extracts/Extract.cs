using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Parts;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Extracts;

/// <summary>What the owner of a watch may show of a job that is over: built line by line from what counts, never by leaving out.</summary>
public static class Extract
{
    // Work a customer knows by its name. What is done behind the bench more than once appears by the day of its last time.
    private static readonly ImmutableArray<Stage> Shown =
        [Stage.Takedown, Stage.Cleaning, Stage.Rebuild, Stage.Regulation, Stage.CaseWork, Stage.Gaskets, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions];

    /// <summary>The lines in the order of their days; none for a watch that has not been given back.</summary>
    /// <param name="entries">Of the job, in any order.</param>
    public static ImmutableArray<ExtractLine> Of(Job job, IEnumerable<Entry> entries, ShopCalendar calendar)
    {
        if (job.Warranty.HandedOverOn is null)
        {
            return [];
        }

        var counting = Reckoning.InOrder(entries).Where(entry => entry.Counts && !entry.OfNoEffect).ToArray();
        LocalDate Day(Instant at) => calendar.DateOf(at);
        return
        [
            .. counting.Where(entry => entry.Event is JobTakenIn).Take(1).Select(entry => Line(ExtractKind.TakenIn, entry) with { Work = job.Intake.Variant }),
            .. Shown.Select(stage => (Stage: stage, Standing: job.Standings.Of(stage))).Where(one => one.Standing is { State: StageState.Done, Since: not null })
                .OrderBy(one => one.Standing.Since)
                .Select(one => new ExtractLine { What = ExtractKind.WorkDone, On = Day(one.Standing.Since!.Value), Stage = one.Stage, Position = PositionOf(one.Standing.By) }),
            .. counting.Select(entry => entry.Event is PartFitted fitted ? Line(ExtractKind.PartFitted, entry) with { Part = fitted.Part } : null).OfType<ExtractLine>(),
            .. Measured(job, Day, PositionOf),
            .. Worn(job, Day, PositionOf),
            .. job.WaterTests.NewestValid is { } water
                ? [new ExtractLine { What = ExtractKind.WaterTested, On = Day(water.At), Method = water.Method, PressureBar = water.PressureBar, Position = PositionOf(water.Id) }]
                : ImmutableArray<ExtractLine>.Empty,
            .. counting.Where(entry => entry.Event is FinalControlPassed).TakeLast(1).Select(entry => Line(ExtractKind.FinalControl, entry)),
            .. counting.Select(entry => entry.Event is JobHandedOver left ? Line(ExtractKind.HandedOver, entry) with { On = left.On } : null).OfType<ExtractLine>().TakeLast(1),
            .. job.Warranty.Lines.Select(line => new ExtractLine { What = ExtractKind.Warranty, On = line.StartsOn, Line = line.Line, LastDay = line.LastDay }),
        ];

        ExtractLine Line(ExtractKind what, Entry entry) => new() { What = what, On = Day(entry.Effective), Position = entry.Place.Position };
        long? PositionOf(EventId? id) => counting.FirstOrDefault(entry => entry.Id == id)?.Place.Position;
    }

    // The figures it left with: the last set before the final control, which is the one somebody signed for.
    private static IEnumerable<ExtractLine> Measured(Job job, Func<Instant, LocalDate> day, Func<EventId?, long?> position) =>
        from set in job.Timekeeping.RateSets.Where(set => set.Adjustment == job.Timekeeping.Adjustment && set.At <= job.FinalControl.PassedAt && !set.ChronographRunning).TakeLast(1)
        select new ExtractLine
        {
            What = ExtractKind.Measured,
            On = day(set.At),
            WindState = set.Told.WindState,
            LiftAngleDegrees = set.LiftAngleDegrees,
            Readings = [.. set.Readings.Select(one => new ExtractReading(one.Position, one.RatePerDaySeconds, one.AmplitudeDegrees is { } amplitude ? Tenth(amplitude) : null, one.BeatErrorMilliseconds))],
            Position = position(set.Id),
        };

    private static IEnumerable<ExtractLine> Worn(Job job, Func<Instant, LocalDate> day, Func<EventId?, long?> position) =>
        job.WearChecks.LastJudged is { Verdict: WearVerdict.Pass, Readings: [.., { RatePerDaySeconds: { } rate } last] }
            ? [new ExtractLine
            {
                What = ExtractKind.WornCheck,
                On = day(last.At),
                RatePerDaySeconds = Tenth(rate),
                PlusMinusSeconds = last.PlusMinusSeconds is { } plusMinus ? Tenth(plusMinus) : null,
                OverHours = Tenth((decimal)last.Wear.TotalHours),
                Position = position(last.Id),
            }]
            : [];

    private static decimal Tenth(decimal figure) => decimal.Round(figure, 1, MidpointRounding.AwayFromZero);
}
