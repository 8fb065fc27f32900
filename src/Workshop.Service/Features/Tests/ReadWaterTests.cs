using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Hazards;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.WaterTests;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Tests;

/// <summary>A word of a closed list and what people call it in the caller's language.</summary>
public sealed record NeverTestedView(NeverTested Reason, string Words);

/// <summary>Something that nobody has written down: to be asked, or looked at.</summary>
public sealed record WaterUnknownView(WaterUnknown Unknown, string Words);

/// <summary>What was against a caution of the trade in a test that was made.</summary>
public sealed record WaterCautionView(WaterCaution Caution, string Words);

/// <summary>One step of testing, in its order.</summary>
/// <param name="LeastBar">Bar over ambient; negative under it.</param>
/// <param name="IfNeeded">Not asked of every watch; in water only after a dry pass.</param>
public sealed record WaterStepView(
    WaterStep Step, string Words, WaterTestMethod Method, decimal? LeastBar, decimal? MostBar, decimal? LeastCelsius, decimal? MostCelsius, decimal? LeastMinutes, decimal? MostMinutes,
    decimal? DropMinutes, bool IfNeeded);

/// <summary>A test as it was told, and what it says of the watch as it is now.</summary>
/// <param name="ClosedSince">When the case was closed in which it was tested.</param>
/// <param name="OpenedAt">When the case was opened after it.</param>
/// <param name="AgainOn">A watch that is worn in water is tested again by this day; of a valid pass alone.</param>
public sealed record WaterTestToldView(
    EntryRef Event, Instant At, WaterTestMethod Method, decimal? PressureBar, decimal? HoldSeconds, decimal? DeformationMicrometres, bool Passed, string? Device, string? Programme, bool EmptyCase,
    decimal? WatchAtRoomMinutes, decimal? RatingBar, string? Person, Instant? ClosedSince, Instant? OpenedAt, WaterValidity Validity, string ValidityWords, LocalDate? AgainOn,
    ImmutableArray<WaterCautionView> Against);

/// <summary>How a watch is tested for tightness, whether it may be, and what was tested.</summary>
/// <param name="Never">Why it is never put under pressure; by what is known.</param>
/// <param name="NotKnown">What nobody has written down; ask before anything is put under pressure.</param>
/// <param name="RoomMinutes">The watch is at room temperature for so long first.</param>
/// <param name="Plan">What to do in which order; nothing where it is never tested.</param>
/// <param name="Valid">A pass that still says something of the watch as it is closed.</param>
/// <param name="Statement">What a pass is worth, in the caller's language.</param>
public sealed record WaterTestsView(
    Label Job, decimal? RatingBar, CrystalMaterial? Crystal, bool? Diver, ImmutableArray<NeverTestedView> Never, ImmutableArray<WaterUnknownView> NotKnown, decimal RoomMinutes,
    ImmutableArray<WaterStepView> Plan, bool Valid, string Statement, ImmutableArray<WaterTestToldView> Tests, ImmutableArray<Caution> Cautions);

/// <summary>The water tests of a job.</summary>
public static class ReadWaterTests
{
    public static async Task<Results<Ok<WaterTestsView>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        var rules = await source.Read(caller.Site, cancel);
        return await TestsReading.Read(store, reader, caller.Site, name, rules, cancel) is { } read
            ? TypedResults.Ok(Shown(read, rules, language.Best))
            : PathLabel.NoJob();
    }

    private static WaterTestsView Shown(TestsReading read, ShopRules rules, Language language)
    {
        var facts = read.Known.Water;
        return new WaterTestsView(
            read.Job.Label, facts.RatingBar, facts.Crystal, facts.Diver,
            [.. facts.Never().Select(one => new NeverTestedView(one, WordLists.Of(one, language)))],
            [.. facts.Unknown().Select(one => new WaterUnknownView(one, Phrase.Of("not known: ask {0}", one).In(language)))],
            rules.Water.RoomMinutes,
            [.. WaterPlan.Of(facts, rules.Water).Select(step => Shown(step, language))],
            read.Job.WaterTests.NewestValid is not null,
            Phrase.Of("A pass is a statement about that minute; worn in water, the watch is tested again after {0} months.", rules.Water.AgainAfterMonths).In(language),
            [.. read.Job.WaterTests.Tests.Select(test => Shown(test, rules, language))],
            Hazard.Cautions([Hazard.Pressure], language));
    }

    private static WaterStepView Shown(PlannedStep step, Language language) => new(
        step.Step, WordLists.Of(step.Step, language), step.Method, step.Bar?.Least, step.Bar?.Most, step.Celsius?.Least, step.Celsius?.Most, step.Minutes?.Least, step.Minutes?.Most,
        step.DropMinutes, step.IfNeeded);

    private static WaterTestToldView Shown(WaterTestSummary test, ShopRules rules, Language language) => new(
        EntryRef.Of(test.Id), test.At, test.Method, test.PressureBar, test.Told.HoldSeconds, test.Told.DeformationMicrometres, test.Passed, test.Told.Device, test.Told.Programme, test.OfEmptyCase,
        test.Told.WatchAtRoomMinutes, test.Told.RatingBar, test.Person, test.ClosedSince, test.OpenedAt, test.Validity, WordLists.Of(test.Validity, language),
        test.Validity == WaterValidity.Valid ? rules.Calendar.DateOf(test.At).PlusMonths(rules.Water.AgainAfterMonths) : null,
        [.. test.Against.Select(one => new WaterCautionView(one, WordLists.Of(one, language)))]);
}
