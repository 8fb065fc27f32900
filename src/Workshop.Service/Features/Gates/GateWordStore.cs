using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Gates;

/// <summary>A row of the table: one gate's word about one event of a job. Moments in microseconds.</summary>
public sealed record StoredGateWord
{
    public required long At { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public required string Gate { get; init; }

    public required string Said { get; init; }

    public required string Job { get; init; }

    public required string Type { get; init; }

    /// <summary>The stage or piece the event speaks of, where it speaks of one.</summary>
    public string? About { get; init; }

    public required long Position { get; init; }
}

/// <summary>An entry that counts, as far as it matters here.</summary>
public sealed record StoredOutcome
{
    public required long Position { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public required string Type { get; init; }

    public required string Data { get; init; }

    public required string Flags { get; init; }
}

/// <summary>The table <c>gate_word</c>, and what became of a job's events afterwards.</summary>
public sealed class GateWordStore(Reader reader)
{
    private const string PutSql = """
        insert into gate_word (site, at, source, id, gate, said, job, type, about, position)
        values (@site, @at, @source, @id, @gate, @said, @job, @type, @about, @position)
        on conflict (site, at, source, id, gate, said) do nothing
        """;

    private const string PageSql = """
        select at, source, id, gate, said, job, type, about, position
        from gate_word
        where site = @site
          and (at, source, id, gate, said) > (@at, @source, @id, @gate, @said)
        order by at, source, id, gate, said
        limit @limit
        """;

    private const string AppliedSql = """
        select position, source, id, type, data, flags
        from journal
        where site = @site
          and stream = @stream
          and disposition = 'applied'
        order by stream_version
        """;

    /// <summary>Writes what gates said in the turn in which it was decided; nothing where none spoke.</summary>
    /// <param name="position">The entry's own, or the last one given out before an event that was refused.</param>
    public static void Put(Turn turn, Label job, EventId id, WorkshopEvent about, IEnumerable<GateWord> words, long position)
    {
        foreach (var word in words)
        {
            turn.Execute(PutSql, new
            {
                site = turn.Site,
                at = Microseconds.Of(turn.Now),
                source = id.Source,
                id = id.Id,
                gate = word.Gate,
                said = Word.Of(word.Said),
                job = job.ToString(),
                type = about.Type,
                about = AboutOf(about),
                position,
            });
        }
    }

    /// <summary>What was said from a moment on, in order of time.</summary>
    public async Task<List<StoredGateWord>> Since(string site, long at, CancellationToken cancel)
    {
        var all = new List<StoredGateWord>();
        var after = (At: at - 1, Source: "", Id: "", Gate: "", Said: "");
        while (true)
        {
            var page = await reader.Query<StoredGateWord>(
                PageSql, new { site, at = after.At, source = after.Source, id = after.Id, gate = after.Gate, said = after.Said, limit = Reader.LongestPage }, cancel);
            all.AddRange(page);
            if (page.Count < Reader.LongestPage)
            {
                return all;
            }

            var last = page[^1];
            after = (last.At, last.Source, last.Id, last.Gate, last.Said);
        }
    }

    /// <summary>The entries of a job that count, in order of acceptance.</summary>
    public Task<IReadOnlyList<StoredOutcome>> Applied(string site, string job, CancellationToken cancel) =>
        reader.Query<StoredOutcome>(AppliedSql, new { site, stream = StreamEntry.OfJob(Label.Read(job)) }, cancel);

    /// <summary>The stage or piece an event speaks of: two events of a type are about the same only where this agrees.</summary>
    public static string? AboutOf(WorkshopEvent one) => one switch
    {
        StageStarted started => Word.Of(started.Stage),
        StageFinished finished => Word.Of(finished.Stage),
        StageSentBack back => Word.Of(back.To),
        PieceEvent moved => moved.Piece ?? (moved.Kind is { } kind ? Word.Of(kind) : null),
        _ => null,
    };
}
