using System.Globalization;
using NodaTime;

namespace Workshop.Core.Words;

/// <summary>Days and moments in words, from tables of our own: the program runs without the cultures of the machine.</summary>
public static class Dates
{
    private static readonly string[] EnglishDays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    private static readonly string[] GermanDays = ["Mo", "Di", "Mi", "Do", "Fr", "Sa", "So"];
    private static readonly string[] EnglishMonths = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    private static readonly string[] GermanMonths = ["Jan.", "Feb.", "März", "April", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."];

    private static readonly string[] EnglishDaysInFull = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
    private static readonly string[] GermanDaysInFull = ["Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag", "Sonntag"];

    private static readonly string[] EnglishMonthsInFull =
        ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

    private static readonly string[] GermanMonthsInFull =
        ["Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"];

    /// <summary><c>8 March 2026</c> or <c>Sunday 8 March 2026</c>; <c>8. März 2026</c> or <c>Sonntag, 8. März 2026</c>.</summary>
    public static string InFull(LocalDate day, bool weekday, Language language)
    {
        var (of, month) = ((int)day.DayOfWeek - 1, day.Month - 1);
        return language == Language.German
            ? string.Create(CultureInfo.InvariantCulture, $"{(weekday ? $"{GermanDaysInFull[of]}, " : "")}{day.Day}. {GermanMonthsInFull[month]} {day.Year}")
            : string.Create(CultureInfo.InvariantCulture, $"{(weekday ? $"{EnglishDaysInFull[of]} " : "")}{day.Day} {EnglishMonthsInFull[month]} {day.Year}");
    }

    /// <summary><c>2026-03-08</c>, or <c>8. März 2026</c>.</summary>
    public static string Day(LocalDate day, Language language) => language == Language.German
        ? string.Create(CultureInfo.InvariantCulture, $"{day.Day}. {GermanMonths[day.Month - 1]} {day.Year}")
        : string.Create(CultureInfo.InvariantCulture, $"{day.Year:0000}-{day.Month:00}-{day.Day:00}");

    /// <summary><c>Sun 8 Mar 15:00</c>, or <c>So 8. März 15:00</c>.</summary>
    public static string Moment(ZonedDateTime moment, Language language)
    {
        var weekday = (int)moment.DayOfWeek - 1;
        var month = moment.Month - 1;
        return language == Language.German
            ? string.Create(CultureInfo.InvariantCulture, $"{GermanDays[weekday]} {moment.Day}. {GermanMonths[month]} {moment.Hour:00}:{moment.Minute:00}")
            : string.Create(CultureInfo.InvariantCulture, $"{EnglishDays[weekday]} {moment.Day} {EnglishMonths[month]} {moment.Hour:00}:{moment.Minute:00}");
    }
}

/// <summary>A day as a part of a sentence that may be read aloud.</summary>
/// <param name="Weekday">Whether its weekday is named.</param>
public sealed record Spoken(LocalDate Day, bool Weekday = false);
