using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Cleaning;

/// <summary>What stands in a jar.</summary>
/// <param name="Batch">Null where nobody has told of a filling.</param>
/// <param name="RunsLeft">Runs that may still start.</param>
/// <param name="UsedUp">The next run is refused, or goes once more by name.</param>
/// <param name="Warn">It is near its end, by runs or by days.</param>
public sealed record JarView(
    string Jar, string Fluid, string? Batch, int Runs, int RunsInAll, int LastRun, int RunsLeft, LocalDate? FilledOn, LocalDate? GoodThrough, bool Warn, bool UsedUp, bool OverrideUsed);

/// <summary>The fluids of a machine.</summary>
/// <param name="Next">What to change, in the order in which it is done.</param>
/// <param name="WasteLitres">Thrown away since the machine is kept here.</param>
public sealed record FluidsView(string Machine, Instant? StoppedAt, string? StopReason, ImmutableArray<JarView> Jars, ImmutableArray<string> Next, decimal WasteLitres);

/// <summary>What stands in the jars of a machine and what to do about it.</summary>
public static class ReadFluids
{
    public static async Task<Results<Done<FluidsView>, ProblemHttpResult>> Handle(string id, LanguageAsked language, Caller caller, Reader reader, IClock clock, CancellationToken cancel) =>
        await reader.Read(connection => Find(connection, caller.Site, id, clock.GetCurrentInstant(), language.Best), cancel) is { } view
            ? Answer.Done(view)
            : Problems.Of(ProblemCatalogue.NoSuchThing, "The shop has no such machine.");

    private static FluidsView? Find(DbConnection connection, string site, string id, Instant now, Language language)
    {
        var rules = ShopRulesReader.Read(connection, site);
        if (!rules.CleaningRoom.Machines.TryGetValue(id, out var machine))
        {
            return null;
        }

        var ledger = FluidLedger.Replay(id, Reader.Entries(connection, site, FluidLedger.StreamOf(id)));
        var today = rules.Calendar.DateOf(now);
        ImmutableArray<JarView> jars = [.. JarsOf(connection, site, machine, ledger, rules, today)];
        return new FluidsView(id, ledger.StoppedAt, ledger.StopReason, jars, [.. FluidRotation.Next(jars.Select(jar => new JarState(jar.Jar, jar.Batch is not null, jar.Warn || jar.UsedUp))).Select(one => one.In(language))], ledger.Batches.Sum(batch => batch.Waste ?? 0));
    }

    internal static IEnumerable<JarView> JarsOf(DbConnection connection, string site, CleaningMachine machine, FluidLedger ledger, ShopRules rules, LocalDate today)
    {
        var filled = ShopDocuments.AllOfKind(connection, site, ShopKinds.Of<FluidBatchDocument>().Name)
            .Select(one => (one.Id, Batch: JsonSerializer.Deserialize<FluidBatchDocument>(one.Document, WorkshopJson.Options)!))
            .Where(one => one.Batch.Machine == machine.Id && one.Batch.DiscardedOn is null)
            .OrderBy(one => one.Batch.FilledOn)
            .ToArray();
        foreach (var (jar, kind) in machine.Jars)
        {
            var runs = rules.Cleaning.RunsIn(jar);
            var life = rules.Agenda.LifeIn(jar);
            var (id, batch) = filled.LastOrDefault(one => one.Batch.Jar == jar);
            var counted = id is null ? null : ledger.Find(id);
            var had = counted?.RunsInJar ?? 0;
            LocalDate? last = batch is null ? null : batch.FilledOn.PlusDays(life.LastDays);
            yield return new JarView(
                jar, batch?.Fluid ?? kind.Fluid, id, had, counted?.RunsInAll ?? 0, runs.LastRun, Math.Max(0, runs.LastRun - had), batch?.FilledOn, last,
                Warn: batch is not null && (had >= runs.WarnRuns || today >= batch.FilledOn.PlusDays(life.WarnDays)),
                UsedUp: batch is not null && (had >= runs.LastRun || today > last),
                OverrideUsed: counted?.OverrideUsed == true);
        }
    }
}
