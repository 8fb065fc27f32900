namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>From the moment a cage is loaded until it is scanned empty it is one watch's and one group's, and nobody else's in between.</summary>
internal sealed class NoCageHoldsTwoGroups : IChecker
{
    private const string CagesSql = """
        select thing, job, holder, run, from_at, until_at
        from holding
        where site = @site
          and thing like 'cages/%'
        order by thing, from_at, coalesce(until_at, 9223372036854775807)
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence) => evidence.Rows<Held>(CagesSql).GroupBy(held => held.Thing).SelectMany(FaultsOf);

    private static IEnumerable<string> FaultsOf(IGrouping<string, Held> cage)
    {
        var held = cage.ToArray();
        foreach (var (one, next) in held.Zip(held.Skip(1)))
        {
            if (one.UntilAt is not { } until || until > next.FromAt)
            {
                yield return $"{cage.Key} holds {one.Holder} of {one.Job} until {one.UntilAt}, and {next.Holder} of {next.Job} from {next.FromAt} on.";
            }
        }

        foreach (var one in held.Where(one => one.UntilAt < one.FromAt || one.Run is null))
        {
            yield return $"{cage.Key} was emptied of {one.Job} before it was loaded, or for no run.";
        }
    }

    private sealed record Held
    {
        public required string Thing { get; init; }

        public required string Job { get; init; }

        public required string Holder { get; init; }

        public string? Run { get; init; }

        public required long FromAt { get; init; }

        public long? UntilAt { get; init; }
    }
}
