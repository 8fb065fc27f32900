namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>Whatever a device's clock did: what it said first happened first.</summary>
internal sealed class TimesNeverRunAgainstNumbers : IChecker
{
    // An entry that took another's place stands at that one's time, which says nothing about its own number.
    private const string RunningBackSql = """
        select source || ' ' || sequence || ' at ' || effective || ' comes before its number ' || below || ' at ' || before
        from (
            select source, sequence, effective,
                   lag(sequence) over (partition by source order by sequence, position) as below,
                   lag(effective) over (partition by source order by sequence, position) as before
            from journal
            where site = @site
              and sequence is not null
              and order_sequence = sequence
        ) as told
        where effective < before
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence) => evidence.Rows<string>(RunningBackSql);
}
