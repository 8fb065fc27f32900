using System.Collections.Immutable;
using System.Text.Json;
using Workshop.Core.Cleaning;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Jobs;

/// <summary>What stands in the jars of a machine: the shop's own documents say which batch, the machine's stream how often it was used.</summary>
internal static class JarsOf
{
    /// <summary>The fillings a programme goes through; jars nobody keeps a batch of are left out.</summary>
    public static ImmutableArray<JarFilling> Programme(Turn turn, string machine, Programme programme) =>
        [.. Machine(turn, machine).Where(filling => programme.Jars.Contains(filling.Jar))];

    /// <summary>Every jar of a machine in which a batch stands, by name.</summary>
    public static ImmutableArray<JarFilling> Machine(Turn turn, string machine)
    {
        var ledger = RunTable.Fluids(turn, machine);
        return
        [
            .. Batches(turn)
                .Where(one => one.Batch.Machine == machine && one.Batch.DiscardedOn is null)
                .OrderBy(one => one.Batch.FilledOn)
                .GroupBy(one => one.Batch.Jar, StringComparer.Ordinal)
                .Select(jar => jar.Last())
                .Select(one => new JarFilling(one.Batch.Jar, one.Batch.Fluid, one.Batch.FilledOn, ledger.Find(one.Id) ?? new FluidBatch { Id = one.Id }))
                .OrderBy(one => one.Jar, StringComparer.Ordinal),
        ];
    }

    /// <summary>Every batch as the shop's documents have it.</summary>
    public static IEnumerable<(string Id, FluidBatchDocument Batch)> Batches(Turn turn) =>
        ShopDocuments.AllOfKind(turn, ShopKinds.Of<FluidBatchDocument>().Name).Select(one => (one.Id, JsonSerializer.Deserialize<FluidBatchDocument>(one.Document, WorkshopJson.Options)!));
}
