using System.Data.Common;
using Dapper;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Extracts;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Extracts;

/// <summary>What the owner of a watch may show of a job: sealed, so that whoever is shown it can see that nothing was changed.</summary>
public static class ReadSealedExtract
{
    public const string MediaType = "text/plain";

    private const string DigestsSql = """
        select position, digest
        from journal
        where site = @site
          and stream = @stream
        """;

    private const string NameSql = """
        select name
        from site
        where id = @site
        """;

    public static async Task<Results<Printed, ProblemHttpResult>> Handle(
        string label, Caller caller, JobStore store, Reader reader, Writer writer, ShopRulesSource source, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var calendar = (await source.Read(caller.Site, cancel)).Calendar;
        var lines = Extract.Of(read.Job, read.Entries, calendar);
        if (lines.IsEmpty)
        {
            return Problems.Of(ProblemCatalogue.NotHandedOver, "An extract tells what a watch left with; this one has not been given back.", ("job", job));
        }

        var facts = read.Watch?.ReadFacts();
        var head = new ExtractHead(
            SealedText.Form, job, read.Job.Version, calendar.DateOf(clock.GetCurrentInstant()), await reader.Read(connection => NameOf(connection, caller.Site), cancel),
            new ExtractWatch(read.Watch?.Maker, read.Watch?.Model, read.Watch?.Reference, read.Watch?.CaseSerial, read.Watch?.MovementNumber, facts?.Calibre?.Name), "");
        var digests = await reader.Read(connection => DigestsOf(connection, caller.Site, job), cancel);
        var key = await writer.Turn(caller.Site, SealKeyStore.Current, cancel);
        return new Printed(SealedText.Write(head, lines, digests, key), $"{MediaType}; charset=utf-8", $"{job}-extract.txt");
    }

    private static string NameOf(DbConnection connection, string site) => connection.QueryFirst<string>(NameSql, new { site });

    private static Dictionary<long, byte[]> DigestsOf(DbConnection connection, string site, Label job) =>
        connection.Query<DigestRow>(DigestsSql, new { site, stream = StreamEntry.OfJob(job) }).ToDictionary(row => row.Position, row => row.Digest);

    private sealed record DigestRow
    {
        public required long Position { get; init; }

        public required byte[] Digest { get; init; }
    }
}
