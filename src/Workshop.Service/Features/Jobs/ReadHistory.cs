using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>One entry of a job's journal.</summary>
public sealed record HistoryEntry
{
    public required string Source { get; init; }

    public required string Id { get; init; }

    public required string Type { get; init; }

    /// <summary>When it counts; entries stand in the order of this.</summary>
    public required Instant Effective { get; init; }

    public required Instant Received { get; init; }

    public required long Position { get; init; }

    public long? Sequence { get; init; }

    /// <summary>Who said it, where somebody was named.</summary>
    public string? Person { get; init; }

    /// <summary>noted: kept, changed nothing, waits for a manager.</summary>
    public required Disposition Disposition { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>As sent, without what this role may not see.</summary>
    public required JsonElement Data { get; init; }

    public JudgedView? Judged { get; init; }

    public EntryRef? CausedBy { get; init; }
}

/// <summary>What was decided when the entry was accepted.</summary>
/// <param name="Passing">Gates it went through although they did not pass.</param>
/// <param name="Failed">Gates that had failed when it was noted.</param>
/// <param name="UsableUntil">For a waiver.</param>
public sealed record JudgedView(string? Role, string? Bench, ImmutableArray<string>? Passing, ImmutableArray<string>? Failed, Instant? UsableUntil, string? Route);

/// <summary>The journal of a job in the order of its places: late entries stand where they belong.</summary>
public static class ReadHistory
{
    public static async Task<Results<Paged<HistoryEntry>, ProblemHttpResult>> Handle(string label, Page page, Caller caller, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        var rows = await store.History(caller.Site, job, After(page), page.Limit + 1, cancel);
        if (rows.Count == 0 && await store.Intake(caller.Site, job, cancel) is null)
        {
            return PathLabel.NoJob();
        }

        var places = rows.ToDictionary(row => row.Position);
        return page.Of([.. rows.Select(row => Shown(row, caller))], entry => KeyOf(places[entry.Position]));
    }

    private static HistoryEntry Shown(HistoryRow row, Caller caller) => new()
    {
        Source = row.Source,
        Id = row.Id,
        Type = row.Type,
        Effective = Microseconds.Read(row.Effective),
        Received = Microseconds.Read(row.Received),
        Position = row.Position,
        Sequence = row.Sequence,
        Person = row.Person,
        Disposition = Word.Read<Disposition>(row.Disposition)!.Value,
        Flags = row.Flags.Length == 0 ? [] : [.. row.Flags.Split(' ')],
        Data = HistoryData.Of(row.Type, row.Data, caller),
        Judged = JudgedOf(row, caller.Role),
        CausedBy = row is { CausedBySource: { } source, CausedById: { } id } ? new EntryRef(source, id) : null,
    };

    private static JudgedView? JudgedOf(HistoryRow row, Role role)
    {
        var judged = EventCodec.ReadJudged(row.Judged);
        return judged == Judged.Nothing ? null
            : new JudgedView(
                judged.Role, judged.Bench,
                judged.Passing.IsEmpty ? null : LegalHolds.Gates(judged.Passing, role),
                judged.Failed.IsEmpty ? null : LegalHolds.Gates(judged.Failed, role),
                judged.UsableUntil, judged.Route?.Id);
    }

    private static (long Effective, string Source, long Sequence, long Position) After(Page page) =>
        page.After is [var effective, var source, var sequence, var position] && Number(effective) is { } at && Number(sequence) is { } order && Number(position) is { } place
            ? (at, source, order, place)
            : (long.MinValue, "", long.MinValue, long.MinValue);

    private static long? Number(string text) => long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) ? number : null;

    private static string[] KeyOf(HistoryRow row) =>
    [
        row.Effective.ToString(CultureInfo.InvariantCulture),
        row.OrderSource,
        row.OrderSequence.ToString(CultureInfo.InvariantCulture),
        row.Position.ToString(CultureInfo.InvariantCulture),
    ];
}
