using System.Text;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Feeds;

/// <summary>A feed as a calendar of RFC 5545: moments in UTC, so that no zone has to be told; lines of 75 octets at most.</summary>
public static class FeedCalendar
{
    public const string MediaType = "text/calendar";

    private const string Product = "-//workshop//agenda//EN";

    /// <summary>How long something is shown to last: somebody has to look, it is no appointment.</summary>
    private const int Minutes = 15;

    public static byte[] Write(string name, IEnumerable<StoredFeedEvent> events)
    {
        var calendar = new Calendar { ProductId = Product, Method = "PUBLISH" };
        calendar.AddProperty("NAME", name);
        calendar.AddProperty(new CalendarProperty("REFRESH-INTERVAL", "PT15M") { Parameters = { new CalendarParameter("VALUE", "DURATION") } });
        foreach (var one in events.OrderBy(one => one.Starts).ThenBy(one => one.Uid, StringComparer.Ordinal))
        {
            var starts = Microseconds.Read(one.Starts);
            calendar.Events.Add(new CalendarEvent
            {
                Uid = one.Uid,
                DtStamp = Utc(Microseconds.Read(one.Stamped)),
                LastModified = Utc(Microseconds.Read(one.Stamped)),
                Start = Utc(starts),
                End = Utc(starts + NodaTime.Duration.FromMinutes(Minutes)),
                Summary = one.Line,
                Sequence = checked((int)one.Sequence),
                Status = one.Cancelled is null ? "CONFIRMED" : "CANCELLED",
                Transparency = "TRANSPARENT",
            });
        }

        return Encoding.UTF8.GetBytes(new CalendarSerializer().SerializeToString(calendar)!);
    }

    // Calendars know whole seconds.
    private static CalDateTime Utc(Instant moment) => new(Instant.FromUnixTimeSeconds(moment.ToUnixTimeSeconds()).ToDateTimeUtc(), "UTC");
}
