namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>When everything has waited long enough nothing waits: every event that was said has its verdict.</summary>
internal sealed class NothingWaitsForEver : IChecker
{
    private const string HeldSql = """
        select source || '#' || id
        from received
        where site = @site
          and state = 'held'
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence) => !evidence.IsTheEnd ? [] :
    [
        .. evidence.Rows<string>(HeldSql).Select(held => $"{held} still waits."),
        .. evidence.Told.Waiting.Where(id => !evidence.Told.Verdicts.ContainsKey(id)).Select(id => $"{id} was told to wait, and never what became of it."),
    ];
}
