using Workshop.Core.Journal;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>Of what devices were told, everything is there exactly once and as they were told; and nothing is there that no device has said.</summary>
internal sealed class WhatWasAcknowledgedIsThereOnce : IChecker
{
    private const string ReceivedSql = """
        select source, id, state, '' as disposition, '' as flags, '' as data, position
        from received
        where site = @site
        """;

    private const string JournalSql = """
        select source, id, '' as state, disposition, flags, data, position
        from journal
        where site = @site
          and sequence is not null
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence)
    {
        var received = evidence.Rows<Row>(ReceivedSql).ToDictionary(row => row.Identity);
        var journal = evidence.Rows<Row>(JournalSql).ToLookup(row => row.Identity);
        foreach (var (id, told) in evidence.Told.Verdicts)
        {
            var entries = journal[id].ToArray();
            var state = received.GetValueOrDefault(id)?.State;
            var agrees = told.Outcome switch
            {
                "accepted" => entries is [{ Disposition: "applied" }] && state == "accepted",
                "noted" => entries is [{ Disposition: "noted" }] && state == "accepted",
                _ => entries is [] && state == "refused",
            };
            if (!agrees)
            {
                yield return $"{id} was told '{told.Outcome}'; it is received as '{state}' and stands in the journal {entries.Length} times ({string.Join(", ", entries.Select(entry => entry.Disposition))}).";
            }
            else if (entries is [{ } entry] && (entry.Flags != told.Flags || entry.Position != received[id].Position))
            {
                yield return $"{id} was told the flags '{told.Flags}'; its entry {entry.Position} has '{entry.Flags}', and was received as {received[id].Position}.";
            }
        }

        foreach (var id in evidence.Told.Waiting.Where(id => !received.ContainsKey(id)))
        {
            yield return $"{id} was told to wait, and is not there.";
        }

        foreach (var id in evidence.Told.TurnedAway.Where(journal.Contains))
        {
            yield return $"{id} was turned away, and stands in the journal.";
        }

        foreach (var entry in journal.SelectMany(rows => rows))
        {
            if (!evidence.Told.Said.TryGetValue(entry.Identity, out var said))
            {
                yield return $"{entry.Identity} was never said.";
            }
            else if (said.Data != entry.Data)
            {
                yield return $"{entry.Identity} was said as {said.Data} and is kept as {entry.Data}.";
            }
        }
    }

    private sealed record Row
    {
        public required string Source { get; init; }

        public required string Id { get; init; }

        public required string State { get; init; }

        public required string Disposition { get; init; }

        public required string Flags { get; init; }

        public required string Data { get; init; }

        public long? Position { get; init; }

        public EventId Identity => new(Source, Id);
    }
}
