using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
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

    /// <summary>Who said it, where somebody was named; as it was told.</summary>
    public string? Person { get; init; }

    /// <summary>Who it was, where a manager mended the badge.</summary>
    public string? MendedPerson { get; init; }

    /// <summary>noted: kept, changed nothing, waits for a manager.</summary>
    public required Disposition Disposition { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>As sent, without what this role may not see.</summary>
    public required JsonElement Data { get; init; }

    public JudgedView? Judged { get; init; }

    public EntryRef? CausedBy { get; init; }

    /// <summary>The entry whose place this one took.</summary>
    public EntryRef? InsteadOf { get; init; }

    /// <summary>True: corrected, replaced, or caused by what is; kept, no effect.</summary>
    public bool? Void { get; init; }

    /// <summary>The correction that made it void.</summary>
    public EntryRef? CorrectedBy { get; init; }

    /// <summary>The entry that took its place.</summary>
    public EntryRef? ReplacedBy { get; init; }

    /// <summary>For a report that was noted and is settled.</summary>
    public SettledView? Settled { get; init; }
}

/// <summary>What became of a report.</summary>
/// <param name="By">The manager, where one was named; the service when what it rested on was reported since.</param>
/// <param name="Event">The settlement.</param>
public sealed record SettledView(SettledAs As, string By, EntryRef Event);

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

        // What became of an entry stands in later ones, on whichever page.
        var reckoning = await store.Reckoned(caller.Site, job, cancel);
        var places = rows.ToDictionary(row => row.Position);
        return page.Of([.. rows.Select(row => Shown(row, reckoning, caller))], entry => KeyOf(places[entry.Position]));
    }

    private static HistoryEntry Shown(HistoryRow row, Reckoning reckoning, Caller caller)
    {
        var id = new EventId(row.Source, row.Id);
        return reckoning.Find(id) is { } written ? Marked(AsWritten(row, caller), written, reckoning) : AsWritten(row, caller);
    }

    private static HistoryEntry Marked(HistoryEntry shown, Entry written, Reckoning reckoning) => shown with
    {
        MendedPerson = (reckoning.MendedBy(written)?.Event as PersonCorrected)?.Person,
        InsteadOf = RefOf(written.Judged.InsteadOf?.Entry),
        Void = reckoning.IsVoid(written.Id) ? true : null,
        CorrectedBy = RefOf(reckoning.CorrectedBy(written.Id)?.Id),
        ReplacedBy = RefOf(reckoning.ReplacedBy(written.Id)?.Id),
        Settled = reckoning.SettledBy(written.Id) is { Event: ReportSettled settled } by
            ? new SettledView(settled.As, by.Person ?? by.Judged.Role ?? "service", EntryRef.Of(by.Id))
            : null,
    };

    private static EntryRef? RefOf(EventId? id) => id is { } known ? EntryRef.Of(known) : null;

    private static HistoryEntry AsWritten(HistoryRow row, Caller caller) => new()
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
