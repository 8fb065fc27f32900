using CsCheck;
using Workshop.Core.Search;

namespace Workshop.Tests.Core.Search;

public class TrigramsTests
{
    [Fact]
    public void A_word_is_taken_apart_with_its_beginning_and_its_end() =>
        Assert.Equal([" ma", "mar", "arl", "rlo", "low", "ow "], Trigrams.OfWords(FoldedText.Words("Marlow")).AsEnumerable());

    [Fact]
    public void The_order_of_words_does_not_matter_and_each_gram_is_there_once() =>
        Assert.Equal(Trigrams.OfWords(FoldedText.Words("Ida Marlow")).Order(), Trigrams.OfWords(FoldedText.Words("MARLOW, ida ida")).Order());

    [Fact]
    public void Every_part_of_a_number_shares_all_its_grams_with_it() => Gen.String[Gen.Char["0123456789ABC"], 3, 12].Sample(number =>
    {
        var whole = Trigrams.OfNumber(number).ToHashSet();
        for (var from = 0; from < number.Length; from++)
        {
            for (var through = from; through <= number.Length; through++)
            {
                Assert.Subset(whole, Trigrams.OfNumber(number[from..through]).ToHashSet());
            }
        }
    });

    [Theory]
    [InlineData(null)]
    [InlineData("12")]
    public void A_short_number_has_none(string? number) => Assert.Empty(Trigrams.OfNumber(number));
}
