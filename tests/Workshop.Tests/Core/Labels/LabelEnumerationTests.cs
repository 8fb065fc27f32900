using Workshop.Core.Labels;

namespace Workshop.Tests.Core.Labels;

/// <summary>No wrong label is ever another one: shown on a sample by trying every error, and for all labels by arithmetic.</summary>
public class LabelEnumerationTests
{
    private const int SampleSize = 10_000;

    private static readonly LabelKind[] Kinds = Enum.GetValues<LabelKind>();

    [Fact]
    public void Every_single_error_and_every_swap_of_ten_thousand_labels_is_unreadable()
    {
        var chance = new Random(29);
        var free = new int[Label.Length - 2];
        long errors = 0, swaps = 0;
        var read = new List<string>();
        for (var n = 0; n < SampleSize; n++)
        {
            for (var i = 0; i < free.Length; i++)
            {
                free[i] = chance.Next(Label.Alphabet.Length);
            }

            var right = Label.Complete(Kinds[n % Kinds.Length], free).ToString();
            foreach (var wrong in SingleErrors(right))
            {
                errors++;
                Try(wrong);
            }

            foreach (var wrong in Swaps(right))
            {
                swaps++;
                Try(wrong);
            }
        }

        Assert.Equal(SampleSize * Label.Length * (Label.Alphabet.Length - 1L), errors);
        Assert.True(swaps > SampleSize * 20L, $"only {swaps} swaps were tried");
        Assert.Empty(read);

        void Try(string wrong)
        {
            if (Label.TryRead(wrong, out _))
            {
                read.Add(wrong);
            }
        }
    }

    [Fact]
    public void The_check_character_is_that_of_weights_one_to_eight_at_every_place_and_for_every_value()
    {
        // With the weights assumed below, a label is right exactly when its sum is 0 modulo 29: so they are the weights of the code.
        var free = new int[Label.Length - 2];
        foreach (var kind in Kinds)
        {
            for (var place = 0; place < free.Length; place++)
            {
                for (var value = 0; value < Label.Alphabet.Length; value++)
                {
                    Array.Clear(free);
                    free[place] = value;
                    var label = Label.Complete(kind, free).ToString();

                    Assert.Equal(0, label.Select((letter, i) => (i + 1) * Label.Alphabet.IndexOf(letter)).Sum() % 29);
                    Assert.Equal(1, Label.Alphabet.Count(check => Label.TryRead(label[..^1] + check, out _)));
                }
            }
        }
    }

    [Fact]
    public void By_arithmetic_no_single_error_and_no_swap_leaves_the_sum_of_any_label_as_it_was()
    {
        // A sum that was 0 modulo 29 stays 0 only if the change is 0. The change depends on the places and values concerned alone.
        var unseen = new List<(int, int, int, int)>();
        var pairs = 0;
        for (var i = 1; i <= Label.Length; i++)
        {
            for (var was = 0; was < 29; was++)
            {
                for (var becomes = 0; becomes < 29; becomes++)
                {
                    if (was != becomes && i * (becomes - was) % 29 == 0)
                    {
                        unseen.Add((i, i, was, becomes));
                    }

                    for (var j = i + 1; j <= Label.Length && was != becomes; j++)
                    {
                        pairs++;
                        if (((i * becomes) + (j * was) - (i * was) - (j * becomes)) % 29 == 0)
                        {
                            unseen.Add((i, j, was, becomes));
                        }
                    }
                }
            }
        }

        Assert.Equal(28 * 29 * 28, pairs);
        Assert.Empty(unseen);
    }

    private static IEnumerable<string> SingleErrors(string right) =>
        from place in Enumerable.Range(0, Label.Length)
        from other in Label.Alphabet
        where other != right[place]
        select string.Concat(right.AsSpan(0, place), other.ToString(), right.AsSpan(place + 1));

    private static IEnumerable<string> Swaps(string right)
    {
        for (var i = 0; i < Label.Length; i++)
        {
            for (var j = i + 1; j < Label.Length; j++)
            {
                if (right[i] != right[j])
                {
                    var swapped = right.ToCharArray();
                    (swapped[i], swapped[j]) = (swapped[j], swapped[i]);
                    yield return new string(swapped);
                }
            }
        }
    }
}
