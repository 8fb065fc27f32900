using CsCheck;
using Workshop.Core.Labels;

namespace Workshop.Tests.Core.Labels;

public class LabelTests
{
    private static readonly LabelKind[] Kinds = Enum.GetValues<LabelKind>();

    private static readonly Gen<Label> Any = Gen.Select(Gen.Int[0, Kinds.Length - 1], Gen.Int[0, 28].Array[6])
        .Select((kind, free) => Label.Complete(Kinds[kind], free));

    [Fact]
    public void The_weights_differ_modulo_29_from_each_other_and_from_zero()
    {
        // Two characters a, b exchanged at the places i, j change the sum by (i − j)(b − a); one character changed at i, by i times
        // the difference. Neither is 0 modulo a prime unless a factor is: so no such error passes, whatever the label.
        var factors = Enumerable.Range(1, Label.Length).Concat(
            from i in Enumerable.Range(1, Label.Length) from j in Enumerable.Range(1, Label.Length) where i > j select i - j);
        var differences = Enumerable.Range(1, Label.Alphabet.Length - 1).ToArray();

        Assert.Equal(29, Label.Alphabet.Distinct().Count());
        Assert.All(factors, factor => Assert.All(differences, difference => Assert.NotEqual(0, factor * difference % 29)));
    }

    [Fact]
    public void Every_wrong_character_is_refused() =>
        Any.Sample(
            label =>
            {
                var text = label.ToString();
                return Enumerable.Range(0, Label.Length).All(place => Label.Alphabet.Where(other => other != text[place])
                    .All(other => !Label.TryRead(text[..place] + other + text[(place + 1)..], out _)));
            },
            iter: 1000);

    [Fact]
    public void Every_exchange_of_two_characters_is_refused() =>
        Any.Sample(label =>
        {
            var text = label.ToString();
            return Enumerable.Range(0, Label.Length).All(i => Enumerable.Range(i + 1, Label.Length - i - 1).Where(j => text[i] != text[j]).All(j =>
            {
                var exchanged = text.ToCharArray();
                (exchanged[i], exchanged[j]) = (exchanged[j], exchanged[i]);
                return !Label.TryRead(new string(exchanged), out _);
            }));
        });

    [Fact]
    public void A_completed_label_reads_back_as_itself_with_its_kind() =>
        Gen.Select(Gen.Int[0, Kinds.Length - 1], Gen.Int[0, 28].Array[6]).Sample((kind, free) =>
        {
            var label = Label.Complete(Kinds[kind], free);

            return Label.Read(label.ToString()) == label
                && label.Kind == Kinds[kind]
                && label.ToString()[1..7] == new string([.. free.Select(place => Label.Alphabet[place])]);
        });

    [Fact]
    public void A_label_worked_by_hand_is_completed_with_the_right_character()
    {
        // J has the value 16 and the weight 1; six times 2 adds nothing; 16 + 8 × 27 = 232 = 8 × 29, and 27 is X.
        Assert.Equal("J222222X", Label.Complete(LabelKind.Job, [0, 0, 0, 0, 0, 0]).ToString());
    }

    [Fact]
    public void Lower_case_blanks_hyphens_and_Z_for_Y_are_read() =>
        Any.Sample(label =>
        {
            var text = label.ToString();
            string[] typed = [text.ToLowerInvariant(), $" {text[..4]} {text[4..]} ", $"{text[..2]}-{text[2..6]}-{text[6..]}", text.Replace('Y', 'Z'), text.ToLowerInvariant().Replace('y', 'z')];

            return typed.All(one => Label.TryRead(one, out var read) && read == label);
        });

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("J222222")]
    [InlineData("J222222XX")]
    [InlineData("22222222")]
    [InlineData("J22222 0X")]
    [InlineData("J22222IX")]
    [InlineData("J22222_X")]
    [InlineData("J 2 2 2 2 2 2 X                                        ")]
    public void What_is_no_label_is_refused(string? typed) => Assert.False(Label.TryRead(typed, out _));

    [Fact]
    public void A_foreign_letter_is_not_taken_for_one_of_ours()
    {
        // S has the value 23 and the weight 1; 23 + 8 × 8 = 87 = 3 × 29, and 8 is A. A long s is an S in upper case, but no key of ours.
        Assert.True(Label.TryRead("S222222A", out _));
        Assert.False(Label.TryRead("\u017F222222A", out _));
    }

    [Fact]
    public void No_repeated_character_is_ever_given_out() =>
        Assert.All(Label.Alphabet, letter => Assert.False(Label.TryRead(new string(letter, Label.Length), out _)));

    [Fact]
    public void A_label_is_completed_only_from_a_kind_and_six_places()
    {
        Assert.Throws<ArgumentException>(() => Label.Complete((LabelKind)'2', [0, 0, 0, 0, 0, 0]));
        Assert.Throws<ArgumentException>(() => Label.Complete(LabelKind.Job, [0, 0, 0, 0, 0]));
        Assert.Throws<ArgumentException>(() => Label.Complete(LabelKind.Job, [0, 0, 0, 0, 0, 29]));
    }

    [Fact]
    public void Every_kind_begins_with_a_letter_of_the_alphabet() =>
        Assert.All(Kinds, kind => Assert.Contains((char)kind, Label.Alphabet));
}
