using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.WearChecks;

/// <summary>A watch wound fully that lies still for a day, by the tolerance modern-automatic: isochronism 10 s/d, 200° upright.</summary>
public class StaticCheckTests
{
    private static readonly WearCheckStarted Begin = new() { Kind = WearCheckKind.Static, FullyWound = true, ChronographRunning = false };

    private static readonly WearCheckRead Read = new() { Kind = WearCheckKind.Static };

    [Theory]
    [InlineData(6, 200, WearVerdict.Pass)]
    [InlineData(-6, 200, WearVerdict.Pass)]
    [InlineData(-6.1, 230, WearVerdict.Outside)]
    [InlineData(14.1, 230, WearVerdict.Outside)]
    [InlineData(4, 199, WearVerdict.Outside)]
    public void Rate_and_amplitude_a_day_later_are_judged_by_the_tolerance(double meanADayLater, int upright, WearVerdict verdict)
    {
        var story = Measured(24).Does(Set(WindState.OneDay, (decimal)meanADayLater, upright)).Does(Read);

        Assert.Equal(verdict, Last(story).Verdict);
        Assert.Equal([CriterionKind.Isochronism, CriterionKind.VerticalOneDay], Last(story).Criteria.Select(one => one.Kind));
        Assert.Equal((decimal)meanADayLater - 4, Last(story).Criteria[0].Figure);
        Assert.Null(story.Job.WearChecks.RunningStatic);

        // A measurement: the stage is not begun by it, and a fail is not counted.
        Assert.Equal(StageState.Open, story[Stage.WearCheck]);
        Assert.Equal(0, story.Job.WearChecks.TotalFails);
    }

    [Fact]
    public void Static_read_at_39_75_h_is_an_invalid_window_not_a_failure()
    {
        var story = Measured(39.75).Does(Set(WindState.OneDay, 4, 230)).Does(Read);

        Assert.Equal(WearVerdict.InvalidWindow, Last(story).Verdict);
        Assert.Equal(Duration.FromHours(39.75), Last(story).Elapsed);
        Assert.False(story.Job.WearChecks.Statics[0].Runs);
        Assert.Equal((0, 0, false), (story.Job.WearChecks.CountedFails, story.Job.WearChecks.TotalFails, story.Job.WearChecks.FailedSince));
        Assert.Empty(story.Agenda().Where(row => row.Kind == AgendaKind.WearCheck));
    }

    [Theory]
    [InlineData(22.99, WearVerdict.Interim)]
    [InlineData(23, WearVerdict.Pass)]
    [InlineData(25, WearVerdict.Pass)]
    [InlineData(25.01, WearVerdict.InvalidWindow)]
    public void Its_window_is_23_to_25_h(double hours, WearVerdict verdict)
    {
        var story = Measured(hours).Does(Set(WindState.OneDay, 4, 230)).Does(Read);

        Assert.Equal(verdict, Last(story).Verdict);
        Assert.Equal(verdict == WearVerdict.Interim, story.Job.WearChecks.RunningStatic is not null);
    }

    [Fact]
    public void Inside_its_window_it_is_not_read_without_two_sets_of_the_same_positions()
    {
        var story = Measured(24);
        Assert.Equal(("sets-to-compare", "one-day"), Missing(story.RefusedBy(Read)));

        var lacking = Set(WindState.OneDay, 4, 230);
        story.Does(lacking with { Readings = lacking.Readings[..5] });
        Assert.Equal("crown-right", story.RefusedBy(Read).Names["positions"]);

        story = Started().After(Duration.FromHours(24)).Does(Set(WindState.OneDay, 4, 230));
        Assert.Equal(("sets-to-compare", "full"), Missing(story.RefusedBy(Read)));
    }

