using NodaTime;

namespace Workshop.Core.Words;

/// <summary>Terms and numbers of days in words.</summary>
public static class Spans
{
    /// <summary><c>24 months</c>; several units joined by "and".</summary>
    public static Phrase Of(Period term)
    {
        Phrase? said = null;
        foreach (var part in (ReadOnlySpan<Phrase?>)[Years(term.Years), Months(term.Months), Weeks(term.Weeks), term.Days == 0 ? null : Days(term.Days)])
        {
            said = part is null ? said : said is null ? part : Phrase.Of("{0} and {1}", said, part);
        }

        return said ?? Days(0);
    }

    public static Phrase Days(int days) => days == 1 ? Phrase.Of("1 day") : Phrase.Of("{0} days", days);

    private static Phrase? Years(int years) => years == 0 ? null : years == 1 ? Phrase.Of("1 year") : Phrase.Of("{0} years", years);

    private static Phrase? Months(int months) => months == 0 ? null : months == 1 ? Phrase.Of("1 month") : Phrase.Of("{0} months", months);

    private static Phrase? Weeks(int weeks) => weeks == 0 ? null : weeks == 1 ? Phrase.Of("1 week") : Phrase.Of("{0} weeks", weeks);
}
