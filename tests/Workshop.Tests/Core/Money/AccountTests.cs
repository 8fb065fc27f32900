using CsCheck;
using Workshop.Core.Money;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Tests.Core.Route;

namespace Workshop.Tests.Core.Money;

/// <summary>What is agreed, paid and owed; the quote of these tests is 650.00 francs.</summary>
public class AccountTests
{
    private static readonly ShopRules KeptHere = KindsOfWork.Shop with { Money = new MoneyRules { Kept = MoneyKept.Here } };

    [Fact]
    public void A_deposit_before_anything_is_agreed_is_not_owed_back()
    {
        var account = Account.Of(Begun().Through(Stage.Diagnosis).DeskDoes(Paid(20_000)).Job);

        Assert.Equal((null, 20_000, 0, 0, false), (account.AskedMinor, account.PaidMinor, account.DueMinor, account.RefundMinor, account.IsSettled));
    }

    [Fact]
    public void A_deposit_is_owed_back_when_the_quote_is_refused()
    {
        var story = Begun().Through(Stage.Diagnosis).DeskDoes(Paid(20_000));
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.Equal((0, 20_000), (Account.Of(story.Job).DueMinor, Account.Of(story.Job).RefundMinor));
    }

    [Fact]
    public void What_was_agreed_for_another_kind_of_work_settles_nothing()
    {
        var story = Begun().Through(Stage.Quote).BecomesBy(TestShop.FullChronograph).DeskDoes(Paid(65_000));

        Assert.Null(Account.Of(story.Job).AskedMinor);
        Assert.Equal(0, Account.Of(story.Job).RefundMinor);
        Assert.NotEqual(StageState.Done, story[Stage.Settlement]);

        var anew = story.Quote(version: story.Job.Quotes.Newest!.Version + 1);
        story.DeskDoes(anew).DeskDoes(Story.Answer(version: anew.Version));
        Assert.NotEqual(StageState.Done, story[Stage.Settlement]);
        Assert.Equal(StageState.Done, story.Through(Stage.FinalControl)[Stage.Settlement]);
    }

    [Fact]
    public void Paid_in_full_before_the_work_is_settled_by_the_final_control_alone()
    {
        var story = Begun().Through(Stage.Quote).DeskDoes(Paid(65_000)).Through(Stage.ReserveAndFunctions);
        Assert.NotEqual(StageState.Done, story[Stage.Settlement]);

        Assert.Equal((StageState.Done, true), (story.Through(Stage.FinalControl)[Stage.Settlement], story.Job.Standings.IsReady));
    }

    [Fact]
    public void Settlement_follows_the_account_on_and_off_and_on()
    {
        var story = Begun().Through(Stage.FinalControl);
        Assert.Equal(StageState.Open, story[Stage.Settlement]);

        story.DeskDoes(OnAccount(true));
        Assert.Equal((StageState.Done, true), (story[Stage.Settlement], story.Job.Standings.IsReady));

        story.DeskDoes(OnAccount(false));
        Assert.Equal((StageState.Void, false), (story[Stage.Settlement], story.Job.Standings.IsReady));

        story.DeskDoes(Paid(65_000));
        Assert.Equal((StageState.Done, true), (story[Stage.Settlement], story.Job.Standings.IsReady));
    }

    [Fact]
    public void What_is_paid_back_or_corrected_after_the_final_control_is_owed_again()
    {
        var story = Begun().Through(Stage.FinalControl).DeskDoes(Paid(65_000));
        Assert.Equal(StageState.Done, story[Stage.Settlement]);

        story.DeskDoes(new PaymentCorrected { Payment = 1, Reason = "typed at the wrong job" });

        Assert.Equal((65_000, 0, StageState.Void), (Account.Of(story.Job).DueMinor, Account.Of(story.Job).PaidMinor, story[Stage.Settlement]));
        Assert.True(Assert.Single(story.Job.Money.Payments).Corrected);
    }

    [Fact]
    public void Where_money_is_kept_elsewhere_the_word_of_the_desk_stands_whatever_is_written_down()
    {
        var story = new Story(TestShop.FullAutomatic, KindsOfWork.Shop).Through(Stage.Settlement).DeskDoes(Paid(65_000)).DeskDoes(OnAccount(true)).DeskDoes(OnAccount(false));

        Assert.Equal(StageState.Done, story[Stage.Settlement]);
    }

