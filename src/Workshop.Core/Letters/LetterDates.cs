using System.Globalization;
using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Core.Letters;

/// <summary>Days as a letter says them: with the weekday where one is to be kept, without a year that everybody knows.</summary>
public static class LetterDates
{
    /// <summary><c>Friday 23 January</c>, or <c>Freitag, 23. Januar</c>; with the year where it is not that of the letter.</summary>
    public static string Day(LocalDate day, LocalDate today, Language language, bool weekday = true)
    {
        var full = Dates.InFull(day, weekday, language);
        return day.Year == today.Year ? full[..full.LastIndexOf(' ')] : full;
    }

    /// <summary><c>by Friday 23 January, most likely around the 16th</c>.</summary>
    /// <param name="mostLikely">Null where there is nothing more to say than the promise.</param>
    public static string Promise(LocalDate by, LocalDate? mostLikely, LocalDate today, Language language)
    {
        var german = language == Language.German;
        var until = $"{(german ? "bis" : "by")} {Day(by, today, language)}";
        if (mostLikely is not { } likely)
        {
            return until;
        }

        var around = german || (likely.Year, likely.Month) != (by.Year, by.Month) ? Day(likely, today, language, weekday: false) : $"the {Ordinal(likely.Day)}";
        return german ? $"{until}, am ehesten um den {around}" : $"{until}, most likely around {around}";
    }

    private static string Ordinal(int day)
    {
        var ending = (day % 100, day % 10) switch
        {
            (11 or 12 or 13, _) => "th",
            (_, 1) => "st",
            (_, 2) => "nd",
            (_, 3) => "rd",
            _ => "th",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{day}{ending}");
    }
}
