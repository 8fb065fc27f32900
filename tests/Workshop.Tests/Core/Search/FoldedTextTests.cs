using Workshop.Core.Search;

namespace Workshop.Tests.Core.Search;

public class FoldedTextTests
{
    [Theory]
    [InlineData("Müller", "Mueller")]
    [InlineData("Müller", "MULLER")]
    [InlineData("Łódź", "lodz")]
    [InlineData("Åse Sørby", "ase sorby")]
    [InlineData("Weiß", "weiss")]
    [InlineData("O'Dell", "ODELL")]
    [InlineData("O’Dell", "odell")]
    [InlineData("Æ. Đorđević", "ae dordevic")]
    [InlineData("de la Peña-Ruiz", "De La Pena Ruiz")]
    [InlineData("Çelik, Işıl", "celik isil")]
    public void A_name_is_the_same_however_it_is_typed(string one, string other) => Assert.Equal(FoldedText.Words(one).AsEnumerable(), FoldedText.Words(other).AsEnumerable());

    [Theory]
    [InlineData("Ida Marlow", "ida", "marlow")]
    [InlineData("  Marlow ,Ida ", "marlow", "ida")]
    [InlineData("J.R. 12b", "jr", "12b")]
    [InlineData("Янсен", "янсен")]
    public void Words_are_what_lies_between_signs(string text, params string[] words) => Assert.Equal(words, FoldedText.Words(text).AsEnumerable());

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData(" -%_!? ")]
    public void A_text_without_letters_and_digits_has_no_words(string? text) => Assert.Empty(FoldedText.Words(text));

    [Fact]
    public void Different_names_stay_different() =>
        Assert.Equal(5, new[] { "Muller", "Miller", "Moller", "Mullers", "Mull Er" }.Select(name => string.Join(' ', FoldedText.Words(name))).Distinct().Count());
}
