using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Shop;

/// <summary>An open stretch of a day, from opening to closing, in the workshop's own time.</summary>
public readonly record struct OpenSpan(LocalTime Opens, LocalTime Closes);

/// <summary>Days on which the shop is shut although the week says otherwise, both ends included.</summary>
public sealed record Closure(LocalDate From, LocalDate Through, string? Reason = null);

/// <summary>
/// The shop's calendar: time zone, weekly hours, closures and extra open days. Working days are whole open days of this calendar;
/// elapsed time (wear) never goes through it.
/// </summary>
public sealed partial class ShopCalendar
{
    public ShopCalendar(
        DateTimeZone zone,
        IReadOnlyDictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> week,
        IEnumerable<Closure>? closures = null,
        IReadOnlyDictionary<LocalDate, ImmutableArray<OpenSpan>>? extraOpenDays = null)
    {
        Zone = zone;
        Week = week.ToFrozenDictionary();
        Closures = [.. closures ?? []];
        ExtraOpenDays = (extraOpenDays ?? new Dictionary<LocalDate, ImmutableArray<OpenSpan>>()).ToFrozenDictionary();
    }

    public DateTimeZone Zone { get; }

    public FrozenDictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> Week { get; }

    public ImmutableArray<Closure> Closures { get; }

    public FrozenDictionary<LocalDate, ImmutableArray<OpenSpan>> ExtraOpenDays { get; }
}
