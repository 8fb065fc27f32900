using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Promises;

/// <summary>The promise as a consequence: given with the answer, moved when the last stop ends. Dates worked by hand; common practice.</summary>
public class PromiseBookTests
{
    private static readonly ShopRules ClosedOverChristmas = TestShop.With(closures: [new Closure(new LocalDate(2025, 12, 24), new LocalDate(2026, 1, 4))]);

    [Fact]
    public void An_accepted_quote_gives_a_promise_and_a_target_before_it()
    {
        var given = Approved().Job.Promise.Given!;

        Assert.Equal((Day(1, 22), Day(1, 16), new LocalDate(2025, 12, 15), 20), (given.On, given.Target, given.ApprovedOn, given.WorkingDays));
    }

    [Fact]
    public void A_refused_quote_gives_none()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.Null(story.Job.Promise.Given);
    }

    [Fact]
    public void A_stop_from_Monday_to_Thursday_moves_the_promise_by_three_open_days()
    {
        var story = Approved().At(2026, 1, 5, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer });
        Assert.Equal(Day(1, 22), story.Job.Promise.On);

        story.At(2026, 1, 8, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });

        var moved = Assert.IsType<PromiseMoved>(story.Entries[^1].Event);
        Assert.Equal((Day(1, 22), Day(1, 27), 3, PromiseReason.WaitedForYou), (moved.From, moved.To, moved.StoppedWorkingDays, moved.Reason));
        Assert.Equal(Day(1, 27), story.Job.Promise.On);
        Assert.Equal(2, story.Job.Promise.History.Length);
    }

    [Fact]
    public void An_answer_told_late_gives_the_date_anew_and_counts_a_stop_that_came_after_it()
    {
        var story = Approved().At(2026, 1, 5, 10).Does(new VariantChanged { Variant = "full-chronograph", Was = "full-automatic", Reason = "it is one" }, TestShop.Manager);
        story.DeskDoes(story.Quote(version: 2)).At(2026, 1, 7, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer }).At(2026, 1, 8, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });

        story.At(2026, 1, 9, 10).Does(Story.Answer(version: 2), TestShop.Desk, at: At(1, 6, 10), role: "desk");

        Assert.Equal((new LocalDate(2026, 1, 6), Day(2, 3), Day(2, 4)), (story.Job.Promise.Given!.ApprovedOn, story.Job.Promise.History[^2].On, story.Job.Promise.On));
    }

    [Fact]
    public void A_stop_over_a_week_end_counts_the_Monday()
    {
        var story = Approved();
        Stop(story, At(1, 9, 10), At(1, 12, 10));

        Assert.Equal(Day(1, 23), story.Job.Promise.On);
    }

    [Fact]
    public void A_stop_within_one_day_moves_nothing()
    {
        var story = Approved();
        Stop(story, At(1, 8, 10), At(1, 8, 17));

        Assert.Equal(Day(1, 22), story.Job.Promise.On);
        Assert.Single(story.Job.Promise.History);
    }

    [Fact]
    public void Stops_that_overlap_count_once_and_the_promise_moves_once_when_the_last_is_lifted()
    {
        var story = Approved().At(2026, 1, 5, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer }).At(2026, 1, 6, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Payment })
            .At(2026, 1, 7, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });
        Assert.Equal(Day(1, 22), story.Job.Promise.On);

        story.At(2026, 1, 8, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Payment });
        Assert.Equal(Day(1, 27), story.Job.Promise.On);
        Assert.Equal(2, story.Job.Promise.History.Length);
    }

    [Fact]
    public void A_hold_that_does_not_stop_the_promise_moves_nothing_unless_it_says_so()
    {
        var story = Approved();
        Stop(story, At(1, 5, 10), At(1, 8, 10), HoldReason.Parts);
        Assert.Equal(Day(1, 22), story.Job.Promise.On);

        story = Approved().At(2026, 1, 5, 10).Does(new HoldPlaced { Hold = HoldReason.Parts, StopsPromise = true }).At(2026, 1, 8, 10).Does(new HoldLifted { Hold = HoldReason.Parts });
        Assert.Equal((Day(1, 27), PromiseReason.Part), (story.Job.Promise.On!.Value, story.Job.Promise.History[^1].Reason!.Value));
    }

    [Fact]
    public void A_lift_told_late_moves_the_promise_by_the_days_it_really_stood()
    {
        var story = Approved().At(2026, 1, 5, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer });
        story.At(2026, 1, 9, 10).Does(new HoldLifted { Hold = HoldReason.Customer }, TestShop.Desk, at: At(1, 8, 10), role: "desk");

        Assert.Equal(Day(1, 27), story.Job.Promise.On);
    }

    [Fact]
    public void A_lift_that_was_earlier_than_told_moves_the_promise_back_and_what_was_said_stays()
    {
        var story = Approved();
        Stop(story, At(1, 5, 10), At(1, 8, 10));
        Assert.Equal(Day(1, 27), story.Job.Promise.On);

        story.At(2026, 1, 9, 10).Does(new HoldLifted { Hold = HoldReason.Customer }, TestShop.Desk, at: At(1, 6, 10), role: "desk");

        Assert.Equal(Day(1, 23), story.Job.Promise.On);
        Assert.Equal([Day(1, 22), Day(1, 27), Day(1, 23)], story.Job.Promise.History.Select(said => said.On));
    }

    [Fact]
    public void An_earlier_stop_told_later_adds_its_days_to_what_was_said_last()
    {
        var story = Approved();
        Stop(story, At(1, 12, 10), At(1, 13, 10));
        Assert.Equal(Day(1, 23), story.Job.Promise.On);

        story.At(2026, 1, 14, 10)
            .Does(new HoldPlaced { Hold = HoldReason.Customer }, TestShop.Desk, at: At(1, 5, 10), role: "desk")
            .Does(new HoldLifted { Hold = HoldReason.Customer }, TestShop.Desk, at: At(1, 6, 10), role: "desk");

        Assert.Equal(Day(1, 26), story.Job.Promise.On);
        Assert.Equal(2, story.Job.Promise.StoppedWorkingDays);

        // And on from there: what was said last is what the next move starts from.
        Stop(story, At(1, 15, 10), At(1, 16, 10));
        Assert.Equal(Day(1, 27), story.Job.Promise.On);
        Assert.Equal(Day(1, 26), Assert.IsType<PromiseMoved>(story.Entries[^1].Event).From);
    }

    [Fact]
    public void A_stop_before_the_approval_takes_no_days_away()
    {
        var story = new Story(rules: ClosedOverChristmas, begins: TestShop.Local(2025, 12, 1, 9)).Through(Stage.Diagnosis);
        story.DeskDoes(new HoldPlaced { Hold = HoldReason.Customer }).At(2025, 12, 15, 9).DeskDoes(story.Quote()).DeskDoes(Story.Answer());
        Assert.Equal(Day(1, 22), story.Job.Promise.On);

        story.At(2025, 12, 17, 9).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });
        Assert.Equal(Day(1, 26), story.Job.Promise.On);
    }

    [Fact]
    public void A_supplementary_version_stops_the_promise_until_it_is_answered()
    {
        var story = Approved().At(2026, 1, 5, 10);
        story.DeskDoes(story.Quote(2)).At(2026, 1, 8, 10).DeskDoes(Story.Answer(version: 2));

        Assert.Equal(Day(1, 27), story.Job.Promise.On);
        Assert.Equal(20, story.Job.Promise.Given!.WorkingDays);
    }

    [Fact]
    public void A_promise_is_given_once()
    {
        var story = Approved().At(2026, 1, 5, 10);
        story.DeskDoes(story.Quote(2)).At(2026, 1, 5, 12).DeskDoes(Story.Answer(version: 2));

        Assert.Single(story.Entries, entry => entry.Event is PromiseGiven);
    }

    [Fact]
    public void A_stop_after_a_persons_move_moves_the_date_they_said_never_back_to_the_old_one()
    {
        var story = Approved();
        Stop(story, At(1, 5, 10), At(1, 8, 10));
        Assert.Equal(Day(1, 27), story.Job.Promise.On);

        story.At(2026, 1, 13, 10).DeskDoes(Move(story, Day(2, 3)));
        Assert.Equal((Day(2, 3), Day(1, 28), PromiseMover.Person, TestShop.Desk), story.Job.Promise.History[^1] is var said ? (said.On, said.Target, said.By, said.Person) : default);
        Assert.Equal(3, story.Job.Promise.StoppedWorkingDays);

        Stop(story, At(1, 14, 10), At(1, 16, 10));
        Assert.Equal(Day(2, 5), story.Job.Promise.On);
        Assert.Equal(5, story.Job.Promise.StoppedWorkingDays);
        Assert.Equal([PromiseMover.Rule, PromiseMover.Rule, PromiseMover.Person, PromiseMover.Rule], story.Job.Promise.History.Select(one => one.By));
    }

    [Fact]
    public void Of_a_stop_that_stood_when_a_person_moved_the_date_the_days_after_it_count()
    {
        var story = Approved().At(2026, 1, 5, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer });
        story.At(2026, 1, 7, 10).DeskDoes(Move(story, Day(2, 3))).At(2026, 1, 8, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });

        Assert.Equal(Day(2, 4), story.Job.Promise.On);
    }

    [Fact]
    public void An_earlier_date_may_be_said_too()
    {
        var story = Approved().At(2026, 1, 13, 10);
        story.DeskDoes(Move(story, Day(1, 16)));

        Assert.Equal((Day(1, 16), Day(1, 13)), (story.Job.Promise.On!.Value, story.Job.Promise.Target!.Value));
    }

    [Fact]
    public void The_third_move_by_the_shop_asks_and_one_for_the_customer_is_not_counted()
    {
        var story = Approved().At(2026, 1, 6, 10);
        story.DeskDoes(Move(story, Day(1, 26))).DeskDoes(Move(story, Day(1, 27), PromiseReason.WaitedForYou)).DeskDoes(Move(story, Day(1, 28)));
        var third = Move(story, Day(1, 29));

        Assert.Equal(("promise-moved-often", "promise-moved-often"), story.RefusedBy(third, TestShop.Desk, "desk") is var one ? (one.Gate, one.Code) : default);
        story.Does(third, TestShop.Desk, role: "desk", despite: ["promise-moved-often"]);
        Assert.Equal(Day(1, 29), story.Job.Promise.On);
    }

    [Fact]
    public void Before_the_first_promise_there_is_nothing_to_move()
    {
        var story = new Story().Through(Stage.Diagnosis);
        var move = PromiseArithmetic.MovedByPerson(story.Job.Promise, Day(3, 3), Day(3, 4), PromiseReason.Other, null, story.Now, 4, story.Rules.Calendar);

        Assert.Equal("no-promise-yet", story.RefusedBy(move, TestShop.Desk, "desk").Code);
    }

    private static PromiseMoved Move(Story story, LocalDate to, PromiseReason reason = PromiseReason.Part) =>
        PromiseArithmetic.MovedByPerson(story.Job.Promise, story.Job.Promise.On!.Value, to, reason, null, story.Now, 4, story.Rules.Calendar);

    private static Story Approved()
    {
        var story = new Story(rules: ClosedOverChristmas, begins: TestShop.Local(2025, 12, 12, 9)).Through(Stage.Diagnosis).At(2025, 12, 15, 11);
        return story.DeskDoes(story.Quote()).DeskDoes(Story.Answer());
    }

    private static void Stop(Story story, Instant from, Instant until, HoldReason reason = HoldReason.Customer) =>
        story.At(from).DeskDoes(new HoldPlaced { Hold = reason }).At(until).DeskDoes(new HoldLifted { Hold = reason });

    private static LocalDate Day(int month, int day) => new(2026, month, day);

    private static Instant At(int month, int day, int hour) => TestShop.Local(2026, month, day, hour);
}
