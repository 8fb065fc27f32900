using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Arrivals;

/// <summary>An expected watch.</summary>
public sealed record ArrivalView
{
    public required Label Label { get; init; }

    public required ArrivalStanding State { get; init; }

    /// <summary>Why it ended; with one that has arrived, what the order said of it afterwards.</summary>
    public ArrivalEnd? Reason { get; init; }

    public string? Note { get; init; }

    /// <summary>The storefront's id; absent where the desk expects it.</summary>
    public string? Storefront { get; init; }

    public string? Order { get; init; }

    public string? Line { get; init; }

    /// <summary>1, 2 … within the line.</summary>
    public long? Piece { get; init; }

    /// <summary>The customer's id.</summary>
    public string? Customer { get; init; }

    public required OrderedThing Ordered { get; init; }

    /// <summary>What the customer wrote or said of the watch.</summary>
    public string? Words { get; init; }

    /// <summary>From when its days are counted.</summary>
    public required Instant WaitsFrom { get; init; }

    /// <summary>The job it became.</summary>
    public Label? Job { get; init; }

    /// <summary>Where the slip for the parcel is.</summary>
    public required string Slip { get; init; }

    public required long Version { get; init; }

    public static ArrivalView Of(StoredArrival stored) => new()
    {
        Label = stored.ReadLabel(),
        State = stored.ReadState(),
        Reason = stored.ReadReason(),
        Note = stored.Note,
        Storefront = stored.Storefront,
        Order = stored.OrderRef,
        Line = stored.Line,
        Piece = stored.Piece,
        Customer = stored.CustomerId,
        Ordered = stored.ReadOrdered(),
        Words = stored.Words,
        WaitsFrom = Microseconds.Read(stored.WaitsFrom),
        Job = stored.ReadJob(),
        Slip = $"/v1/arrivals/{stored.Label}/slip.pdf",
        Version = stored.Version,
    };
}

/// <summary>Reads expected watches.</summary>
public static class ReadArrivals
{
    /// <param name="state">expected or all; those alone that are waited for where left out.</param>
    public static async Task<Results<Paged<ArrivalView>, ProblemHttpResult>> All(Page page, Caller caller, Reader reader, CancellationToken cancel, string state = "expected")
    {
        if (state is not ("all" or "expected"))
        {
            return Problems.BadParameter("state", $"This is none of all, {Word.Of(ArrivalStanding.Expected)}.");
        }

        var rows = await reader.Read(connection => ArrivalStore.List(connection, caller.Site, state == "expected", page.After is [var after] ? after : "", page.Limit + 1), cancel);
        return page.Of<ArrivalView>([.. rows.Select(ArrivalView.Of)], one => [one.Label.ToString()]);
    }

    public static async Task<Results<Seen<ArrivalView>, ProblemHttpResult>> One(string label, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (!TryRead(label, out var read, out var refusal))
        {
            return refusal!;
        }

        return await reader.Read(connection => ArrivalStore.Find(connection, caller.Site, read), cancel) is { } found ? Answer.Seen(found.Version, ArrivalView.Of(found)) : NoArrival();
    }

    /// <summary>Reads the label of an expected watch; what is no label is 400, the label of something else names none.</summary>
    internal static bool TryRead(string typed, out Label label, out ProblemHttpResult? refusal)
    {
        label = default;
        refusal = !Label.TryRead(typed, out var read) ? Problems.Of(ProblemCatalogue.LabelUnreadable, "The label in the address cannot be read.")
            : read.Value.Kind != LabelKind.Expected ? NoArrival()
            : null;
        label = read ?? default;
        return refusal is null;
    }

    internal static ProblemHttpResult NoArrival() => Problems.Of(ProblemCatalogue.NoSuchThing, "No watch is or was expected under this label.");
}
