using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Journal;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>What somebody at the counter knows. <see cref="Text"/> is tried as everything; of the others all have to fit.</summary>
public sealed record SearchBody
{
    private const int AtMost = 200;

    [StringLength(AtMost)]
    public string? Text { get; init; }

    [StringLength(AtMost)]
    public string? Telephone { get; init; }

    /// <summary>A case serial or movement number, whole.</summary>
    [StringLength(AtMost)]
    public string? Serial { get; init; }

    [StringLength(AtMost)]
    public string? Label { get; init; }

    /// <summary>A part of the name.</summary>
    [StringLength(AtMost)]
    public string? Name { get; init; }
}

/// <summary>Why a job was found.</summary>
public enum FoundBy
{
    Label,
    Serial,
    Telephone,
    Name,
}

/// <summary>A job that fits.</summary>
/// <param name="Customer">The customer's id.</param>
public sealed record FoundJob(
    string Label, string? Stage, string? Variant, Instant? TakenInAt, bool Closed, string? Customer, string? Name, string? Maker, string? Model, ImmutableArray<FoundBy> By);

/// <summary>The newest first.</summary>
/// <param name="More">There are more than are shown: look for something narrower.</param>
public sealed record FoundJobs(ImmutableArray<FoundJob> Items, bool More);

/// <summary>Finds jobs by what is personal; a body is neither logged nor kept, as an address would be.</summary>
public static class SearchJobs
{
    private const int ShownAtMost = 50;
    private const int LettersAtLeast = 2;

    public static async Task<Results<Ok<FoundJobs>, ProblemHttpResult>> Handle(JsonBody<SearchBody> body, Caller caller, JobStore store, CancellationToken cancel)
    {
        if (SoughtBy(body.Value) is not { } sought)
        {
            return Problems.BadFields(new Fault("", "Nothing to look for: a label, a number, a telephone number, or two letters of a name"));
        }

        var rows = await store.Search(caller.Site, sought, ShownAtMost + 1, cancel);
        return TypedResults.Ok(new FoundJobs([.. rows.Take(ShownAtMost).Select(Found)], rows.Count > ShownAtMost));
    }

    private static Sought? SoughtBy(SearchBody body)
    {
        var sought = body.Text is { } text
            ? new Sought { Label = Read(text), Serial = WatchNumber.Key(text), Telephone = Telephone.Key(text), Name = Part(text), Any = 1 }
            : new Sought { Label = LabelIn(body.Label), Serial = WatchNumber.Key(body.Serial), Telephone = Telephone.Key(body.Telephone), Name = Part(body.Name), Any = 0 };
        return sought is { Label: null, Serial: null, Telephone: null, Name: null } ? null : sought;
    }

    // What was called a label and is none finds nothing.
    private static string? LabelIn(string? typed) => string.IsNullOrWhiteSpace(typed) ? null : Read(typed) ?? typed.Trim();

    private static string? Read(string typed) => Core.Labels.Label.TryRead(typed, out var label) ? label.Value.ToString() : null;

    // What LIKE would read as a pattern is meant as it stands. Both engines lower plain letters alone, and so do we.
    private static string? Part(string? typed) =>
        typed?.Trim() is { Length: >= LettersAtLeast } part
            ? string.Concat(part.Select(letter => char.IsAsciiLetterUpper(letter) ? char.ToLowerInvariant(letter) : letter))
                .Replace("!", "!!").Replace("%", "!%").Replace("_", "!_")
            : null;

    private static FoundJob Found(FoundJobRow row)
    {
        FoundBy[] by =
        [
            .. row.ByLabel == 1 ? [FoundBy.Label] : Array.Empty<FoundBy>(),
            .. row.BySerial == 1 ? [FoundBy.Serial] : Array.Empty<FoundBy>(),
            .. row.ByTelephone == 1 ? [FoundBy.Telephone] : Array.Empty<FoundBy>(),
            .. row.ByName == 1 ? [FoundBy.Name] : Array.Empty<FoundBy>(),
        ];
        return new FoundJob(
            row.Label, row.Stage, row.Variant, Microseconds.Read(row.TakenInAt), row.Closed == 1, row.CustomerId,
            string.IsNullOrEmpty(row.Name) ? null : row.Name, row.Maker, row.Model, [.. by]);
    }
}
