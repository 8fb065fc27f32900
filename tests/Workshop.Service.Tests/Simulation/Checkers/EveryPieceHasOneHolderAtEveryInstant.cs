namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>The holdings of a piece follow one another without a gap and without a moment in two hands; the last one is open.</summary>
internal sealed class EveryPieceHasOneHolderAtEveryInstant : IChecker
{
    private const string HoldingsSql = """
        select thing, holder, from_at, until_at
        from holding
        where site = @site
          and thing not like 'cages/%'
        order by thing, from_at, coalesce(until_at, 9223372036854775807)
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence) => evidence.Rows<Held>(HoldingsSql).GroupBy(held => held.Thing).SelectMany(FaultsOf);

    private static IEnumerable<string> FaultsOf(IGrouping<string, Held> thing)
    {
        var held = thing.ToArray();
        foreach (var one in held.Where(one => one.UntilAt < one.FromAt))
        {
            yield return $"{thing.Key} was with {one.Holder} until before it came there.";
        }

        foreach (var (one, next) in held.Zip(held.Skip(1)))
        {
            if (one.UntilAt != next.FromAt)
            {
                yield return $"{thing.Key} was with {one.Holder} until {one.UntilAt}, and with {next.Holder} from {next.FromAt} on.";
            }
        }

        if (held[^1].UntilAt is not null)
        {
            yield return $"{thing.Key} is with nobody.";
        }
    }

    private sealed record Held
    {
        public required string Thing { get; init; }

        public required string Holder { get; init; }

        public required long FromAt { get; init; }

        public long? UntilAt { get; init; }
    }
}
