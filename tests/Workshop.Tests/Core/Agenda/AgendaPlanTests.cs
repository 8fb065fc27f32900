using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Agenda;

public class AgendaPlanTests
{
    [Fact]
    public void A_check_due_while_the_shop_is_shut_is_read_at_the_next_opening()
    {
        // Friday, 6 March 2026, half past five: due on Saturday, to be read on Monday.
        var story = Worn(2026, 3, 6, 17, 30);
        var row = Row(story, AgendaKind.WearCheck);

        Assert.Equal((At(3, 7, 17, 30), At(3, 9, 9), At(3, 7, 17, 30)), (row.Due!.Value, row.Task!.Value, row.Wake!.Value));
        Assert.Equal(AgendaLevel.Due, row.Level);
    }

    [Fact]
    public void A_due_check_is_announced_three_times_each_once()
    {
        var story = Worn(2026, 3, 10, 14);
        Assert.Equal((AgendaLevel.Due, At(3, 11, 14)), Next(story));

        Announce(story, AgendaKind.WearCheck);
        Assert.Equal((AgendaLevel.Overdue, At(3, 11, 18)), Next(story));
        Announce(story, AgendaKind.WearCheck);
        Assert.Equal((AgendaLevel.Manager, At(3, 12, 14)), Next(story));
        Announce(story, AgendaKind.WearCheck);
        Assert.Null(Row(story, AgendaKind.WearCheck).Wake);
        Assert.Equal(At(3, 11, 14), Row(story, AgendaKind.WearCheck).Due);

        static (AgendaLevel, Instant) Next(Story story) => Row(story, AgendaKind.WearCheck) is var row ? (row.Level, row.Wake!.Value) : default;
    }

    [Fact]
    public void A_paused_check_has_no_due_moment_and_says_since_when()
    {
        var story = Worn(2026, 3, 10, 9).After(Duration.FromHours(2)).Does(new WearCheckPaused { Kind = WearCheckKind.Worn });
        var row = Row(story, AgendaKind.WearCheck);

        Assert.Equal((null, null, null), (row.Due, row.Task, row.Wake));
        Assert.Contains("paused since", row.Line, StringComparison.Ordinal);

        story.After(Duration.FromHours(4)).Does(new WearCheckResumed { Kind = WearCheckKind.Worn });
        Assert.Equal(At(3, 11, 13), Row(story, AgendaKind.WearCheck).Due);
    }

    [Fact]
    public void A_due_moment_that_moved_is_announced_anew()
    {
        var story = Worn(2026, 3, 10, 9).At(2026, 3, 11, 9);
        Announce(story, AgendaKind.WearCheck);
        Assert.Equal(AgendaLevel.Overdue, Row(story, AgendaKind.WearCheck).Level);

        story.After(Duration.FromHours(1)).Does(new WearCheckPaused { Kind = WearCheckKind.Worn }, at: At(3, 10, 12)).Does(new WearCheckResumed { Kind = WearCheckKind.Worn }, at: At(3, 10, 14));

        var row = Row(story, AgendaKind.WearCheck);
        Assert.Equal((AgendaLevel.Due, At(3, 11, 11)), (row.Level, row.Wake!.Value));
    }

    [Fact]
    public void A_reading_that_settles_nothing_moves_the_due_moment_to_when_the_next_one_would()
    {
        var story = Worn(2026, 3, 10, 9).At(2026, 3, 11, 9).Does(Story.WearRead(9));
        var due = Row(story, AgendaKind.WearCheck).Due!.Value;

        Assert.Equal(Math.Sqrt(2) * 24, (due - At(3, 10, 9)).TotalHours, 6);
    }

    [Fact]
    public void A_check_that_was_read_or_is_void_is_off_the_agenda()
    {
        Assert.DoesNotContain(Worn(2026, 3, 10, 9).At(2026, 3, 11, 9).Does(Story.WearRead(3)).Agenda(), row => row.Kind == AgendaKind.WearCheck);
        Assert.DoesNotContain(Worn(2026, 3, 10, 9).Does(new CaseOpened()).Agenda(), row => row.Kind == AgendaKind.WearCheck);
    }

    [Fact]
    public void The_second_fail_is_seen_by_the_manager_and_the_third_is_the_managers()
    {
        var story = new Story().Through(Stage.WaterTest);
        for (var fail = 1; fail <= 3; fail++)
        {
            story.Does(Story.WearStart(), despite: ["second-watchmaker"]).After(Duration.FromHours(24)).Does(Story.WearRead(14));
            var rows = story.Agenda().Where(row => row.Kind == AgendaKind.WearCheckFails).ToArray();
            Assert.Equal(fail > 1 ? 1 : 0, rows.Length);
            Assert.All(rows, row => Assert.Equal((AgendaLevel.Manager, story.Now), (row.Level, row.Wake!.Value)));
            Assert.All(rows, row => Assert.Equal(fail == 3, row.Line.EndsWith("decide how to go on", StringComparison.Ordinal)));
        }
    }

