using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.PublicPages;

/// <summary>A photo that the desk has marked for the customer.</summary>
/// <param name="Received">Microseconds.</param>
public sealed record ShownPhoto(string Sha256, long Received);

/// <summary>All that is read to show a job to its customer.</summary>
public sealed record PublicReading
{
    private const string PhotosSql = """
        select sha256, received
        from photo
        where site = @site
          and job = @job
          and for_customer = 1
        order by received, sha256
        """;

    private const string IntakeSql = """
        select intake as text, intake_version as version
        from job
        where site = @site
          and label = @label
        """;

    public required Job Job { get; init; }

    public required ShopRules Rules { get; init; }

    public required SettingsDocument Shop { get; init; }

    public required IntakeSheet Sheet { get; init; }

    public StoredWatch? Watch { get; init; }

    /// <summary>For the customer, as they stand now, in order.</summary>
    public required ImmutableArray<(NodaTime.Instant At, string Text)> Notes { get; init; }

    /// <summary>Every version of the quote as it was sent.</summary>
    public required ImmutableArray<QuoteSent> Quotes { get; init; }

    public required ImmutableArray<ShownPhoto> Photos { get; init; }

    /// <summary>As the turn sees it; null where there is no such job.</summary>
    public static PublicReading? Of(Turn turn, Label label) => turn.History(label) is not { } history ? null : Of(
        history.Job,
        history.Entries,
        turn.Rules,
        ShopDocuments.Newest(turn, ShopKinds.Of<SettingsDocument>().Name),
        turn.Intake(label),
        WatchStore.Find(turn, history.Job.Intake.Watch),
        turn.Query<ShownPhoto>(PhotosSql, new { site = turn.Site, job = label.ToString() }));

    /// <summary>As it is committed; null where there is no such job.</summary>
    public static PublicReading? Of(DbConnection connection, string site, Label label, ShopRules rules)
    {
        var entries = Reader.Entries(connection, site, label);
        if (entries.IsEmpty)
        {
            return null;
        }

        var job = Job.Replay(label, entries);
        return Of(
            job,
            entries,
            rules,
            ShopDocuments.Newest(connection, site, ShopKinds.Of<SettingsDocument>().Name),
            connection.QueryFirstOrDefault<IntakePart>(IntakeSql, new { site, label = label.ToString() }),
            WatchStore.Find(connection, site, job.Intake.Watch),
            connection.Query<ShownPhoto>(PhotosSql, new { site, job = label.ToString() }));
    }

    private static PublicReading Of(Job job, ImmutableArray<Entry> entries, ShopRules rules, ShopDocument? shop, IntakePart? intake, StoredWatch? watch, IEnumerable<ShownPhoto> photos)
    {
        // What was corrected is not shown: it never was.
        var counted = Reckoning.InOrder(entries).Where(entry => entry.Counts).ToArray();
        return new PublicReading
        {
            Job = job,
            Rules = rules,
            Shop = shop is null ? new SettingsDocument() : JsonSerializer.Deserialize<SettingsDocument>(shop.Document, WorkshopJson.Options)!,
            Sheet = IntakeSheet.Read(intake?.Text ?? "{}"),
            Watch = watch,
            Notes = [.. counted.Where(entry => entry.Event is NoteWritten { Audience: Audience.Customer }).Select(entry => (entry.Effective, ((NoteWritten)entry.Event).Text))],
            Quotes = [.. counted.Select(entry => entry.Event).OfType<QuoteSent>()],
            Photos = [.. photos],
        };
    }
}
