using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage.Shop;

/// <summary>When the shop is open: zone, weekly hours, closures, public holidays of its region and its own, extra open days.</summary>
public sealed record CalendarDocument : IShopDocument
{
    /// <summary>Whole years before the year of saving whose holidays are kept.</summary>
    public const int YearsBack = 2;

    /// <summary>Whole years after the year of saving whose holidays are kept.</summary>
    public const int YearsAhead = 10;

    private const int SpansOfADayAtMost = 6;
    private const int ExtraOpenDaysAtMost = 1_000;

    private static readonly LocalDate Earliest = new(2000, 1, 1);
    private static readonly LocalDate Latest = new(2199, 12, 31);

    /// <summary>
    /// An identifier of the IANA time zone database, for example <c>Europe/Zurich</c>. Left out in a PUT, the zone in force stays. A
    /// document that was saved before there was this member is read with the zone its site was set up with.
    /// </summary>
    [StringLength(60, MinimumLength = 1)]
    public string? TimeZone { get; init; }

    /// <summary>Hours by day of the week, <c>monday</c> to <c>sunday</c>, up to six stretches a day; a day that is left out is shut.</summary>
    public required Dictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> Week { get; init; }

    /// <summary>Days on which the shop is shut although the week says otherwise, both ends included.</summary>
    [Length(0, 500)]
    public ImmutableArray<Closure> Closures { get; init; } = [];

    /// <summary>Dates with hours of their own; they stand over the week, over closures and over holidays.</summary>
    public Dictionary<LocalDate, ImmutableArray<OpenSpan>> ExtraOpenDays { get; init; } = [];

    public HolidayChoice PublicHolidays { get; init; } = HolidayChoice.None;

    /// <summary>
    /// The days that come of <see cref="PublicHolidays"/>, as they were computed when this version was saved. What is sent here is
    /// ignored and computed anew, so that a calendar that was read may be edited and sent back.
    /// </summary>
    [Length(0, 3_000)]
    public ImmutableArray<Holiday> Holidays { get; init; } = [];

    /// <summary>The first day of the years whose holidays were computed. Ignored when it is sent.</summary>
    public LocalDate? ResolvedFrom { get; init; }

    /// <summary>
    /// The last day of the years whose holidays were computed. A date that is counted beyond it, for a shop with a region, is counted
    /// without holidays; its entry has the flag <c>beyond-calendar</c>. Ignored when it is sent.
    /// </summary>
    public LocalDate? ResolvedThrough { get; init; }

    /// <summary>The calendar as dates are counted by it.</summary>
    /// <param name="ofTheSite">The zone of a document that names none.</param>
    public ShopCalendar ToCalendar(DateTimeZone ofTheSite) => new(
        TimeZone is { } zone ? DateTimeZoneProviders.Tzdb[zone] : ofTheSite, Week, Closures, ExtraOpenDays, Holidays,
        PublicHolidays.Region is null ? null : ResolvedThrough);

    /// <summary>The last day that holidays are computed for on a day.</summary>
    public static LocalDate ResolvesThrough(LocalDate today) => new(today.Year + YearsAhead, 12, 31);

    /// <summary>The same with its holidays computed for the years about a day.</summary>
    public CalendarDocument ResolvedOn(LocalDate today)
    {
        var from = new LocalDate(today.Year - YearsBack, 1, 1);
        var through = ResolvesThrough(today);
        var days = new SortedDictionary<LocalDate, string>();
        if (PublicHolidays.Region is { } region)
        {
            foreach (var day in HolidayRegions.DatesOf(region, from.Year, through.Year).Where(day => !PublicHolidays.Without.Contains(day.Date)))
            {
                days[day.Date] = day.Name;
            }
        }

        foreach (var own in PublicHolidays.Own.Where(own => from <= own.Date && own.Date <= through))
        {
            days[own.Date] = own.Name;
        }

        return this with { Holidays = [.. days.Select(day => new Holiday(day.Key, day.Value))], ResolvedFrom = from, ResolvedThrough = through };
    }

    /// <summary>The same as it is saved: with its zone, and its holidays computed.</summary>
    public CalendarDocument CompletedBy(DocumentCheck check) => ResolvedOn(check.Today) with { TimeZone = TimeZone ?? check.Rules.Calendar.Zone.Id };

    IShopDocument IShopDocument.Completed(DocumentCheck check) => CompletedBy(check);

    /// <summary>What the owner should know of the region's holidays: through when they are computed, and what is in doubt about them.</summary>
    public IEnumerable<string> Remarks()
    {
        if (PublicHolidays.Region is not { } id || HolidayRegions.Find(id) is not { } region)
        {
            yield break;
        }

        yield return $"The public holidays of {region.Name} are computed from {ResolvedFrom:uuuu-MM-dd} through {ResolvedThrough:uuuu-MM-dd}; GET /v1/calendar shows each of them.";
        if (region.Disagreement is { } disagreement)
        {
            yield return $"{region.Name}: {disagreement}";
        }
    }

