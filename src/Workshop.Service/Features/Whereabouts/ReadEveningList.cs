using System.Collections.Immutable;
using System.Globalization;
using NodaTime;
using Workshop.Core.House;
using Workshop.Core.Insurance;
using Workshop.Core.Pieces;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Whereabouts;

/// <summary>What is where at the end of the day: what lies in the safe, what does not, what is with firms; with the declared values for the desk.</summary>
public static class ReadEveningList
{
    public static async Task<Done<EveningListView>> Handle(Caller caller, LanguageAsked language, Reader reader, ShopRulesSource source, IClock clock, CancellationToken cancel)
    {
        var rules = await source.Read(caller.Site, cancel);
        var now = clock.GetCurrentInstant();
        var (watches, house) = await reader.Read(connection => (WhereaboutsStore.InHouse(connection, caller.Site), WhereaboutsStore.HouseOf(connection, caller.Site)), cancel);
        var day = rules.Calendar.DateOf(now);
        return Answer.Done(new EveningListView(
            day,
            now,
            rules.Calendar.IsOpenDay(day) ? EveningList.DueOn(day, rules) : null,
            PlacesOf(watches, now, rules),
            house.LastCount is { } count ? new SafeView(count.At, count.By, count.Counted, rules.Calendar.DateOf(count.At) == day, count.Missing, count.Elsewhere) : null,
            caller.MaySee(Sight.Amounts) ? ValuesOf([.. watches.Select(one => one.Valued)], now, rules, language.Best) : null));
    }

    private static ImmutableArray<PlaceView> PlacesOf(IReadOnlyList<WatchInHouse> watches, Instant now, ShopRules rules) =>
    [
        .. from watch in watches
           from piece in watch.Job.Pieces.Pieces
           where piece.Holder != Piece.Customer
           group Placed(watch, piece, now, rules) by piece.Holder into place
           orderby rules.Insurance.IsSafe(place.Key) descending, place.Key
           select new PlaceView(place.Key, rules.Insurance.IsSafe(place.Key), [.. place]),
    ];

    private static PlacedPiece Placed(WatchInHouse watch, Piece piece, Instant now, ShopRules rules) => new(
        watch.Job.Label, piece.Id, piece.Kind, piece.Count, piece.Since, Touching.OpenOn(watch.Job, piece), piece.GivenTo, piece.ExpectedBack, piece.Note,
        piece.IsWithFirm ? EveningSums.IsInTransit(piece, now, rules) : null);

    private static ValuesView ValuesOf(ImmutableArray<ValuedWatch> watches, Instant now, ShopRules rules, Language language)
    {
        var sums = EveningSums.Of(watches, now, rules);
        return new ValuesView(
            [.. sums.Select(sum => new SumView(sum.Where, sum.Currency, sum.AmountMinor, sum.Watches, sum.LimitMinor, sum.Over))],
            [.. sums.Where(sum => sum.Over).Select(sum => Phrase.Of("{0}: {1} {2} declared, the policy covers {3}", sum.Where, Major(sum.AmountMinor), sum.Currency, Major(sum.LimitMinor!.Value)).In(language))],
            [.. watches.Where(one => one.DeclaredMinor is null).Select(one => one.Job)],
            EveningSums.UnderInsured(watches),
            [Phrase.Of("watches that were sent back to their owners and have not arrived yet").In(language)]);
    }

    // Amounts are in hundredths in all currencies a workshop is likely to keep; whoever keeps another reads amountMinor.
    private static string Major(long minor) => (minor / 100m).ToString("0.00", CultureInfo.InvariantCulture);
}