    [Theory]
    [InlineData(10, true)]
    [InlineData(15, false)]
    [InlineData(60, false)]
    [InlineData(61, true)]
    public void The_first_set_is_measured_15_to_60_minutes_after_winding(int minutes, bool outOfManner)
    {
        var story = Started().After(Duration.FromMinutes(minutes)).Does(Set(WindState.Full, 4, 260)).After(Duration.FromHours(24) - Duration.FromMinutes(minutes))
            .Does(Set(WindState.OneDay, 4, 230)).Does(Read);

        Assert.Equal(outOfManner, Last(story).OutOfManner);
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    [Fact]
    public void Limits_are_frozen_at_the_start()
    {
        var story = Measured(24);
        story.Rules = TestShop.Rules with { Tolerances = ToleranceKind.UsualByName.Values.Select(kind => kind with { IsochronismMostSeconds = 0 }).ToDictionary(kind => kind.Kind).ToFrozen() };
        story.Does(Set(WindState.OneDay, 9, 230)).Does(Read);

        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    // The start.

    [Fact]
    public void It_begins_wound_alone_and_with_the_chronograph_off()
    {
        var story = new Story().Through(Stage.Rebuild).At(2026, 3, 3, 10);
        Assert.Equal("fully-wound", story.RefusedBy(Begin with { FullyWound = null }).Gate);
        Assert.Equal(("chronograph-off", Strength.Ask), Of(story.RefusedBy(Begin with { ChronographRunning = true })));

        story.Does(Begin);
        Assert.Equal("one-check", story.RefusedBy(Begin).Gate);
        Assert.Equal(WearVerdict.Void, story.Does(new WearCheckPaused { Kind = WearCheckKind.Static }).Job.WearChecks.Statics[0].Verdict);

        story.Through(Stage.WaterTest).Does(Story.WearStart());
        Assert.Equal("one-check", story.RefusedBy(Begin).Gate);
    }

    [Fact]
    public void It_is_not_begun_when_nobody_would_be_there_to_measure_it_again()
    {
        // Friday at 17:30 in a shop that is shut on Saturday.
        var story = new Story().Through(Stage.Rebuild).At(2026, 3, 6, 17, 30);
        var refused = story.RefusedBy(Begin, despite: ["static-start"]);

        Assert.Equal(("static-start", Strength.Stop), Of(refused));
        Assert.True(refused.Waivable);
        Assert.Equal(TestShop.Local(2026, 3, 9, 9).ToString(), refused.Names["nextUseful"]);
        Assert.False(refused.Names.ContainsKey("latestToday"));

        story.Does(new WaiverGiven { Gate = "static-start", Reason = "I come in on Saturday" }, TestShop.Manager).Does(Begin);
        Assert.NotNull(story.Job.WearChecks.RunningStatic);
    }

    [Fact]
    public void A_worn_check_may_not_begin_beside_it() =>
        Assert.Contains(Started().Through(Stage.WaterTest).Refused(Story.WearStart()), one => one.Gate == "one-check");

    [Fact]
    public void It_is_due_after_a_day_and_the_manager_hears_of_it_when_nobody_reads_it()
    {
        var story = Started();
        var row = Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.WearCheck);

        Assert.Equal(story.Job.WearChecks.RunningStatic!.StartedAt + Duration.FromHours(24), row.Due);
        Assert.Equal((row.Due, AgendaLevel.Due), (row.Wake, row.Level));
        Assert.Equal(row.Due, row.Task);
    }

    // Void.

    [Fact]
    public void A_watch_that_was_wound_in_between_lies_in_vain()
    {
        Assert.Equal(WearVerdict.Void, Measured(20).Does(Set(WindState.Full, 4, 260)).Job.WearChecks.Statics[0].Verdict);
        Assert.Equal(WearVerdict.Void, Measured(6).Does(Set(WindState.Part, 4, 260) with { HoursSinceFullWind = 1 }).Job.WearChecks.Statics[0].Verdict);
        Assert.Null(Measured(6).Does(Set(WindState.Part, 4, 260) with { HoursSinceFullWind = 6 }).Job.WearChecks.Statics[0].Verdict);
    }

    [Fact]
    public void The_index_and_a_new_rebuild_make_it_void_and_an_opening_only_where_the_case_was_closed()
    {
        Assert.Equal(WearVerdict.Void, Measured(6).Does(new IndexTouched()).Job.WearChecks.Statics[0].Verdict);
        Assert.Equal(WearVerdict.Void, Measured(6).SendBack(Stage.Regulation, Stage.Rebuild).Job.WearChecks.Statics[0].Verdict);
        Assert.Null(Measured(6).Does(new CaseOpened()).Job.WearChecks.Statics[0].Verdict);

        var cased = new Story().Through(Stage.Casing).At(2026, 3, 3, 10).Does(Begin).After(Duration.FromHours(2)).Does(new CaseOpened());
        Assert.Equal(WearVerdict.Void, cased.Job.WearChecks.Statics[0].Verdict);
    }

    [Fact]
    public void A_watch_that_stops_lying_still_owes_two_days_of_wear()
    {
        var story = Measured(10).Does(Read with { Stopped = true });

        Assert.Equal(WearVerdict.Stopped, Last(story).Verdict);
        Assert.Equal(Duration.FromHours(48), story.Through(Stage.WaterTest).Does(Story.WearStart()).Job.WearChecks.Running!.Terms.Owed);
    }

    [Fact]
    public void A_quartz_watch_has_no_spring_that_runs_down() => Assert.Equal("/kind", Assert.Single(EventFaults.OfQuartz(Begin)).Pointer);

    private static Story Started() => new Story().Through(Stage.Rebuild).At(2026, 3, 3, 10).Does(Begin);

    private static Story Measured(double readAtHours) =>
        Started().After(Duration.FromMinutes(30)).Does(Set(WindState.Full, 4, 260)).After(Duration.FromHours(readAtHours) - Duration.FromMinutes(30));

    private static RateSetRecorded Set(WindState wind, decimal rate, decimal upright) => new()
    {
        WindState = wind,
        Readings = [.. Enum.GetValues<Position>().Select(position => new RateReading(position, rate, position is Position.DialUp or Position.DialDown ? upright + 30 : upright))],
    };

    private static StaticReading Last(Story story) => story.Job.WearChecks.Statics[^1].Readings[^1];

    private static (string Gate, string Missing) Missing(Objection one) => (one.Gate, one.Names["missing"]);

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);
}

file static class Frozen
{
    public static System.Collections.Frozen.FrozenDictionary<string, ToleranceKind> ToFrozen(this Dictionary<string, ToleranceKind> kinds) =>
        System.Collections.Frozen.FrozenDictionary.ToFrozenDictionary(kinds);
}
