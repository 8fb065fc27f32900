using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Corrections;
using Workshop.Core.Holds;
using Workshop.Core.Letters;
using Workshop.Core.Orders;
using Workshop.Core.Parties;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.WearReports;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Letters;

public class LetterPlanTests
{
    [Fact]
    public void Every_moment_has_its_row_in_the_order_of_the_list() =>
        Assert.Equal(Enum.GetValues<LetterMoment>(), LetterMoments.All.Select(row => row.Moment));

    [Fact]
    public void A_watch_that_came_is_received_safely_until_it_is_handed_over()
    {
        var story = new Story();
        Assert.Equal((story.Job.Intake.TakenInAt!.Value, null), Only(story, LetterMoment.ReceivedSafely));

        Left(story);
        Assert.Equal(LetterDrop.Passed, Only(story, LetterMoment.ReceivedSafely).Drop);
    }

    [Fact]
    public void A_quote_is_asked_for_again_after_3_7_and_14_days_at_nine_and_no_more_once_answered()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        var sent = story.Now;

        Assert.Equal(sent, Only(story, LetterMoment.QuoteReady).Due);
        Assert.Equal(
            [("1-3", TestShop.Local(2026, 3, 5, 9)), ("1-7", TestShop.Local(2026, 3, 9, 9)), ("1-14", TestShop.Local(2026, 3, 16, 9))],
            All(story, LetterMoment.QuoteReminder).Select(one => (one.Occasion, one.Due)));
        Assert.Equal(TestShop.Local(2026, 4, 2, 9), Only(story, LetterMoment.QuoteExpired).Due);

        // One that could not go is not made up for beside the next.
        story.At(2026, 3, 9, 9);
        Assert.Equal([LetterDrop.Newer, null, null], All(story, LetterMoment.QuoteReminder).Select(one => one.Drop));

