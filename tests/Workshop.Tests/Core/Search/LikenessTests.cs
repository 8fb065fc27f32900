using CsCheck;
using Workshop.Core.Search;

namespace Workshop.Tests.Core.Search;

public class LikenessTests
{
    // Worked examples of the two distances, from memory: Levenshtein 1966 for the first two; the third is where optimal string alignment
    // (3) differs from the unrestricted distance of Damerau (2), since no part is changed twice.
    [Theory]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("saturday", "sunday", 3)]
    [InlineData("ca", "abc", 3)]
    [InlineData("marlow", "malrow", 1)]
    [InlineData("", "abc", 3)]
    [InlineData("same", "same", 0)]
    public void The_distance_counts_letters_to_change_and_neighbours_to_swap(string one, string other, int distance) =>
        Assert.Equal(distance, Likeness.Distance(one, other));

    [Fact]
    public void The_distance_is_the_same_from_either_side_and_never_more_than_the_longer_word()
    {
        var word = Gen.String[Gen.Char["abc"], 0, 8];
        Gen.Select(word, word).Sample((one, other) =>
        {
            var distance = Likeness.Distance(one, other);
            Assert.Equal(distance, Likeness.Distance(other, one));
            Assert.InRange(distance, Math.Abs(one.Length - other.Length), Math.Max(one.Length, other.Length));
            Assert.Equal(one == other, distance == 0);
        });
    }

    [Theory]
    [InlineData("Marlow", "Ida Marlow")]
    [InlineData("malrow", "Ida Marlow")]
    [InlineData("ida marlo", "Ida Marlow")]
    [InlineData("marl", "Ida Marlow")]
    [InlineData("Barlow Ida", "Ida Marlow")]
    [InlineData("Meier", "Hanna Maier")]
    [InlineData("Mueler", "Jörg Müller")]
    [InlineData("i marlow", "Ida Marlow")]
    public void A_misspelt_or_shortened_name_is_like_the_right_one(string sought, string written) =>
        Assert.InRange(Likeness.Of(FoldedText.Words(sought), FoldedText.Words(written)), Likeness.Enough, 1);

    [Theory]
    [InlineData("nobody", "Ida Marlow")]
    [InlineData("ida zimmer", "Ida Marlow")]
    [InlineData("x marlow", "Ida Marlow")]
    [InlineData("marlow", "")]
    public void Another_name_is_not(string sought, string written) =>
        Assert.InRange(Likeness.Of(FoldedText.Words(sought), FoldedText.Words(written)), 0, Likeness.Enough - 0.0001);

    [Fact]
    public void The_right_spelling_fits_better_than_a_beginning_and_that_better_than_a_slip()
    {
        double Of(string sought) => Likeness.Of(FoldedText.Words(sought), FoldedText.Words("Ida Marlow"));

        Assert.Equal(1, Of("marlow ida"));
        Assert.True(Of("marlow") > Of("marlo") && Of("marlo") > Of("marlov"));
    }
}