    [Fact]
    public void Lost_ground_and_reports_that_wait_are_the_managers_at_once()
    {
        var story = new Story().Through(Stage.FinalControl).After(Duration.FromHours(2));
        story.Does(new CaseOpened(), at: story.Now - Duration.FromHours(1)).Says(new StageStarted { Stage = Stage.Takedown }, at: story.Now - Duration.FromHours(1));

        var ground = Row(story, AgendaKind.GroundLost);
        var review = Row(story, AgendaKind.Review);
        Assert.All([ground, review], row => Assert.True(row is { Level: AgendaLevel.Manager, Wake: { } wake } && wake <= story.Now));
        Announce(story, AgendaKind.GroundLost);
        Assert.Null(Row(story, AgendaKind.GroundLost).Wake);
    }

    [Fact]
    public void Lost_ground_of_a_watch_that_has_left_says_so()
    {
        var story = new Story().Through(Stage.HandedOver).Does(new CaseOpened());

        Assert.Contains("Out of the house", Row(story, AgendaKind.GroundLost).Line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_promise_falls_due_at_the_end_of_its_day_until_the_watch_is_ready()
    {
        var story = new Story().Through(Stage.Quote);
        Assert.Equal(story.Rules.Calendar.EndOfDay(story.Job.Promise.On!.Value), Row(story, AgendaKind.Promise).Due);

        Assert.DoesNotContain(story.Through(Stage.Ready).Agenda(), row => row.Kind == AgendaKind.Promise);
    }

    [Fact]
    public void An_unanswered_quote_runs_out_and_is_said_once()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        Assert.Equal(Instant.FromUtc(2026, 4, 1, 22, 0), Row(story, AgendaKind.QuoteExpiry).Due);

        Announce(story, AgendaKind.QuoteExpiry);
        Assert.Null(Row(story, AgendaKind.QuoteExpiry).Wake);
        Assert.DoesNotContain(story.At(2026, 3, 3, 10).DeskDoes(Story.Answer(false)).Agenda(), row => row.Kind == AgendaKind.QuoteExpiry);
    }

    [Fact]
    public void A_hold_with_a_day_to_look_again_is_looked_at_and_stays()
    {
        // A Saturday: looked at on Monday.
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Parts, Until = new LocalDate(2026, 3, 14) });

        Assert.Equal(At(3, 16, 9), Row(story, AgendaKind.HoldUntil).Due);
        Announce(story, AgendaKind.HoldUntil);
        Assert.Single(story.Job.Holds.Standing);
    }

    [Fact]
    public void A_claim_is_decided_within_two_days_of_receipt_and_a_job_closes_after_its_last_warranty_day()
    {
        var story = new Story().Through(Stage.HandedOver).At(2026, 5, 4, 10);
        Assert.Equal(story.Rules.Calendar.EndOfDay(story.Job.Warranty.Lines.Max(line => line.LastDay)), Row(story, AgendaKind.WarrantyOver).Due);

        story.DeskDoes(new ClaimReported { Claim = 1, ReportedOn = new LocalDate(2026, 5, 4), Text = "it loses" });
        Assert.Equal(story.Now + Duration.FromHours(48), Row(story, AgendaKind.ClaimUndecided).Due);
        Assert.DoesNotContain(story.Agenda(), row => row.Kind == AgendaKind.WarrantyOver);

        story.DeskDoes(new ClaimDecided { Claim = 1, Covered = false, Reason = "a fall" }).Does(new JobClosed(), by: null, role: "service", source: EventId.Service);
        Assert.Empty(story.Agenda());
        Assert.Equal(Stage.Closed, story.Job.Standings.Current);
    }

    [Fact]
    public void Every_row_of_a_job_has_a_name_of_its_own()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).Does(new HoldPlaced { Hold = HoldReason.Parts, Until = new LocalDate(2026, 3, 14) })
            .Does(new HoldPlaced { Hold = HoldReason.Parts, Until = new LocalDate(2026, 3, 14) });
        story.After(Duration.FromHours(3)).Says(new StageStarted { Stage = Stage.Takedown }, at: story.Now - Duration.FromHours(1));
        story.Says(new StageStarted { Stage = Stage.Takedown }, at: story.Now - Duration.FromHours(1));

        var names = story.Agenda().Select(row => (row.Kind, row.Ref)).ToArray();
        Assert.True(names.Length >= 6);
        Assert.Equal(names.Length, names.Distinct().Count());
    }

    private static Story Worn(int year, int month, int day, int hour, int minute = 0) =>
        new Story().Through(Stage.WaterTest).At(year, month, day, hour, minute).Does(Story.WearStart());

    private static AgendaRow Row(Story story, AgendaKind kind) => Assert.Single(story.Agenda(), row => row.Kind == kind);

    private static void Announce(Story story, AgendaKind kind)
    {
        var row = Row(story, kind);
        story.At(Instant.Max(story.Now, row.Wake!.Value))
            .Does(new DueAnnounced { Kind = kind, Ref = row.Ref, Level = row.Level, Due = row.Due!.Value }, by: null, role: "service", source: EventId.Service);
    }

    private static Instant At(int month, int day, int hour, int minute = 0) => TestShop.Local(2026, month, day, hour, minute);
}
