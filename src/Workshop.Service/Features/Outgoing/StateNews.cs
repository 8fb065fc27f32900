using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Outgoing;

/// <summary>Something to be told outside.</summary>
/// <param name="Data">Besides job, order, version, moment and <c>public</c>, which every message has; a member that is null is left out.</param>
internal sealed record News(string Type, JsonObject Data)
{
    /// <summary>When it was so, where that is not the moment of its cause.</summary>
    public Instant? At { get; init; }
}

/// <summary>What became of a job between two states of it.</summary>
internal static class StateNews
{
    public static IEnumerable<News> Between(Job before, Job after, ShopRules rules) =>
    [
        .. Superseded(before, after),
        .. Asked(before, after),
        .. Refunds(before, after),
        .. Ready(before, after),
        .. Left(before, after),
        .. Delivered(before, after),
    ];

    public static JsonArray Warranty(Job job) =>
        [.. job.Warranty.Lines.Select(line => new JsonObject { ["line"] = line.Line, ["lastDay"] = TellOutside.Node(line.LastDay) })];

    private static IEnumerable<News> Superseded(Job before, Job after)
    {
        if (Open(before) is { } was && Open(after)?.Version != was.Version && after.Quotes.Versions.FirstOrDefault(one => one.Version == was.Version) is { Accepted: null })
        {
            yield return new News("quote.superseded", new JsonObject { ["quote"] = was.Version, ["by"] = Open(after)?.Version });
        }
    }

    private static QuoteVersion? Open(Job job) => job.Quotes.Newest is { Accepted: null } open && job.Quotes.IsForThisKind(open) ? open : null;

    private static IEnumerable<News> Asked(Job before, Job after)
    {
        if (AskedNow(after) is { } asked && (AskedNow(before) is not { } was || was.What != asked.What || was.Minor < asked.Minor))
        {
            yield return new News("payment.asked", new JsonObject { ["kind"] = Word.Of(asked.What), ["amountMinor"] = asked.Minor, ["currency"] = asked.Currency });
        }
    }

    // A deposit before the work; the rest once it is final.
    private static (PaymentKind What, long Minor, string? Currency)? AskedNow(Job job)
    {
        if (job.Standings.HandedOver || job.Money.OnAccount)
        {
            return null;
        }

        var account = Account.Of(job);
        return Deposit.AskedMinor(job) is { } deposit && !Deposit.IsHere(job) ? (PaymentKind.Deposit, deposit - Math.Max(0, job.Money.NetMinor), account.Currency)
            : Account.IsFinal(job) && account.DueMinor > 0 ? (PaymentKind.Balance, account.DueMinor, account.Currency)
            : null;
    }

    private static IEnumerable<News> Refunds(Job before, Job after)
    {
        var account = Account.Of(after);
        if (account.RefundMinor > Account.Of(before).RefundMinor)
        {
            yield return new News("refund.owed", new JsonObject { ["amountMinor"] = account.RefundMinor, ["currency"] = account.Currency });
        }
    }

    private static IEnumerable<News> Ready(Job before, Job after)
    {
        if (after.Standings.IsReady && !before.Standings.IsReady)
        {
            yield return new News("job.ready", []);
        }
    }

    // A later proof moves the warranty, so that it is told again.
    private static IEnumerable<News> Delivered(Job before, Job after)
    {
        if (after.Warranty is { How: HandedOverHow.Dispatched, DeliveredOn: { } on } && on != before.Warranty.DeliveredOn && !after.Standings.ReturnsUnrepaired)
        {
            yield return new News("job.handed-over", new JsonObject { ["on"] = TellOutside.Node(on), ["how"] = Word.Of(HandedOverHow.Dispatched), ["warranty"] = Warranty(after) });
        }
    }

    private static IEnumerable<News> Left(Job before, Job after)
    {
        if (!after.Standings.HandedOver || before.Standings.HandedOver)
        {
            yield break;
        }

        var data = new JsonObject
        {
            ["on"] = TellOutside.Node(after.Warranty.HandedOverOn),
            ["how"] = after.Warranty.How is { } how ? Word.Of(how) : null,
        };
        if (after.Standings.ReturnsUnrepaired)
        {
            data["reason"] = after.Quotes.Versions.LastOrDefault()?.Accepted == false ? "quote-refused" : null;
            yield return new News("job.returned-unrepaired", data);
            yield break;
        }

        // A parcel is on its way; that it is with its owner is told when somebody says so.
        if (after.Warranty.How != HandedOverHow.Dispatched)
        {
            data["warranty"] = Warranty(after);
        }

        yield return new News(after.Warranty.How == HandedOverHow.Dispatched ? "job.dispatched" : "job.handed-over", data);
    }
}
