using System.Collections.Frozen;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Money;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Tests.Core.Route;

namespace Workshop.Tests.Core.Promises;

/// <summary>
/// Promised days are counted from the latest of approval, deposit and last missing information. Dates worked by hand; common practice.
/// The shop is open Monday to Friday, 9 to 18; one working day is promised.
/// </summary>
public class PromiseStartTests
{
    // Thursday, 4 June 2026.
    private static readonly Instant Approved = TestShop.Local(2026, 6, 4, 10);

    [Theory]
    [InlineData("2026-06-05 10:00", "2026-06-05", "2026-06-08")]
    [InlineData("2026-06-05 19:00", "2026-06-06", "2026-06-08")]
    [InlineData("2026-06-06 11:00", "2026-06-06", "2026-06-08")]
    [InlineData("2026-06-08 10:00", "2026-06-08", "2026-06-09")]
    [InlineData("2026-06-10 10:00", "2026-06-10", "2026-06-15")]
    public void The_deposit_that_comes_last_begins_the_count(string paid, string dayZero, string promised)
    {
        var story = Agreed(Here(new Closure(new LocalDate(2026, 6, 11), new LocalDate(2026, 6, 12))), deposit: 20_000);
        Assert.Null(story.Job.Promise.Given);
        Assert.Equal("counted from the day the deposit comes", PromiseStart.Words(story.Job, story.Rules)!.In(Language.English));

        story.At(Local(paid)).Does(Paid(20_000), TestShop.Desk, source: "/desk/1");

        Assert.Equal((Date(dayZero), Date(promised)), (story.Job.Promise.Given!.ApprovedOn, story.Job.Promise.On));
        Assert.Null(PromiseStart.Words(story.Job, story.Rules));
    }

    [Fact]
    public void A_deposit_told_days_later_counts_from_the_day_it_came()
    {
        var story = Agreed(Here(), deposit: 20_000).At(2026, 6, 9, 10);

        story.Does(Paid(20_000), TestShop.Desk, at: TestShop.Local(2026, 6, 5, 10), source: "/desk/1");

        Assert.Equal(Date("2026-06-05"), story.Job.Promise.Given!.ApprovedOn);
    }

    [Fact]
    public void A_deposit_in_two_parts_has_come_with_the_second_and_one_paid_before_moves_nothing()
    {
        var story = Agreed(Here(), deposit: 20_000).DeskDoes(Paid(15_000));
        Assert.Null(story.Job.Promise.Given);
        story.At(2026, 6, 8, 10).DeskDoes(Paid(5_000, 2));
        Assert.Equal(Date("2026-06-08"), story.Job.Promise.Given!.ApprovedOn);

        var before = Begun(Here()).DeskDoes(Paid(20_000));
        before.At(Approved).DeskDoes(before.Quote(workingDays: 1) with { DepositMinor = 20_000 }).DeskDoes(Story.Answer());
        Assert.Equal(Date("2026-06-04"), before.Job.Promise.Given!.ApprovedOn);
    }

    [Fact]
    public void A_job_on_account_waits_for_no_deposit_and_money_kept_elsewhere_neither()
    {
        var story = Agreed(Here(), deposit: 20_000).At(2026, 6, 8, 10).DeskDoes(new AccountChanged { OnAccount = true, Reason = "pays at the end of the month" });
        Assert.Equal(Date("2026-06-08"), story.Job.Promise.Given!.ApprovedOn);

        Assert.Equal(Date("2026-06-04"), Agreed(TestShop.With(), deposit: 20_000).Job.Promise.Given!.ApprovedOn);
    }

    [Fact]
    public void What_stops_the_work_from_beginning_is_waited_for_and_what_a_tap_passes_is_not()
    {
        var story = Agreed(TestShop.With(), deposit: null, missing: [new(IntakeMember.DeclaredValue, Stage.Takedown), new(IntakeMember.OldPartsBack, Stage.Takedown)]);
        Assert.Null(story.Job.Promise.Given);
        Assert.Equal("counted from the day we know: declared value", PromiseStart.Words(story.Job, story.Rules)!.In(Language.English));

        story.At(2026, 6, 5, 19).Does(new IntakeCompleted { Known = [IntakeMember.DeclaredValue] }, TestShop.Desk, source: "/desk/1");
        Assert.Equal((Date("2026-06-06"), Date("2026-06-08")), (story.Job.Promise.Given!.ApprovedOn, story.Job.Promise.On));

        story.At(2026, 6, 9, 10).DeskDoes(new IntakeCompleted { Known = [IntakeMember.OldPartsBack] });
        Assert.Single(story.Job.Promise.History);
    }

