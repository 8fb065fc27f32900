using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Cleaning;

/// <summary>A run that went through a filling.</summary>
public sealed record BatchRunView(string Run, RunState State, string Jar, Instant At, int CountsAs, bool Overridden, ImmutableArray<BatchWatch> Watches);

/// <summary>A watch whose parts were in it.</summary>
public sealed record BatchWatch(Label Job, string Group, string Cage);

/// <summary>What a filling has touched.</summary>
/// <param name="RunsInJar">Since it stands in its present jar.</param>
public sealed record BatchUses(string Batch, string? Jar, int RunsInJar, int RunsInAll, decimal? WasteLitres, ImmutableArray<BatchRunView> Runs, ImmutableArray<Label> Jobs);

/// <summary>Which runs and watches a filling has touched, the oldest first: when a lot turns out to be bad, these are to be looked at.</summary>
public static class ReadBatchRuns
{
    public static async Task<Results<Done<BatchUses>, ProblemHttpResult>> Handle(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read(connection => Find(connection, caller.Site, id), cancel) is { } uses ? Answer.Done(uses) : Problems.Of(ProblemCatalogue.NoSuchThing, "The shop has no filling of this name.");

    private static BatchUses? Find(DbConnection connection, string site, string id)
    {
        if (ShopDocuments.Newest(connection, site, ShopKinds.Of<FluidBatchDocument>().Name, id) is not { } stored)
        {
            return null;
        }

        var document = JsonSerializer.Deserialize<FluidBatchDocument>(stored.Document, WorkshopJson.Options)!;
        var batch = document.Machine is { } machine ? FluidLedger.Replay(machine, Reader.Entries(connection, site, FluidLedger.StreamOf(machine))).Find(id) : null;
        ImmutableArray<BatchRunView> runs = [.. (batch?.Uses ?? []).Select(use => Shown(use, RunStore.Read(connection, site, use.Run)))];
        return new BatchUses(
            id, document.DiscardedOn is null ? document.Jar : null, batch?.RunsInJar ?? 0, batch?.RunsInAll ?? 0, batch?.Waste, runs,
            [.. runs.SelectMany(run => run.Watches).Select(watch => watch.Job).Distinct().OrderBy(job => job.ToString(), StringComparer.Ordinal)]);
    }

    private static BatchRunView Shown(BatchUse use, Run run) => new(
        use.Run, run.State, use.Jar, use.At, use.CountsAs, use.Overridden, [.. run.Contents.Select(cage => new BatchWatch(cage.Job, cage.Group, cage.Cage))]);
}
