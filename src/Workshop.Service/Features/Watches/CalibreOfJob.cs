using System.Data.Common;
using System.Text.Json;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Watches;

/// <summary>What is known of the movement in a job: the kind, and the shop's own document of it where the watch names one.</summary>
/// <param name="Version">Of the document; null where there is none.</param>
public sealed record CalibreOfJob(CalibreKind Kind, string? Id, CalibreDocument? Document, long? Version)
{
    /// <summary>What the watch's own record says; it goes before the calibre's document.</summary>
    public WatchFacts? Watch { get; init; }

    public int? CrownHour => Watch?.CrownHour ?? Document?.CrownHour;

    /// <summary>What is known of the watch for a rate set, and the tolerance that judges it.</summary>
    public RateTerms RatesBy(RouteDefinition? route, ShopRules rules) => new()
    {
        Kind = Kind,
        Calibre = Id,
        LiftAngleDegrees = Watch?.Calibre?.LiftAngleDegrees ?? Document?.LiftAngleDegrees,
        VibrationsPerHour = Watch?.Calibre?.VibrationsPerHour ?? Document?.VibrationsPerHour,
        CrownHour = CrownHour,
        Clutch = Document?.Clutch,
        Tolerance = rules.ToleranceOf(route, Document?.ToleranceKind),
    };

    public TakedownTerms TermsBy(ShopRules rules) => TakedownTerms.Of(Kind, Id, Document?.Plan, rules.Takedown);

    public static CalibreOfJob Find(Turn turn, Job job) =>
        Of(job, WatchStore.Find(turn, job.Intake.Watch), () => ShopDocuments.AllOfKind(turn, ShopKinds.Of<CalibreDocument>().Name), turn.Rules);

    public static CalibreOfJob Find(DbConnection connection, string site, Job job, ShopRules rules) =>
        Of(job, WatchStore.Find(connection, site, job.Intake.Watch), () => ShopDocuments.AllOfKind(connection, site, ShopKinds.Of<CalibreDocument>().Name), rules);

    // A watch says its calibre in words. They mean a document by its id, or by its name where only one has that name.
    private static CalibreOfJob Of(Job job, StoredWatch? watch, Func<IReadOnlyList<ShopDocument>> calibres, ShopRules rules)
    {
        var facts = watch?.ReadFacts();
        var told = facts?.Calibre;
        var (stored, document) = told?.Name is { Length: > 0 } name ? Named(name.Trim(), watch!.Maker, calibres()) : default;
        var kind = job.Route?.Quartz == true ? CalibreKind.Quartz
            : told?.Kind is { } known and not CalibreKind.Unknown ? known
            : document?.Kind ?? Usual(job.Intake.Variant, rules);
        return new CalibreOfJob(kind, stored?.Id, document, stored?.Version) { Watch = facts };
    }

    private static (ShopDocument? Stored, CalibreDocument? Document) Named(string name, string? maker, IReadOnlyList<ShopDocument> calibres)
    {
        var read = calibres.Select(one => (Stored: one, Document: JsonSerializer.Deserialize<CalibreDocument>(one.Document, WorkshopJson.Options)!)).ToArray();
        var meant = read.Where(one => Same(one.Stored.Id, name)).ToArray();
        meant = meant.Length > 0 ? meant : [.. read.Where(one => Same(one.Document.Name, name) || Same($"{one.Document.Maker} {one.Document.Name}", name))];
        meant = meant.Length > 1 ? [.. meant.Where(one => Same(one.Document.Maker, maker))] : meant;
        return meant is [var only] ? only : default;
    }

    private static CalibreKind Usual(string variant, ShopRules rules) =>
        rules.UsualVariants.Where(one => one.Value == variant).Select(one => Core.Words.Word.Read<CalibreKind>(one.Key)).ToArray() is [{ } only] ? only : CalibreKind.Unknown;

    private static bool Same(string? one, string? other) => one is not null && string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
