using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation;

/// <summary>What a checker looks at: the database as it lies there, and what devices were told.</summary>
internal sealed class Evidence : IDisposable
{
    private const string JobStreamsSql = """
        select distinct stream
        from journal
        where site = @site
          and stream like 'job/%'
        order by stream
        """;

    private readonly Lazy<IReadOnlySet<string>> ordered;
    private readonly Lazy<ImmutableArray<(Label Label, ImmutableArray<Entry> Entries)>> jobs;

    /// <param name="folder">Of the database; nobody need have stopped writing to it.</param>
    public Evidence(string folder, VerdictBook told, Instant now, bool isTheEnd)
    {
        Database = new Database(new StorageSettings { Path = folder });
        Data = Database.OpenReader();
        Told = told;
        Now = now;
        IsTheEnd = isTheEnd;
        Rules = ShopRulesReader.Read(Data, House.Site);
        ordered = new(() => Jobs.Where(job => job.Entries.Any(entry => entry is { Counts: true, Event: JobTakenIn { Ordered: not null } })).Select(job => job.Label.ToString()).ToHashSet(StringComparer.Ordinal));
        jobs = new(() => [.. Data.Query<string>(JobStreamsSql, new { site = House.Site })
            .Select(stream => Label.Read(stream["job/".Length..]))
            .Select(label => (label, Reader.Entries(Data, House.Site, label)))]);
    }

    public Database Database { get; }

    public DbConnection Data { get; }

    public VerdictBook Told { get; }

    public Instant Now { get; }

    /// <summary>Every device has said what it had to say, and everything has waited long enough.</summary>
    public bool IsTheEnd { get; }

    public ShopRules Rules { get; }

    /// <summary>All jobs with their entries, in no order.</summary>
    public ImmutableArray<(Label Label, ImmutableArray<Entry> Entries)> Jobs => jobs.Value;

    /// <summary>Labels of jobs that came by way of a storefront.</summary>
    public IReadOnlySet<string> Ordered => ordered.Value;

    public IEnumerable<T> Rows<T>(string sql) => Data.Query<T>(sql, new { site = House.Site });

    public void Dispose()
    {
        Data.Dispose();
        Database.Dispose();
    }
}