        story.DeskDoes(Story.Answer());
        Assert.All(All(story, LetterMoment.QuoteReminder).Append(One(story, LetterMoment.QuoteReady)).Append(One(story, LetterMoment.QuoteExpired)), one => Assert.Equal(LetterDrop.Passed, one.Drop));
        Assert.Null(Only(story, LetterMoment.ApprovalConfirmed).Drop);
    }

    [Fact]
    public void An_older_version_says_nothing_any_more_and_a_later_one_is_supplementary()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(story.Quote(2));
        Assert.Equal([LetterDrop.Newer, null], All(story, LetterMoment.QuoteReady).Select(one => one.Drop));

        story.DeskDoes(Story.Answer(version: 2)).DeskDoes(story.Quote(3));
        Assert.Equal(("3", null), (One(story, LetterMoment.SupplementaryQuote).Occasion, One(story, LetterMoment.SupplementaryQuote).Drop));
    }

    [Fact]
    public void A_quote_says_that_it_ran_out_on_the_morning_after_its_last_day()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        story.At(2026, 4, 1, 23, 59);
        Assert.Null(Only(story, LetterMoment.QuoteReady).Drop);

        story.At(2026, 4, 2, 9);
        Assert.Equal(LetterDrop.Passed, Only(story, LetterMoment.QuoteReady).Drop);
        Assert.Equal((story.Now, null), Only(story, LetterMoment.QuoteExpired));
    }

    [Fact]
    public void A_date_that_moves_by_three_working_days_is_no_news_and_small_moves_add_up()
    {
        var story = new Story().Through(Stage.Quote).After(Duration.FromDays(1));
        var promised = story.Job.Promise.On!.Value;
        Move(story, promised, 3);
        Assert.Empty(All(story, LetterMoment.DateChanged));

        Move(story, story.Job.Promise.On!.Value, 1);
        var changed = One(story, LetterMoment.DateChanged);
        Assert.Equal(("2", story.Now, (LetterDrop?)null), (changed.Occasion, changed.Due, changed.Drop));

        // A newer one takes its place, and a watch that is ready needs none.
        Move(story, story.Job.Promise.On!.Value, 5);
        Assert.Equal([LetterDrop.Newer, null], All(story, LetterMoment.DateChanged).Select(one => one.Drop));
        story.Through(Stage.Ready);
        Assert.All(All(story, LetterMoment.DateChanged), one => Assert.Equal(LetterDrop.Passed, one.Drop));
    }

    [Fact]
    public void An_approval_that_was_not_confirmed_yet_says_the_day_as_it_is_now()
    {
        var story = new Story().Through(Stage.Quote);
        Move(story, story.Job.Promise.On!.Value, 5);
        Assert.Equal(LetterDrop.SaidOtherwise, One(story, LetterMoment.DateChanged).Drop);
    }

    [Fact]
    public void A_part_that_slips_by_more_than_three_working_days_is_told_until_it_has_come()
    {
        var story = new Story().Through(Stage.Quote);
        Expect(story, "2026-03-10", null);
        Expect(story, "2026-03-13", "2026-03-10");
        Assert.Empty(All(story, LetterMoment.PartDelayed));

        Expect(story, "2026-03-19", "2026-03-13");
        Assert.Null(Only(story, LetterMoment.PartDelayed).Drop);
        story.Does(new PartReceived { Part = "stem-41", Order = "po-1" });
        Assert.Equal(LetterDrop.Passed, Only(story, LetterMoment.PartDelayed).Drop);

        static void Expect(Story story, string on, string? was) => story.After(Duration.FromMinutes(1)).DeskDoes(new PartExpected
        {
            Part = "stem-41",
            Count = 1,
            Order = "po-1",
            ExpectedOn = Day(on),
            Was = was is null ? null : Day(was),
        });
    }

    [Fact]
    public void Ready_is_said_once_reminded_of_three_times_and_then_the_managers()
    {
        var story = new Story().Through(Stage.Ready);
        var ready = story.Job.Standings.Of(Stage.FinalControl).Since!.Value;
        var day = TestShop.Rules.Calendar.DateOf(ready);

        Assert.Equal(("1", ready), (One(story, LetterMoment.ReadyToCollect).Occasion, One(story, LetterMoment.ReadyToCollect).Due));
        Assert.Equal([7, 21, 60], All(story, LetterMoment.ReadyReminder).Select(one => Period.DaysBetween(day, TestShop.Rules.Calendar.DateOf(one.Due))));
        var row = Assert.Single(story.Agenda(), one => one.Kind == AgendaKind.Unclaimed);
        Assert.Equal((day.PlusDays(180), AgendaLevel.Manager), (TestShop.Rules.Calendar.DateOf(row.Due!.Value), row.Level));

        // It is told with what is left to pay, before anybody has paid.
        Assert.True(ready < story.Job.Standings.Of(Stage.Settlement).Since);

        // A fault found at the shelf: nothing is ready, and when it is again that is news.
        story.SendBack(Stage.Ready, Stage.Rebuild);
        Assert.Empty(All(story, LetterMoment.ReadyToCollect).Concat(All(story, LetterMoment.ReadyReminder)));
        story.After(Duration.FromMinutes(1)).Through(Stage.Ready);
        Assert.Equal("2", One(story, LetterMoment.ReadyToCollect).Occasion);
    }

    [Fact]
    public void Somebody_who_collects_at_five_to_nine_is_not_reminded_at_nine()
    {
        var story = new Story().Through(Stage.Ready);
        var reminder = All(story, LetterMoment.ReadyReminder).First();
        var five = story.At(reminder.Due - Duration.FromMinutes(5));
        Assert.Equal(LetterWait.NotYet, Judged(story, reminder).Wait);
        five.DeskDoes(story.HandedOver());

        story.At(reminder.Due);
        var after = All(story, LetterMoment.ReadyReminder).Where(one => one.Due <= story.Now);
        Assert.All(after, one => Assert.Equal(LetterDrop.Passed, Judged(story, one).Drop));
    }

    [Theory]
    [InlineData(19, 59, null)]
    [InlineData(20, 0, LetterWait.QuietHours)]
    [InlineData(7, 59, LetterWait.QuietHours)]
    [InlineData(8, 0, null)]
    public void At_19_59_a_letter_goes_and_at_20_00_it_waits_for_08_00(int hour, int minute, LetterWait? waits)
    {
        var story = new Story().At(2026, 3, 3, hour, minute);
        var judged = Judged(story, One(story, LetterMoment.ReceivedSafely));

        Assert.Equal((null, waits), (judged.Drop, judged.Wait));
        if (waits is not null)
        {
            Assert.Equal(TestShop.Local(2026, 3, hour < 8 ? 3 : 4, 8), judged.Until);
        }
    }

    [Fact]
    public void Somebody_has_one_letter_a_day_and_the_next_waits_for_the_morning()
    {
        var story = new Story();
        var one = One(story, LetterMoment.ReceivedSafely);

        var judged = LetterJudge.Of(one, story.Job, Reader() with { WrittenToOn = new LocalDate(2026, 3, 2) }, story.Rules, story.Now);
        Assert.Equal((LetterWait.OneADay, TestShop.Local(2026, 3, 3, 8)), (judged.Wait, judged.Until));
        Assert.True(LetterJudge.Of(one, story.Job, Reader() with { WrittenToOn = new LocalDate(2026, 3, 1) }, story.Rules, story.Now).Goes);
    }

    [Fact]
    public void Nobody_is_written_to_who_did_not_allow_it_has_died_or_cannot_be_reached()
    {
        var story = new Story();
        var one = One(story, LetterMoment.ReceivedSafely);
        LetterDrop? Dropped(LetterReader reader) => LetterJudge.Of(one, story.Job, reader, story.Rules, story.Now).Drop;

        Assert.Null(Dropped(Reader()));
        Assert.Equal(LetterDrop.NoPermission, Dropped(Reader() with { Allows = [LetterPermission.Care] }));
        Assert.Equal(LetterDrop.Deceased, Dropped(Reader() with { Deceased = true, HasEmail = false }));
        Assert.Equal(LetterDrop.NoContact, Dropped(Reader() with { NoContact = true }));
        Assert.Equal(LetterDrop.NoAddress, Dropped(Reader() with { HasEmail = false }));
        Assert.Equal(LetterDrop.CameBack, Dropped(Reader() with { CameBack = true }));
    }

    [Fact]
    public void A_legal_hold_keeps_every_letter_back()
    {
        var story = new Story();
        story.Does(new HoldPlaced { Hold = HoldReason.Legal, Reason = "asked by the police" }, TestShop.Manager);
        Assert.Equal(LetterWait.Held, Judged(story, One(story, LetterMoment.ReceivedSafely)).Wait);
    }

    [Fact]
    public void What_nobody_could_send_for_a_week_is_no_news_unless_it_was_on_its_way()
    {
        var story = new Story();
        var one = One(story, LetterMoment.ReceivedSafely);

        Assert.True(Judged(story.At(2026, 3, 9, 19), one).Goes);
        Assert.Equal(LetterDrop.TooLate, Judged(story.At(2026, 3, 10, 9), one).Drop);
        Assert.True(LetterJudge.Of(one, story.Job, Reader(), story.Rules, story.Now, begun: true).Goes);
    }

    [Fact]
    public void A_gift_is_told_to_its_giver_at_once_and_to_the_others_from_its_day_on()
    {
        var story = new Story();
        story.DeskDoes(new PartiesChanged { Payer = "ida", Recipient = "tom", Told = ["ida", "tom"], NotBefore = new LocalDate(2026, 3, 6) });
        var one = One(story, LetterMoment.ReceivedSafely);

        Assert.Equal(["ida", "tom"], LetterPlan.Readers(story.Job, one.Moment));
        Assert.True(LetterJudge.Of(one, story.Job, Reader("ida"), story.Rules, story.Now).Goes);
        var waits = LetterJudge.Of(one, story.Job, Reader("tom"), story.Rules, story.Now);
        Assert.Equal((LetterWait.Gift, TestShop.Local(2026, 3, 6, 9)), (waits.Wait, waits.Until));
        Assert.True(LetterJudge.Of(one, story.Job, Reader("tom"), story.Rules, TestShop.Local(2026, 3, 6, 9)).Goes);
    }

    [Fact]
    public void The_decider_is_asked_and_the_others_are_told()
    {
        var story = new Story();
        story.DeskDoes(new PartiesChanged { Decides = "una", Payer = "ida", Owner = "tom" });

        Assert.Equal(["una"], LetterPlan.Readers(story.Job, LetterMoment.QuoteReady));
        Assert.Equal([story.Job.Intake.Customer], LetterPlan.Readers(story.Job, LetterMoment.ReadyToCollect));
        Assert.Equal(["ida"], LetterPlan.Readers(story.Job, LetterMoment.PaymentAsked));
        Assert.Equal(["tom"], LetterPlan.Readers(story.Job, LetterMoment.ServiceDue));
    }

    [Fact]
    public void After_hand_over_it_is_asked_on_day_7_and_day_30_and_no_answer_is_no_answer()
    {
        var story = Left(new Story());
        var left = story.Job.Warranty.HandedOverOn!.Value;
        Assert.Equal((left.PlusDays(7), left.PlusDays(30)), (DayOf(One(story, LetterMoment.WearAskedWeek)), DayOf(One(story, LetterMoment.WearAskedMonth))));

        story.DeskDoes(Reported(1, 2, WearDirection.Gains));
        Assert.Equal(LetterDrop.SaidOtherwise, One(story, LetterMoment.WearAskedWeek).Drop);
        Assert.Null(One(story, LetterMoment.WearAskedMonth).Drop);
        Assert.Equal(("1", null), (One(story, LetterMoment.WearInvitation).Occasion, One(story, LetterMoment.WearInvitation).Drop));

        story.DeskDoes(new ClaimReported { Claim = 1, ReportedOn = TestShop.Rules.Calendar.DateOf(story.Now), Text = "runs fast" });
        Assert.Equal(LetterDrop.Passed, One(story, LetterMoment.WearAskedMonth).Drop);
        Assert.Equal(LetterDrop.Passed, One(story, LetterMoment.WearInvitation).Drop);
        Assert.Null(One(story, LetterMoment.ClaimReceived).Drop);
    }

    [Fact]
    public void A_direction_that_was_not_said_is_asked_back_until_a_newer_report_says_it()
    {
        var story = Left(new Story());
        story.DeskDoes(Reported(1, 2, null));
        Assert.Null(One(story, LetterMoment.WearAskedBack).Drop);
        Assert.Empty(All(story, LetterMoment.WearInvitation));

        story.DeskDoes(Reported(2, 2, WearDirection.Gains));
        Assert.Equal(LetterDrop.Newer, One(story, LetterMoment.WearAskedBack).Drop);
    }

    [Fact]
    public void Care_asks_for_its_own_permission_and_ends_with_a_newer_job_or_another_owner()
    {
        var story = Left(new Story());
        var ends = All(story, LetterMoment.WarrantyEndsSoon);
        Assert.Equal(story.Job.Warranty.Lines.Select(line => line.LastDay.PlusDays(-30)).Distinct().Order(), ends.Select(DayOf).Order());
        Assert.Equal(story.Job.Warranty.HandedOverOn!.Value.PlusYears(1), DayOf(One(story, LetterMoment.WaterTestDue)));
        Assert.Equal(story.Job.Warranty.HandedOverOn!.Value.PlusYears(5), DayOf(One(story, LetterMoment.ServiceDue)));
        Assert.Empty(All(story, LetterMoment.CellDue));
        Assert.Equal(story.Job.Warranty.HandedOverOn!.Value.PlusYears(4), DayOf(Assert.Single(Plan(story, new LetterSurroundings { Chronograph = true }), one => one.Moment == LetterMoment.ServiceDue)));

        story.At(ends[0].Due);
        Assert.Equal(LetterDrop.NoPermission, Judged(story, ends[0]).Drop);
        Assert.True(LetterJudge.Of(ends[0], story.Job, Reader() with { Allows = [LetterPermission.Care] }, story.Rules, story.Now).Goes);
        foreach (var around in new[] { new LetterSurroundings { NewerJob = true }, new LetterSurroundings { Gone = true }, new LetterSurroundings { BackInHouse = true } })
        {
            Assert.All(Plan(story, around).Where(one => LetterMoments.Of(one.Moment).Permission == LetterPermission.Care), one => Assert.Equal(LetterDrop.Passed, one.Drop));
        }
    }

    [Fact]
    public void A_watch_that_goes_back_unrepaired_has_no_warranty_letter_and_no_questions()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false)).Through(Stage.ReturnUnrepaired);
        story.DeskDoes(story.HandedOver());

        Assert.Single(All(story, LetterMoment.ReturnedUnrepaired));
        Assert.Empty(Plan(story).Where(one => one.Moment is LetterMoment.HandedOver or LetterMoment.WearAskedWeek or LetterMoment.ServiceDue or LetterMoment.WarrantyEndsSoon));
    }

    [Fact]
    public void A_damage_is_told_when_a_manager_says_so_and_never_by_itself()
    {
        var story = new Story();
        story.Does(new Workshop.Core.Notes.DamageSeen { Condition = "crystal chipped" });
        Assert.Empty(All(story, LetterMoment.DamageTold));

        story.Does(new LetterReleased { Number = 1, Moment = LetterMoment.DamageTold, Words = "The crystal chipped." }, TestShop.Manager);
        Assert.Equal(("1", story.Now), (One(story, LetterMoment.DamageTold).Occasion, One(story, LetterMoment.DamageTold).Due));
    }

    [Fact]
    public void A_watch_that_has_not_come_is_asked_for_after_its_days_and_one_that_has_come_never()
    {
        var ordered = TestShop.Local(2026, 3, 2, 22);
        var moments = new ArrivalMoments(ordered, ordered + Duration.FromDays(3), TestShop.Local(2026, 3, 20, 0), Over: false);

        Assert.Equal(
            [(LetterMoment.OrderReceived, ordered), (LetterMoment.KitSent, ordered + Duration.FromDays(3)), (LetterMoment.ArrivalAsked, TestShop.Local(2026, 3, 20, 0))],
            LetterPlan.Of(moments).Select(one => (one.Moment, one.Due)));
        Assert.All(LetterPlan.Of(moments with { Over = true }), one => Assert.Equal(LetterDrop.Passed, one.Drop));
        Assert.DoesNotContain(LetterPlan.Of(moments with { KitSentAt = null }), one => one.Moment == LetterMoment.KitSent);
    }

    [Theory]
    [InlineData(null, true, false, LetterSpeaker.Workshop)]
    [InlineData(null, true, true, LetterSpeaker.Storefront)]
    [InlineData(null, false, false, LetterSpeaker.Storefront)]
    [InlineData(LetterSpeaker.Nobody, true, false, LetterSpeaker.Nobody)]
    [InlineData(LetterSpeaker.Workshop, true, true, LetterSpeaker.Workshop)]
    public void One_of_them_speaks_of_a_moment_and_never_both(LetterSpeaker? said, bool canSend, bool ordered, LetterSpeaker speaks)
    {
        var rules = said is { } who ? new LetterRules { SpokenBy = ImmutableSortedDictionary<string, LetterSpeaker>.Empty.Add(Word.Of(LetterMoment.ReadyToCollect), who) } : LetterRules.Usual;
        Assert.Equal(speaks, rules.SpeakerOf(LetterMoment.ReadyToCollect, canSend, ordered));
    }

    [Fact]
    public void What_was_said_is_in_the_job_and_its_id_is_made_of_job_moment_and_occasion()
    {
        var story = new Story();
        var one = One(story, LetterMoment.ReceivedSafely);
        story.DeskDoes(new CustomerTold { Moment = one.Moment, Occasion = one.Occasion, Customer = "customer-1", Channel = LetterChannel.Email, Letter = "x" });

        Assert.True(story.Job.Letters.Has(LetterMoment.ReceivedSafely, "1", "customer-1"));
        Assert.False(story.Job.Letters.Has(LetterMoment.ReceivedSafely, "1", "tom"));
        Assert.Equal($"{story.Label}/received-safely/1", one.IdFor(story.Label, "customer-1", "customer-1"));
        Assert.Equal($"{story.Label}/received-safely/1/tom", one.IdFor(story.Label, "tom", "customer-1"));
    }

    private static Story Left(Story story)
    {
        story.Through(Stage.Ready);
        return story.DeskDoes(story.HandedOver());
    }

    private static void Move(Story story, LocalDate from, int openDays)
    {
        var to = story.Rules.Calendar.OpenDayAfter(from, openDays);
        story.After(Duration.FromMinutes(1)).Does(
            PromiseArithmetic.MovedByPerson(story.Job.Promise, from, to, PromiseReason.Absence, null, story.Now, 0, story.Rules.Calendar),
            TestShop.Desk, source: "/desk/1", despite: ["promise-moved-often"]);
    }

    private static WearReported Reported(int number, decimal minutes, WearDirection? direction) =>
        new() { Report = number, ReportedOn = new LocalDate(2026, 4, 1), Amount = minutes, Unit = WearUnit.Minutes, Direction = direction, OverDays = 7 };

    private static LetterReader Reader(string customer = "customer-1") => new() { Customer = customer, HasEmail = true, Allows = [LetterPermission.Job] };

    private static LetterJudgement Judged(Story story, LetterOccasion one) => LetterJudge.Of(one, story.Job, Reader(), story.Rules, story.Now);

    private static ImmutableArray<LetterOccasion> Plan(Story story, LetterSurroundings? around = null) =>
        LetterPlan.Of(story.Job, Reckoning.InOrder(story.Entries), around ?? LetterSurroundings.None, story.Rules, story.Now);

    private static LetterOccasion[] All(Story story, LetterMoment moment) => [.. Plan(story).Where(one => one.Moment == moment)];

    private static LetterOccasion One(Story story, LetterMoment moment) => Assert.Single(All(story, moment));

    private static (Instant Due, LetterDrop? Drop) Only(Story story, LetterMoment moment) => (One(story, moment).Due, One(story, moment).Drop);

    private static LocalDate DayOf(LetterOccasion one) => TestShop.Rules.Calendar.DateOf(one.Due);

    private static LocalDate Day(string text) => NodaTime.Text.LocalDatePattern.Iso.Parse(text).Value;
}
