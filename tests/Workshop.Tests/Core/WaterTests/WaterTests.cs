using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.WaterTests;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.WaterTests;

/// <summary>Figures are common practice of the trade.</summary>
public class WaterTests
{
    [Theory]
    [InlineData(null, null, "vacuum -0.7..-0.5, pressure 2..3, condensation")]
    [InlineData(3.0, null, "vacuum -0.7..-0.5, pressure 2..3, condensation")]
    [InlineData(5.0, null, "vacuum -0.7..-0.5, pressure 5..5, condensation")]
    [InlineData(10.0, null, "empty-case 10..10, vacuum -0.7..-0.5, pressure 10..10, condensation")]
    [InlineData(20.0, true, "empty-case 20..20, vacuum -0.7..-0.5, pressure 10..10, condensation, in-water 25..25")]
    public void A_watch_is_tested_by_its_rating_in_this_order(double? rating, bool? diver, string plan) =>
        Assert.Equal(
            plan,
            string.Join(", ", WaterPlan.Of(new WaterFacts { RatingBar = (decimal?)rating, Diver = diver }, WaterRules.Usual)
                .Select(step => step.Bar is { } bar ? FormattableString.Invariant($"{Word.Of(step.Step)} {bar.Least}..{bar.Most}") : Word.Of(step.Step))));

    [Fact]
    public void What_must_never_be_tested_has_no_plan_and_what_nobody_knows_is_to_be_asked()
    {
        var facts = new WaterFacts { Crystal = CrystalMaterial.Acrylic, CrystalDamaged = true, Vintage = true, Seal = SealState.Broken, CustomerWishes = false };

        Assert.Equal([NeverTested.AcrylicRatingUnknown, NeverTested.CrystalDamaged, NeverTested.Vintage, NeverTested.SealBroken, NeverTested.CustomerSaidNot], facts.Never().ToArray());
        Assert.Empty(WaterPlan.Of(facts, WaterRules.Usual));
        Assert.Equal([WaterUnknown.Rating], facts.Unknown().ToArray());
        Assert.Equal(5, WaterFacts.Nothing.Unknown().Length);
        Assert.Empty(WaterFacts.Nothing.Never());
    }

    [Fact]
    public void The_start_of_the_stage_names_the_reason_where_one_is_known_and_a_tap_goes_on()
    {
        var story = new Story().Through(Stage.Casing);
        story.Watch = Known(new WaterFacts { CrystalDamaged = true });
        var start = new StageStarted { Stage = Stage.WaterTest };

        var asked = story.RefusedBy(start);
        Assert.Equal(("never-tested", Strength.Ask, "crystal-damaged"), (asked.Gate, asked.Strength, asked.Names["reasons"]));
        story.Does(start, despite: ["never-tested"]);

        var unknown = new Story().Through(Stage.Casing);
        unknown.Watch = Known(WaterFacts.Nothing);
        unknown.Does(start);
    }

    [Fact]
    public void A_test_against_a_caution_counts_and_is_flagged()
    {
        var story = new Story().Through(Stage.Casing);
        story.Watch = Known(new WaterFacts { Crystal = CrystalMaterial.Acrylic, RatingBar = 3 });
        var wet = story.Says(new WaterTestRecorded { Method = WaterTestMethod.Wet, PressureBar = 4, WatchAtRoomMinutes = 29, Passed = true });

        Assert.Equal(Outcome.Accepted, wet.Outcome);
        Assert.Contains(EntryFlag.AgainstCaution, wet.Flags);
        Assert.Equal([WaterCaution.AcrylicAboveRating, WaterCaution.WetBeforeDry, WaterCaution.ColdWatch], story.Job.WaterTests.Tests[^1].Against.ToArray());
        Assert.True(story.Job.Standings.Stands(Stage.WaterTest));
    }

    [Fact]
    public void In_water_after_a_dry_pass_of_the_closed_watch_is_against_nothing()
    {
        var story = new Story().Through(Stage.Casing);
        story.Watch = Known(WaterFacts.Nothing);
        var wet = new WaterTestRecorded { Method = WaterTestMethod.Wet, PressureBar = 4, WatchAtRoomMinutes = 30, Passed = true };
        story.Does(Story.WaterTest()).After(Duration.FromMinutes(1));
        Assert.DoesNotContain(EntryFlag.AgainstCaution, story.Says(wet).Flags);

        story.After(Duration.FromMinutes(1)).Does(new CaseOpened()).After(Duration.FromMinutes(1)).Does(story.Closing()).After(Duration.FromMinutes(1));
        Assert.Contains(EntryFlag.AgainstCaution, story.Says(wet).Flags);
    }

    [Fact]
    public void A_pass_says_something_until_the_case_is_opened_however_shortly()
    {
        var story = new Story().Through(Stage.WaterTest);
        Assert.Equal(WaterValidity.Valid, Newest(story).Validity);

        story.After(Duration.FromMinutes(1)).Does(new CaseOpened());
        Assert.Equal((WaterValidity.VoidSinceOpened, story.Now), (Newest(story).Validity, Newest(story).OpenedAt!.Value));

        story.After(Duration.FromMinutes(1)).Does(story.Closing());
        Assert.Equal(WaterValidity.VoidSinceOpened, Newest(story).Validity);
        Assert.Null(story.Job.WaterTests.NewestValid);
    }

    [Fact]
    public void A_case_that_work_has_opened_is_open_whoever_forgot_to_say_so()
    {
        var story = new Story().Through(Stage.WaterTest).After(Duration.FromMinutes(1)).Does(new Workshop.Core.Timekeeping.IndexTouched());

        Assert.Equal(WaterValidity.VoidSinceOpened, Newest(story).Validity);
    }

    [Fact]
    public void The_empty_case_neither_ends_the_stage_nor_fails_it()
    {
        var story = new Story().Through(Stage.Casing).Does(Story.WaterTest() with { EmptyCase = true });
        Assert.False(story.Job.Standings.Stands(Stage.WaterTest));
        Assert.Equal(WaterValidity.NotAsClosed, Newest(story).Validity);

        story.Does(Story.WaterTest()).Does(Story.WaterTest(passed: false) with { EmptyCase = true });
        Assert.Equal((StageState.Done, WaterValidity.Leaks), (story[Stage.WaterTest], Newest(story).Validity));
    }

    [Fact]
    public void What_is_wrong_in_a_test_is_said()
    {
        Assert.Equal(["/pressureBar"], EventFaults.Of(Story.WaterTest() with { PressureBar = -1.1m }).Select(fault => fault.Pointer));
        Assert.Equal(["/method"], EventFaults.Of(Story.WaterTest() with { WarmCelsius = 42 }).Select(fault => fault.Pointer));
        Assert.Equal(["/vacuumBar", "/vacuumBar"], new WaterRules { VacuumBar = new(0.5m, 0.2m) }.Faults("").Select(fault => fault.Pointer));
        Assert.Empty(WaterRules.Usual.Faults(""));
    }

    private static WaterTestSummary Newest(Story story) => story.Job.WaterTests.Tests[^1];

    private static WatchKnown Known(WaterFacts water) => new() { Kind = CalibreKind.Automatic, Water = water };
}
