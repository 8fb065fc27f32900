using Workshop.Core.Gates;
using Workshop.Core.Money;
using Workshop.Core.Route;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Gates;

/// <summary>A deposit before the work, and what is owed at the door; common practice.</summary>
public class MoneyGateTests
{
    private static readonly ShopRules Here = TestShop.Rules with { Money = new MoneyRules { Kept = MoneyKept.Here } };

    [Theory]
    [InlineData(Stage.Takedown)]
    [InlineData(Stage.CaseStrip)]
    public void Work_does_not_begin_before_the_deposit_is_here(Stage stage)
    {
        var story = Agreed(Here, deposit: 20_000).DeskDoes(Paid(19_999));

        var stands = story.RefusedBy(new StageStarted { Stage = stage });
        Assert.Equal(("deposit", Strength.Stop, true), (stands.Gate, stands.Strength, stands.Waivable));

        story.DeskDoes(Paid(1, 2)).Start(stage);
        Assert.Equal(StageState.Running, story[stage]);
    }

    [Fact]
    public void Kept_elsewhere_whoever_begins_says_that_it_has_come()
    {
        var story = Agreed(TestShop.Rules, deposit: 20_000);
        Assert.Equal(Strength.Ask, story.RefusedBy(new StageStarted { Stage = Stage.Takedown }).Strength);

        story.Does(new StageStarted { Stage = Stage.Takedown }, despite: ["deposit"]);
        Assert.Equal(StageState.Running, story[Stage.Takedown]);
    }

    [Fact]
    public void A_customer_with_an_account_and_a_quote_without_a_deposit_are_not_asked()
    {
        Agreed(Here, deposit: 20_000).DeskDoes(new AccountChanged { OnAccount = true, Reason = "pays at the end of the month" }).Start(Stage.Takedown);
        Agreed(Here, deposit: null).Start(Stage.Takedown);
    }

    [Fact]
    public void What_was_begun_is_not_asked_again_when_money_goes_back()
    {
        var story = Agreed(Here, deposit: 20_000).DeskDoes(Paid(20_000)).Finish(Stage.Takedown).SendBack(Stage.Inspection, Stage.Takedown);
        story.DeskDoes(Paid(20_000, 2) with { Kind = PaymentKind.Refund }).Start(Stage.Takedown);

        Assert.Equal(StageState.Running, story[Stage.Takedown]);
    }

    [Theory]
    [InlineData("desk", true)]
    [InlineData("manager", true)]
    [InlineData("bench", false)]
    [InlineData("wall", false)]
    public void Benches_and_walls_hear_of_a_deposit_without_its_amount(string role, bool sees)
    {
        var stands = Agreed(Here, deposit: 20_000).RefusedBy(new StageStarted { Stage = Stage.Takedown }, role: role);

        Assert.Equal(sees, stands.Names.TryGetValue("depositMinor", out var amount) && amount == "20000");
        Assert.Equal(sees, stands.Names.ContainsKey("currency"));
    }

    [Theory]
    [InlineData(0, "refundMinor", "20000", "Still to be paid back: 200.00 CHF")]
    [InlineData(25_000, "dueMinor", "5000", "Still to be paid: 50.00 CHF")]
    public void A_watch_that_goes_back_unrepaired_is_asked_about_at_the_door_while_something_is_owed(long fee, string name, string amount, string line)
    {
        var story = new Story(rules: Here).Through(Stage.Diagnosis).DeskDoes(Paid(20_000));
        story.DeskDoes(story.Quote() with { FeeOnRefusalMinor = fee }).DeskDoes(Story.Answer(accepted: false)).Finish(Stage.ReturnUnrepaired);

        var told = story.RefusedBy(story.HandedOver(), role: "desk");
        var bench = story.RefusedBy(story.HandedOver(), role: "bench");

        Assert.Equal(("account-settled", Strength.Ask, amount, line), (told.Gate, told.Strength, told.Names[name], told.Line.ToString()));
        Assert.DoesNotContain(bench.Names.Keys, key => key.EndsWith("Minor", StringComparison.Ordinal));
        Assert.DoesNotContain("0.00", bench.Line.ToString());

        story.DeskDoes(Paid(fee == 0 ? 20_000 : 5_000, 2) with { Kind = fee == 0 ? PaymentKind.Refund : PaymentKind.Balance }).DeskDoes(story.HandedOver());
        Assert.True(story.Job.Standings.HandedOver);
    }

    private static Story Agreed(ShopRules rules, long? deposit)
    {
        var story = new Story(rules: rules).Through(Stage.Diagnosis);
        return story.DeskDoes(story.Quote() with { DepositMinor = deposit }).DeskDoes(Story.Answer());
    }

    private static PaymentRecorded Paid(long amountMinor, int number = 1) =>
        new() { Payment = number, Kind = PaymentKind.Deposit, AmountMinor = amountMinor, Currency = "CHF", How = PaymentHow.Card };
}