    [Fact]
    public void What_the_shop_makes_optional_is_never_waited_for()
    {
        var lenient = TestShop.With() with { GateStrengths = new Dictionary<string, Strength> { ["intake/declaredValue"] = Strength.Note }.ToFrozenDictionary() };

        Assert.Equal(Date("2026-06-04"), Agreed(lenient, deposit: null, missing: [new(IntakeMember.DeclaredValue, Stage.Takedown)]).Job.Promise.Given!.ApprovedOn);
    }

    [Fact]
    public void Both_are_waited_for_and_the_later_one_counts()
    {
        var story = Agreed(Here(), deposit: 20_000, missing: [new(IntakeMember.DeclaredValue, Stage.Takedown)]);
        Assert.Equal("counted from the day the deposit comes and we know: declared value", PromiseStart.Words(story.Job, story.Rules)!.In(Language.English));

        story.At(2026, 6, 8, 10).DeskDoes(Paid(20_000));
        Assert.Equal("counted from the day we know: declared value", PromiseStart.Words(story.Job, story.Rules)!.In(Language.English));
        story.At(2026, 6, 9, 10).DeskDoes(new IntakeCompleted { Known = [IntakeMember.DeclaredValue] });

        Assert.Equal(Date("2026-06-09"), story.Job.Promise.Given!.ApprovedOn);
    }

    [Fact]
    public void A_new_approval_for_another_kind_of_work_moves_the_date_once_when_its_deposit_comes()
    {
        var story = Agreed(Here(), deposit: null).At(2026, 6, 5, 10).BecomesBy(TestShop.FullChronograph);
        var promised = story.Job.Promise.On;
        story.DeskDoes(story.Quote(version: 2, workingDays: 5) with { DepositMinor = 20_000 }).DeskDoes(Story.Answer(version: 2));
        Assert.Equal(promised, story.Job.Promise.On);

        story.At(2026, 6, 15, 10).DeskDoes(Paid(20_000));

        Assert.Equal((Date("2026-06-22"), 2), (story.Job.Promise.On, story.Job.Promise.History.Length));
        Assert.Equal((Date("2026-06-15"), PromiseReason.SupplementaryWork), (story.Job.Promise.Given!.ApprovedOn, story.Job.Promise.History[^1].Reason));
    }

    private static Story Agreed(ShopRules rules, long? deposit, MissingMember[]? missing = null)
    {
        var story = Begun(rules, missing).At(Approved);
        return story.DeskDoes(story.Quote(workingDays: 1) with { DepositMinor = deposit }).DeskDoes(Story.Answer());
    }

    private static Story Begun(ShopRules rules, MissingMember[]? missing = null) => new Story(
        rules: rules, begins: TestShop.Local(2026, 6, 3, 10),
        taken: new JobTakenIn { Variant = TestShop.FullAutomatic.Id, Customer = "customer-1", Watch = "watch-1", CaseSerial = Story.CaseSerial, MovementNumber = null, Missing = [.. missing ?? []] })
        .Through(Stage.Diagnosis);

    private static ShopRules Here(params Closure[] closures) => TestShop.With([TestShop.FullAutomatic, TestShop.FullChronograph], closures: closures) with { Money = new MoneyRules { Kept = MoneyKept.Here } };

    private static LocalDate Date(string text) => NodaTime.Text.LocalDatePattern.Iso.Parse(text).Value;

    private static Instant Local(string text) => TestShop.Local(2026, int.Parse(text[5..7]), int.Parse(text[8..10]), int.Parse(text[11..13]));

    private static PaymentRecorded Paid(long amountMinor, int number = 1) =>
        new() { Payment = number, Kind = PaymentKind.Deposit, AmountMinor = amountMinor, Currency = "CHF", How = PaymentHow.Card };
}
