namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>An event is judged once; whoever sends it again is told the same in every word.</summary>
internal sealed class OneEventHasOneVerdict : IChecker
{
    // Verdicts that came after waiting are numbered for the device that asks for them: 1, 2, 3 …
    private const string OutcomesSql = """
        select received.source || ': verdicts given later are numbered up to ' || max(received.outcome) || ', there are ' || count(received.outcome) || ', and ' || coalesce(max(source.outcomes), 0) || ' are remembered'
        from received
        left join source on source.site = received.site
                        and source.source = received.source
        where received.site = @site
          and received.outcome is not null
        group by received.source
        having max(received.outcome) <> count(received.outcome)
            or max(received.outcome) <> coalesce(max(source.outcomes), 0)
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence) => [.. evidence.Told.Contradictions, .. evidence.Rows<string>(OutcomesSql)];
}
