using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.WearChecks;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Jobs in which a check after wear is running: each has its row on the agenda, a paused one too.</summary>
public static class RunningChecks
{
    private const string JobsSql = """
        select distinct stream
        from agenda
        where site = @site
          and kind = 'wear-check'
        order by stream
        """;

    private const string JobStream = "job/";

    public static IReadOnlyList<Label> Of(Turn turn) => [.. turn.Query<string>(JobsSql, new { site = turn.Site }).Select(LabelOf)];

    public static async Task<IReadOnlyList<Label>> Of(Reader reader, string site, CancellationToken cancel) =>
        [.. (await reader.Query<string>(JobsSql, new { site }, cancel)).Select(LabelOf)];

    /// <summary>The job whose running check names a place of the winder.</summary>
    public static Label? WornAt(Turn turn, string place) =>
        Of(turn).Select(label => turn.History(label)?.Job).OfType<Job>().Where(job => Is(job.WearChecks.Running?.WinderPlace, place)).Select(job => (Label?)job.Label).FirstOrDefault();

    /// <summary>Where a job's watch is worn.</summary>
    public static WornAtPlace? PlaceOf(Job job, ShopCalendar calendar) => job.WearChecks.Running is { WinderPlace: { } place } running
        ? new WornAtPlace(place, job.Label, running.Due is { } due ? calendar.NextOpening(due) : null)
        : null;

    public static bool Is(string? one, string? other) => one is not null && string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    private static Label LabelOf(string stream) => Label.Read(stream[JobStream.Length..]);
}
