using Workshop.Core.Sources;

namespace Workshop.Tests.Core.Sources;

public class SequenceBookTests
{
    [Fact]
    public void A_source_seen_for_the_first_time_begins_at_one()
    {
        Assert.False(SequenceBook.New.MustWait(1));
        Assert.True(SequenceBook.New.MustWait(2));
    }

    [Fact]
    public void A_lower_number_is_late_and_changes_nothing()
    {
        var book = SequenceBook.New.Judged(1).Judged(2);

        Assert.Same(book, book.Judged(1));
        Assert.False(book.MustWait(1));
    }

    [Fact]
    public void After_a_gap_the_number_after_the_highest_judged_is_expected()
    {
        var book = SequenceBook.New.Judged(1).Judged(14);

        Assert.Equal(15, book.Next);
        Assert.False(book.MustWait(13));
    }

    [Fact]
    public void Numbers_that_never_come_are_stepped_over_when_their_turn_comes()
    {
        var book = SequenceBook.New.Without(3, 4).Without(6, 6);

        Assert.Equal(1, book.Next);
        Assert.Equal(2, book.Judged(1).Next);
        Assert.Equal(5, book.Judged(1).Judged(2).Next);
        Assert.Equal(7, book.Judged(1).Judged(2).Judged(5).Next);
        Assert.Empty(book.Judged(1).Judged(2).Judged(5).NotAwaited);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Whatever_the_order_in_which_numbers_are_struck_out_the_same_is_left(int seed)
    {
        var chance = new Random(seed);
        for (var round = 0; round < 200; round++)
        {
            var struck = Enumerable.Range(0, chance.Next(1, 8)).Select(_ => (From: chance.NextInt64(1, 20), Length: chance.NextInt64(0, 5))).Select(one => (one.From, To: one.From + one.Length)).ToArray();
            var all = struck.SelectMany(one => Enumerable.Range((int)one.From, (int)(one.To - one.From + 1))).ToHashSet();
            var first = Enumerable.Range(1, 40).First(number => !all.Contains(number));

            var book = struck.Aggregate(SequenceBook.New, (so, one) => so.Without(one.From, one.To));
            var other = struck.Reverse().Aggregate(SequenceBook.New, (so, one) => so.Without(one.From, one.To));

            Assert.Equal(first, book.Next);
            Assert.Equal((book.Next, string.Join(' ', book.NotAwaited)), (other.Next, string.Join(' ', other.NotAwaited)));
            Assert.Equal(all.Where(number => number > first).Order(), book.NotAwaited.SelectMany(range => Enumerable.Range((int)range.From, (int)(range.To - range.From + 1))).Distinct());
        }
    }
}