    public IEnumerable<Fault> Faults(DocumentCheck check) =>
    [
        .. TimeZone is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null
            ? [new Fault("/timeZone", "The IANA time zone database has no such zone; one it has is Europe/Zurich")]
            : Array.Empty<Fault>(),
        .. Limits(),
        .. OwnFaults(check.Today),
        .. CalendarFaults.Of(Week, Closures, ExtraOpenDays, Dates(check.Today).Contains),
    ];

    private HashSet<LocalDate> Dates(LocalDate today) =>
        PublicHolidays.Region is { } region && HolidayRegions.Find(region) is null ? [] : [.. ResolvedOn(today).Holidays.Select(day => day.Date)];

    private IEnumerable<Fault> Limits()
    {
        foreach (var (day, hours) in Week.OrderBy(day => day.Key).Where(day => day.Value.Length > SpansOfADayAtMost))
        {
            yield return new Fault($"/week/{Core.Words.Word.Of(day)}", $"A day has at most {SpansOfADayAtMost} stretches, not {hours.Length}");
        }

        foreach (var (at, closure) in Closures.Index())
        {
            if (Unlikely(closure.From))
            {
                yield return new Fault($"/closures/{at}/from", NotThatFar);
            }

            if (Unlikely(closure.Through))
            {
                yield return new Fault($"/closures/{at}/through", NotThatFar);
            }

            if (closure.Reason is { } reason && reason.Length is 0 or > 200)
            {
                yield return new Fault($"/closures/{at}/reason", "This has to have 1 to 200 characters");
            }
        }

        if (ExtraOpenDays.Count > ExtraOpenDaysAtMost)
        {
            yield return new Fault("/extraOpenDays", $"These are more than {ExtraOpenDaysAtMost} days");
        }

        foreach (var (day, hours) in ExtraOpenDays.OrderBy(day => day.Key))
        {
            if (Unlikely(day))
            {
                yield return new Fault($"/extraOpenDays/{day:uuuu-MM-dd}", NotThatFar);
            }
            else if (hours.Length > SpansOfADayAtMost)
            {
                yield return new Fault($"/extraOpenDays/{day:uuuu-MM-dd}", $"A day has at most {SpansOfADayAtMost} stretches, not {hours.Length}");
            }
        }
    }

    private IEnumerable<Fault> OwnFaults(LocalDate today)
    {
        var choice = PublicHolidays;
        if (choice.Region is { } region && HolidayRegions.Find(region) is null)
        {
            yield return new Fault("/publicHolidays/region", $"No holidays are known for this region; known are {string.Join(", ", HolidayRegions.All.Select(one => one.Id))}");
        }

        var through = ResolvesThrough(today);
        foreach (var (at, own) in choice.Own.Index())
        {
            // Days of years gone by stay where they are: the calendar of a later year is edited from them.
            if (own.Date < Earliest || own.Date > through)
            {
                yield return new Fault($"/publicHolidays/own/{at}/date", $"This day is not from {Earliest:uuuu-MM-dd} through {through:uuuu-MM-dd}, the years that holidays are kept for");
            }
            else if (choice.Own.Take(at).Any(earlier => earlier.Date == own.Date))
            {
                yield return new Fault($"/publicHolidays/own/{at}/date", "This day is there twice");
            }

            if (own.Name.Length is 0 or > 100)
            {
                yield return new Fault($"/publicHolidays/own/{at}/name", "This has to have 1 to 100 characters");
            }
        }

        foreach (var (at, _) in choice.Without.Index().Where(one => choice.Own.Any(own => own.Date == one.Item)))
        {
            yield return new Fault($"/publicHolidays/without/{at}", "This day is one of the shop's own, too; it cannot be both");
        }
    }

    private static bool Unlikely(LocalDate day) => day < Earliest || day > Latest;

    private static string NotThatFar => $"This day is not from {Earliest:uuuu-MM-dd} through {Latest:uuuu-MM-dd}";
}

/// <summary>Which public holidays the shop keeps. Its own list wins over the region's.</summary>
public sealed record HolidayChoice
{
    public static readonly HolidayChoice None = new();

    /// <summary>ISO 3166-2, for example <c>DE-BW</c>, or <c>TARGET</c> for the days on which payments between banks rest; left out, the shop's own days are all.</summary>
    [StringLength(10, MinimumLength = 1)]
    public string? Region { get; init; }

    /// <summary>Days that are added, or that are called otherwise here.</summary>
    [Length(0, 500)]
    public ImmutableArray<Holiday> Own { get; init; } = [];

    /// <summary>Days of the region on which this shop is open as usual.</summary>
    [Length(0, 500)]
    public ImmutableArray<LocalDate> Without { get; init; } = [];
}