    [Theory]
    [InlineData(0, 0, 20_000)]
    [InlineData(5_000, 0, 15_000)]
    [InlineData(25_000, 5_000, 0)]
    public void A_refusal_costs_what_the_quote_said_of_it_and_the_rest_of_the_deposit_goes_back(long fee, long due, long back)
    {
        var story = Begun().Through(Stage.Diagnosis).DeskDoes(Paid(20_000));
        story.DeskDoes(story.Quote() with { DepositMinor = 20_000, FeeOnRefusalMinor = fee }).DeskDoes(Story.Answer(accepted: false));

        Assert.Equal((fee, due, back), (Account.Of(story.Job).AskedMinor, Account.Of(story.Job).DueMinor, Account.Of(story.Job).RefundMinor));
        Assert.Null(Deposit.AskedMinor(story.Job));
    }

    [Fact]
    public void The_desk_says_the_price_of_work_without_a_quote_and_another_kind_of_work_has_another()
    {
        var story = new Story(KindsOfWork.CellAndSeals, KeptHere);
        Assert.Null(Account.Of(story.Job).AskedMinor);

        story.DeskDoes(new AccountChanged { OnAccount = false, AskedMinor = 4_500, Currency = "CHF", Reason = "the list" });
        Assert.Equal((4_500, 4_500, "CHF"), (Account.Of(story.Job).AskedMinor, Account.Of(story.Job).DueMinor, Account.Of(story.Job).Currency));

        story.Through(Stage.FinalControl).DeskDoes(Paid(4_500));
        Assert.Equal(StageState.Done, story[Stage.Settlement]);
        Assert.Null(Account.Of(story.BecomesBy(TestShop.FullAutomatic).Job).AskedMinor);
    }

    [Theory]
    [InlineData(48_000, 0, 0, 0)]
    [InlineData(48_000, 50, 0, 24_000)]
    [InlineData(48_001, 33, 0, 15_840)]
    [InlineData(48_000, 30, 48_000, 0)]
    [InlineData(MoneyBook.MinorAtMost, 100, 1, MoneyBook.MinorAtMost)]
    public void The_shops_own_deposit_is_a_share_of_what_lies_above_its_threshold(long total, int percent, long above, long deposit) =>
        Assert.Equal(deposit, new MoneyRules { DepositSharePercent = percent, DepositAboveMinor = above }.DepositOf(total));

    // Places behind the point: ISO 4217, list one.
    [Theory]
    [InlineData(123_456, "CHF", "1234.56 CHF")]
    [InlineData(123_456, "JPY", "123456 JPY")]
    [InlineData(123_456, "KWD", "123.456 KWD")]
    [InlineData(5, "GBP", "0.05 GBP")]
    public void An_amount_has_the_places_of_its_currency(long minor, string currency, string said) => Assert.Equal(said, Amount.Said(minor, currency));

    [Fact]
    public void A_quote_keeps_to_the_currency_of_what_is_agreed_or_paid()
    {
        var story = Begun().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        Assert.Null(Account.FixedCurrency(story.Job));

        story.DeskDoes(Story.Answer());
        Assert.Equal("CHF", Account.FixedCurrency(story.Job));
        Assert.Equal("GBP", Account.FixedCurrency(Begun().DeskDoes(Paid(100, "GBP")).Job));
    }

    [Fact]
    public void What_is_owed_either_way_is_exactly_what_was_asked_less_what_was_paid() =>
        Gen.Select(Gen.Long[0, 100 * MoneyBook.MinorAtMost], Gen.Long[0, 1_000 * MoneyBook.MinorAtMost], Gen.Long[0, 1_000 * MoneyBook.MinorAtMost], Gen.Bool)
            .Sample((asked, paid, refunded, onAccount) =>
            {
                var account = new Account("CHF", asked, paid, refunded, onAccount);
                return account.DueMinor - account.RefundMinor == asked - paid + refunded
                    && account is { DueMinor: >= 0, RefundMinor: >= 0 } and ({ DueMinor: 0 } or { RefundMinor: 0 })
                    && account.IsSettled == (onAccount || account.DueMinor == 0);
            });

    private static Story Begun() => new(TestShop.FullAutomatic, KeptHere);

    private static AccountChanged OnAccount(bool on) => new() { OnAccount = on, Reason = "pays at the end of the month" };

    private static PaymentRecorded Paid(long amountMinor, string currency = "CHF") => new()
    {
        Payment = 1,
        Kind = PaymentKind.Deposit,
        AmountMinor = amountMinor,
        Currency = currency,
        How = PaymentHow.Card,
    };
}
