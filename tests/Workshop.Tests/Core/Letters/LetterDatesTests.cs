using NodaTime;
using Workshop.Core.Letters;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Letters;

public class LetterDatesTests
{
    private static readonly LocalDate Today = new(2026, 1, 5);

    [Theory]
    [InlineData("2026-01-23", "2026-01-16", "by Friday 23 January, most likely around the 16th", "bis Freitag, 23. Januar, am ehesten um den 16. Januar")]
    [InlineData("2026-02-02", "2026-01-28", "by Monday 2 February, most likely around 28 January", "bis Montag, 2. Februar, am ehesten um den 28. Januar")]
    [InlineData("2026-01-23", null, "by Friday 23 January", "bis Freitag, 23. Januar")]
    [InlineData("2027-01-22", "2027-01-21", "by Friday 22 January 2027, most likely around the 21st", "bis Freitag, 22. Januar 2027, am ehesten um den 21. Januar 2027")]
    public void A_promise_is_said_in_words_with_no_more_than_is_needed(string by, string? likely, string english, string german)
    {
        Assert.Equal(english, LetterDates.Promise(Day(by), likely is null ? null : Day(likely), Today, Language.English));
        Assert.Equal(german, LetterDates.Promise(Day(by), likely is null ? null : Day(likely), Today, Language.German));
    }

    [Theory]
    [InlineData(1, "1st")]
    [InlineData(2, "2nd")]
    [InlineData(3, "3rd")]
    [InlineData(4, "4th")]
    [InlineData(11, "11th")]
    [InlineData(12, "12th")]
    [InlineData(13, "13th")]
    [InlineData(22, "22nd")]
    public void Days_of_a_month_are_counted_as_people_do(int day, string said) =>
        Assert.EndsWith($"around the {said}", LetterDates.Promise(new LocalDate(2026, 1, 30), new LocalDate(2026, 1, day), Today, Language.English));

    private static LocalDate Day(string text) => NodaTime.Text.LocalDatePattern.Iso.Parse(text).Value;
}
