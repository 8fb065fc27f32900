using System.Collections.Immutable;
using System.Text.Json.Nodes;
using NodaTime.Text;
using Workshop.Core.Shop;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shop;

/// <summary>Days on which the shop is newly said to be shut are told outside; what the house notes about them is not.</summary>
internal static class TellClosures
{
    /// <param name="before">The calendar as it was.</param>
    /// <param name="version">Of the calendar, as it is saved now.</param>
    public static void After(Turn turn, ShopCalendar before, ImmutableArray<Closure> closures, long version)
    {
        var today = before.DateOf(turn.Now);
        foreach (var closure in closures.Where(one => one.Through >= today && !before.Closures.Any(known => (known.From, known.Through) == (one.From, one.Through))))
        {
            var data = new JsonObject
            {
                ["version"] = version,
                ["at"] = turn.Now.ToString(),
                ["from"] = LocalDatePattern.Iso.Format(closure.From),
                ["through"] = LocalDatePattern.Iso.Format(closure.Through),
            };
            turn.Put(new OutboxMessage
            {
                Id = $"shop.closed/{ShopDocuments.Stream}/{version}/{closure.From:uuuu-MM-dd}",
                Type = "shop.closed",
                Stream = ShopDocuments.Stream,
                Body = data.ToJsonString(WorkshopJson.Options),
                Storefront = Outbox.EveryStorefront,
            });
        }
    }
}
