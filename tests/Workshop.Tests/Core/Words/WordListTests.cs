using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Words;

public class WordListTests
{
    /// <summary>Enums of the rules whose members no answer and no event ever holds.</summary>
    private static readonly Type[] Inward = [typeof(Blocks), typeof(EndedBy), typeof(SentBy), typeof(Workshop.Core.Jobs.Outcome), typeof(Workshop.Core.Corrections.Fate), typeof(Language), typeof(Workshop.Core.People.Proof)];

    public static TheoryData<Type> Enums => [.. typeof(Word).Assembly.GetExportedTypes().Where(type => type.IsEnum && !Inward.Contains(type))];

    [Theory, MemberData(nameof(Enums))]
    public void Every_word_of_every_closed_list_has_a_text_in_both_languages(Type list)
    {
        var found = Assert.Single(WordLists.All, one => one.Enum == list);

        foreach (Enum member in Enum.GetValues(list))
        {
            Assert.False(string.IsNullOrWhiteSpace(WordLists.Of(member, Language.English)), $"{found.Name} {member}");
            Assert.False(string.IsNullOrWhiteSpace(WordLists.Of(member, Language.German)), $"{found.Name} {member}");
        }
    }

    [Fact]
    public void Every_list_has_a_name_of_its_own_and_every_word_stands_in_it_once()
    {
        Assert.Distinct(WordLists.All.Select(list => list.Name));
        Assert.All(WordLists.All, list => Assert.Distinct(list.Words.Select(row => row.Word)));
        Assert.All(WordLists.All.SelectMany(list => list.Words), row => Assert.False(string.IsNullOrWhiteSpace(row.English) || string.IsNullOrWhiteSpace(row.German), row.Word));
    }

    [Fact]
    public void A_hyphen_of_a_word_is_a_blank_to_people() => Assert.All(
        WordLists.All.Where(list => list.Name is "stage" or "piece" or "position").SelectMany(list => list.Words), row => Assert.Equal(row.Word.Replace('-', ' '), row.English));

    [Fact]
    public void German_words_are_those_of_the_trade()
    {
        Assert.Equal(
            ["Zerlegen", "Regulieren", "Trageprobe", "Endkontrolle", "Einschalen", "Abgabe", "Abrechnung"],
            new[] { Stage.Takedown, Stage.Regulation, Stage.WearCheck, Stage.FinalControl, Stage.Casing, Stage.HandedOver, Stage.Settlement }
                .Select(stage => WordLists.Of(stage, Language.German)));
        Assert.Equal("Rückfrage", WordLists.Of(HoldReason.Query, Language.German));
    }

    [Fact]
    public void Every_flag_an_entry_may_have_is_a_word()
    {
        var flags = typeof(EntryFlag).GetFields().Select(field => (string)field.GetRawConstantValue()!);

        Assert.Equal(flags.Order(), WordLists.All.Single(list => list.Name == "flag").Words.Select(row => row.Word).Order());
    }

    /// <summary>The six positions of ISO 3158 by the dial mark that is uppermost, for a crown at 3 o'clock (secondary sources; the standard was not read).</summary>
    [Theory]
    [InlineData("dial-up", "CH")]
    [InlineData("dial-down", "FH")]
    [InlineData("crown-up", "3H")]
    [InlineData("crown-left", "6H")]
    [InlineData("crown-down", "9H")]
    [InlineData("crown-right", "12H")]
    public void A_position_has_the_symbol_of_the_standard(string position, string symbol) =>
        Assert.Equal(symbol, WordLists.Of("positionSymbol", position, Language.German));
}
