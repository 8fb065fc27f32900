using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
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

    /// <summary>National or international, or its last digits.</summary>
    [StringLength(AtMost)]
    public string? Telephone { get; init; }

    /// <summary>A case serial or movement number, or a part of one from three characters on.</summary>
    [StringLength(AtMost)]
    public string? Serial { get; init; }

    /// <summary>The number of the shop's own paper book, or how it begins.</summary>
    [StringLength(AtMost)]
    public string? OwnNumber { get; init; }

    [StringLength(AtMost)]
    public string? Label { get; init; }

    /// <summary>As it sounds: marks, case and a wrong letter do not matter, and the beginning of each word is enough.</summary>
    [StringLength(AtMost)]
    public string? Name { get; init; }

    /// <summary>Words for the maker or model; they narrow a search by something else.</summary>
    [StringLength(AtMost)]
    public string? Watch { get; init; }
}

/// <summary>Why a job was found.</summary>
public enum FoundBy
{
    Label,
    OwnNumber,
    Serial,
    PartOfSerial,
    Telephone,
    Name,
    Watch,
}

/// <summary>A job that fits.</summary>
/// <param name="Customer">The customer's id.</param>
/// <param name="OwnNumber">The number of the paper book.</param>
/// <param name="By">Why it was found, the best reason first.</param>
public sealed record FoundJob(
    string Label, string? Stage, string? Variant, Instant? TakenInAt, bool Closed, string? OwnNumber, string? Customer, string? Name, string? Maker, string? Model, ImmutableArray<FoundBy> By);

/// <summary>What fits best first, the newest among equals.</summary>
/// <param name="More">There are more than are shown: look for something narrower.</param>
public sealed record FoundJobs(ImmutableArray<FoundJob> Items, bool More);

/// <summary>Finds jobs by what is personal; a body is neither logged nor kept, as an address would be.</summary>
public static class SearchJobs
{
    private const int ShownAtMost = 50;

    public static async Task<Results<Ok<FoundJobs>, ProblemHttpResult>> Handle(
        JsonBody<SearchBody> body, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        var country = (await rules.Read(caller.Site, cancel)).Intake.Country;
        return await reader.Read(connection => Find(connection, caller.Site, body.Value, country), cancel) is { } found
            ? TypedResults.Ok(found)
            : Problems.BadFields(new Fault("", "Nothing to look for: a label, a number, a telephone number, or two letters of a name"));
    }

    /// <param name="country">ISO 3166-1, of national telephone numbers.</param>
    /// <returns>null: there is nothing to look for.</returns>
    public static FoundJobs? Find(DbConnection connection, string site, SearchBody body, string? country)
    {
        if (Sought.Read(body, country) is not { } sought)
        {
            return null;
        }

        var found = sought.LookedUp(connection, site)
            .DistinctBy(row => row.Label)
            .Select(row => (Row: row, Fits: sought.Fits(row)))
            .Where(one => one.Fits.Any)
            .OrderByDescending(one => one.Fits.Fit)
            .ThenByDescending(one => one.Row.TakenInAt)
            .ThenByDescending(one => one.Row.Label, StringComparer.Ordinal)
            .ToArray();
        return new FoundJobs([.. found.Take(ShownAtMost).Select(one => Shown(one.Row, one.Fits.By))], found.Length > ShownAtMost);
    }

    private static FoundJob Shown(FoundJobRow row, ImmutableArray<FoundBy> by) => new(
        row.Label, row.Stage, row.Variant, Microseconds.Read(row.TakenInAt), row.Closed == 1, row.OwnNumber, row.CustomerId,
        string.IsNullOrEmpty(row.Name) ? null : row.Name, row.Maker, row.Model, by);
}
