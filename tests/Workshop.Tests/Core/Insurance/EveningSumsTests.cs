using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Insurance;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Insurance;

/// <summary>Declared values against what a policy covers. Figures of this test are invented.</summary>
public class EveningSumsTests
{
    private static readonly Instant Evening = TestShop.Local(2026, 3, 6, 17, 30);
    private static readonly ShopRules Rules = TestShop.Rules with
    {
        Insurance = new InsuranceRules { Limits = [new(InsuredWhere.House, "CHF", 500_000), new(InsuredWhere.OutsideSafe, "CHF", 100_000), new(InsuredWhere.OneWatch, "CHF", 300_000)] },
    };

    private static readonly ImmutableArray<ValuedWatch> House =
    [
        Watch(1, 300_000, "CHF", ("movement", "places/safe"), ("case", "places/safe")),
        Watch(2, 150_000, "CHF", ("movement", "benches/bench-1"), ("case", "places/safe"), ("dial-and-hands", "firms/dials")),
        Watch(3, 80_000, "EUR", ("movement", "people/mara"), ("case", "customer")),
        Watch(4, null, null, ("movement", "places/desk")),
    ];

    [Fact]
    public void A_watch_in_pieces_counts_whole_wherever_a_piece_of_it_lies_and_once_in_the_house()
    {
        var sums = EveningSums.Of(House, Evening, Rules).Where(sum => sum.Currency == "CHF").ToDictionary(sum => sum.Where);

        Assert.Equal((450_000, 2, false), (sums[InsuredWhere.House].AmountMinor, sums[InsuredWhere.House].Watches, sums[InsuredWhere.House].Over));
        Assert.Equal(450_000, sums[InsuredWhere.Safe].AmountMinor);
        Assert.Equal((150_000, 100_000, true), (sums[InsuredWhere.OutsideSafe].AmountMinor, sums[InsuredWhere.OutsideSafe].LimitMinor, sums[InsuredWhere.OutsideSafe].Over));
        Assert.Equal((300_000, 1, false), (sums[InsuredWhere.OneWatch].AmountMinor, sums[InsuredWhere.OneWatch].Watches, sums[InsuredWhere.OneWatch].Over));
    }

    [Fact]
    public void Each_currency_is_summed_by_itself_and_without_a_limit_nothing_is_over()
    {
        var euro = EveningSums.Of(House, Evening, Rules).Where(sum => sum.Currency == "EUR").ToDictionary(sum => sum.Where);

        Assert.Equal((80_000, 80_000, 0), (euro[InsuredWhere.House].AmountMinor, euro[InsuredWhere.OutsideSafe].AmountMinor, euro[InsuredWhere.Safe].AmountMinor));
        Assert.All(euro.Values, sum => Assert.False(sum.Over));
    }

    // Given on Thursday, 5 March: two open days are Friday and Monday.
    [Theory]
    [InlineData(6, InsuredWhere.InTransit)]
    [InlineData(9, InsuredWhere.InTransit)]
    [InlineData(10, InsuredWhere.Firms)]
    public void A_parcel_is_on_its_way_for_the_shops_days_and_then_with_the_firm(int day, InsuredWhere where)
    {
        var sums = EveningSums.Of(House, TestShop.Local(2026, 3, day, 12), Rules).Where(sum => sum.Currency == "CHF" && sum.AmountMinor == 150_000).Select(sum => sum.Where);

        Assert.Equal(where, Assert.Single(sums, one => one is InsuredWhere.InTransit or InsuredWhere.Firms));
    }

    [Fact]
    public void A_parcel_insured_for_less_than_was_declared_is_named()
    {
        var watch = House[1] with
        {
            Pieces = [.. House[1].Pieces.Select(piece => piece.IsWithFirm ? piece with { Note = "LS-204", InsuredMinor = 100_000, Currency = "CHF" } : piece)],
        };

        var under = Assert.Single(EveningSums.UnderInsured([watch]));

        Assert.Equal((watch.Job, "firms/dials", "LS-204", 100_000, 150_000), (under.Job, under.Holder, under.Note, under.InsuredMinor, under.DeclaredMinor));
        Assert.Empty(EveningSums.UnderInsured([watch with { DeclaredMinor = 100_000 }]));
    }

    [Fact]
    public void Limits_that_cannot_be_are_named_with_their_place()
    {
        var rules = new InsuranceRules
        {
            SafePlaces = ["safe"],
            EveningListBefore = Duration.FromHours(13),
            Limits = [new(InsuredWhere.Safe, "CHF", -1), new(InsuredWhere.Safe, "CHF", 5), new(InsuredWhere.House, "chf", 5)],
        };

        Assert.Equal(
            ["/insurance/eveningListBefore", "/insurance/safePlaces/0", "/insurance/limits/0/amountMinor", "/insurance/limits/1", "/insurance/limits/2/currency"],
            rules.Faults("/insurance").Select(fault => fault.Pointer));
    }

    private static ValuedWatch Watch(byte number, long? value, string? currency, params (string Id, string Holder)[] pieces) => new(
        Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, number]),
        [.. pieces.Select(piece => new Piece(piece.Id, PieceKind.Other, 1, piece.Holder, TestShop.Local(2026, 3, 5, 16), null, null))],
        value, currency);
}
