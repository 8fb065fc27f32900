using NodaTime;
using Workshop.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.References;

/// <summary>Published dates of Easter; sources and how sure they are: SOURCES.md, "Easter".</summary>
public class EasterTests
{
    [Theory]
    [InlineData("1818-03-22")]
    [InlineData("1943-04-25")]
    [InlineData("2008-03-23")]
    [InlineData("2010-04-04")]
    [InlineData("2011-04-24")]
    [InlineData("2012-04-08")]
    [InlineData("2013-03-31")]
    [InlineData("2014-04-20")]
    [InlineData("2015-04-05")]
    [InlineData("2016-03-27")]
    [InlineData("2017-04-16")]
    [InlineData("2018-04-01")]
    [InlineData("2019-04-21")]
    [InlineData("2024-03-31")]
    [InlineData("2025-04-20")]
    [InlineData("2026-04-05")]
    [InlineData("2027-03-28")]
    [InlineData("2028-04-16")]
    [InlineData("2029-04-01")]
    [InlineData("2030-04-21")]
    [InlineData("2038-04-25")]
    [InlineData("2285-03-22")]
    public void Easter_was_and_will_be_on_the_published_days(string sunday) =>
        Assert.Equal(Date(sunday), Easter.Sunday(Date(sunday).Year));

    [Fact]
    public void Easter_is_a_sunday_from_22_March_to_25_April()
    {
        var days = Enumerable.Range(1583, 3000).Select(Easter.Sunday).ToArray();

        Assert.All(days, day => Assert.Equal(IsoDayOfWeek.Sunday, day.DayOfWeek));
        Assert.Equal(new AnnualDate(3, 22), days.Min(Annually));
        Assert.Equal(new AnnualDate(4, 25), days.Max(Annually));
    }

    private static AnnualDate Annually(LocalDate day) => new(day.Month, day.Day);
}
