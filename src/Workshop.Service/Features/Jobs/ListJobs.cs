using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>One job in a list; nothing in it says whose it is.</summary>
public sealed record JobLine
{
    public required string Label { get; init; }

    public required long Version { get; init; }

    public string? Variant { get; init; }

    /// <summary>The first required stage that does not stand.</summary>
    public string? Stage { get; init; }

    public string? Branch { get; init; }

    public Instant? TakenInAt { get; init; }

    public LocalDate? PromisedOn { get; init; }

    public required bool InHouse { get; init; }

    public required bool Closed { get; init; }

    public string? Maker { get; init; }

    public string? Model { get; init; }
}

/// <summary>The jobs of the house, newest first. No filter carries personal data, since addresses end up in logs of others.</summary>
public static class ListJobs
{
    /// <param name="stage">The stage they are in.</param>
    /// <param name="branch">The branch that stage belongs to.</param>
    /// <param name="variant">The kind of work.</param>
    /// <param name="open">True: not closed yet; false: closed. Both where left out.</param>
    /// <param name="atRisk">True: only those whose forecast is later than their promise.</param>
    /// <param name="inHouse">True: with a piece in the house; false: all given back. Both where left out.</param>
    public static async Task<Results<Paged<JobLine>, ProblemHttpResult>> Handle(
        Page page, Caller caller, JobStore store, string? stage, string? branch, string? variant, string? open, string? inHouse, string? atRisk, IClock clock, CancellationToken cancel)
    {
        if (stage is not null && Word.Read<Stage>(stage) is null)
        {
            return Problems.BadParameter("stage", $"This is none of {string.Join(", ", Word.All<Stage>())}");
        }

        if (branch is not null && Word.Read<Branch>(branch) is null)
        {
            return Problems.BadParameter("branch", $"This is none of {string.Join(", ", Word.All<Branch>())}");
        }

        if (open is not (null or "true" or "false"))
        {
            return Problems.BadParameter("open", "This is neither true nor false");
        }

        if (inHouse is not (null or "true" or "false"))
        {
            return Problems.BadParameter("inHouse", "This is neither true nor false");
        }

        if (atRisk is not (null or "true"))
        {
            return Problems.BadParameter("atRisk", "This is true or left out");
        }

        var rows = await store.List(
            caller.Site, atRisk is null ? null : clock.GetCurrentInstant(), stage, branch, variant,
            open is null ? null : open == "true" ? 0 : 1,
            inHouse is null ? null : inHouse == "true" ? 1 : 0,
            After(page), page.Limit + 1, cancel);
        return page.Of([.. rows.Select(Line)], line => [Microseconds.Of(line.TakenInAt ?? default).ToString(CultureInfo.InvariantCulture), line.Label]);
    }

    private static (long At, string Label) After(Page page) =>
        page.After is [var at, var label] && long.TryParse(at, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var moment)
            ? (moment, label)
            : (long.MaxValue, "");

    private static JobLine Line(JobRow row) => new()
    {
        Label = row.Label,
        Version = row.Version,
        Variant = row.Variant,
        Stage = row.Stage,
        Branch = row.Branch,
        TakenInAt = Microseconds.Read(row.TakenInAt),
        PromisedOn = row.PromisedOn is { } day ? LocalDatePattern.Iso.Parse(day).Value : null,
        InHouse = row.InHouse == 1,
        Closed = row.Closed == 1,
        Maker = row.Maker,
        Model = row.Model,
    };
}
