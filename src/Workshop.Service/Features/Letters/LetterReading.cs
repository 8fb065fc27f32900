using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Workshop.Core.Corrections;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Shop;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Letters;

/// <summary>What letters about a job are made from, as a turn sees it.</summary>
public sealed record LetterReading
{
    public required Job Job { get; init; }

    /// <summary>In the order of their places, each as it counts.</summary>
    public required ImmutableArray<Entry> Entries { get; init; }

    public required ShopRules Rules { get; init; }

    public required LetterSurroundings Around { get; init; }

    public StoredWatch? Watch { get; init; }

    /// <summary>As the turn sees it; null where there is no such job.</summary>
    public static LetterReading? Of(Turn turn, Label label) =>
        turn.History(label) is { Job.TakenIn: true } history
            ? Of(history, turn.Rules, WatchStore.Find(turn, history.Job.Intake.Watch), id => WatchStore.Jobs(turn, id))
            : null;

    /// <summary>As it is committed.</summary>
    public static LetterReading Of(DbConnection connection, string site, JobHistory history, ShopRules rules) =>
        Of(history, rules, WatchStore.Find(connection, site, history.Job.Intake.Watch), id => WatchStore.Jobs(connection, site, id));

    private static LetterReading Of(JobHistory history, ShopRules rules, StoredWatch? watch, Func<string, IReadOnlyList<WatchJobRow>> jobsOf) => new()
    {
        Job = history.Job,
        Entries = Reckoning.InOrder(history.Entries),
        Rules = rules,
        Watch = watch,
        Around = AroundOf(history.Job, watch, jobsOf),
    };

    /// <summary>What is to be said, said or let fall, past and to come.</summary>
    public ImmutableArray<LetterOccasion> Occasions(NodaTime.Instant now) => LetterPlan.Of(Job, Entries, Around, Rules, now);

    private static LetterSurroundings AroundOf(Job job, StoredWatch? watch, Func<string, IReadOnlyList<WatchJobRow>> jobsOf)
    {
        var left = job.Standings.HandedOver ? job.Standings.Of(Core.Route.Stage.HandedOver).Since : null;
        var later = watch is null || left is not { } at ? []
            : jobsOf(watch.Id).Where(row => row.Label != job.Label.ToString() && row.TakenInAt > Microseconds.Of(at)).ToArray();
        return new LetterSurroundings
        {
            BackInHouse = later.Any(row => row.InHouse == 1),
            NewerJob = later.Length > 0,
            Gone = watch?.CustomerId is { } owner && owner != job.Intake.Customer && owner != job.Parties.Owner,
            Chronograph = watch?.ReadFacts().Calibre?.Kind == CalibreKind.Chronograph,
        };
    }
}

/// <summary>How the shop presents itself, and its own texts.</summary>
public sealed class LetterHouse
{
    private readonly Func<string, string, ShopDocument?> newest;
    private readonly Dictionary<string, LettersDocument?> own = new(StringComparer.Ordinal);
    private SettingsDocument? settings;

    public LetterHouse(Turn turn) => newest = (kind, id) => ShopDocuments.Newest(turn, kind, id);

    public LetterHouse(DbConnection connection, string site) => newest = (kind, id) => ShopDocuments.Newest(connection, site, kind, id);

    public SettingsDocument Settings => settings ??= Read<SettingsDocument>(ShopDocuments.Only) ?? new SettingsDocument();

    /// <summary>The shop's own texts of a moment; null where it has none.</summary>
    public LettersDocument? TextsOf(string moment) => own.TryGetValue(moment, out var known) ? known : own[moment] = Read<LettersDocument>(moment);

    private T? Read<T>(string id) where T : class, IShopDocument =>
        newest(ShopKinds.Of<T>().Name, id) is { } saved ? JsonSerializer.Deserialize<T>(saved.Document, WorkshopJson.Options) : null;
}
