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
        Assert.Equal(StageState.Done, story[Stage.Settlement]);
    }

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

    private static PaymentRecorded Paid(long amountMinor, string currency = "CHF") => new()
    {
        Payment = 1,
        Kind = PaymentKind.Deposit,
        AmountMinor = amountMinor,
        Currency = currency,
        How = PaymentHow.Card,
    };
}
