using System.Text.Json;
using NodaTime;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Tasks;

/// <summary>
/// Once a year another year of public holidays is computed, for shops that follow a region, and saved as a new version of the calendar.
/// Asked every night: whoever comes second finds the year there already.
/// </summary>
public sealed partial class ResolveHolidays(IClock clock, AgendaStore store, Writer writer, ILogger<ResolveHolidays> log)
{
    public Task Run(CancellationToken cancel) => Run(clock.GetCurrentInstant(), cancel);

    /// <param name="now">The day from which ten years are to lie ahead; tests choose it.</param>
    public async Task Run(Instant now, CancellationToken cancel)
    {
        foreach (var site in await store.Sites(cancel))
        {
            if (await writer.Turn(site, turn => Resolve(turn, now), cancel) is { } through)
            {
                Resolved(site, through);
            }
        }
    }

    /// <returns>The last day whose holidays are known now; null where nothing had to be done.</returns>
    private static LocalDate? Resolve(Turn turn, Instant now)
    {
        var today = turn.Rules.Calendar.DateOf(now);
        if (ShopDocuments.Newest(turn, ShopRulesReader.Calendar) is not { } stored)
        {
            return null;
        }

        // The rules of warranty may follow a region that the calendar does not.
        var calendar = JsonSerializer.Deserialize<CalendarDocument>(stored.Document, WorkshopJson.Options)!;
        if ((calendar.PublicHolidays.Region is null && !turn.Rules.PublicHolidays.Keys.Any(region => HolidayRegions.Find(region) is not null))
            || calendar.ResolvedThrough >= CalendarDocument.ResolvesThrough(today))
        {
            return null;
        }

        // A region that a later release knows no more keeps the days it had.
        if (calendar.PublicHolidays.Region is { } followed && HolidayRegions.Find(followed) is null)
        {
            return null;
        }

        var resolved = calendar.ResolvedOn(today);
        ShopDocuments.Put(turn, ShopRulesReader.Calendar, ShopDocuments.Only, JsonSerializer.Serialize(resolved, WorkshopJson.Stored));
        return resolved.ResolvedThrough;
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "The public holidays of {Site} are known through {Through} now.")]
    private partial void Resolved(string site, LocalDate through);
}
