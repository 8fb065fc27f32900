using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Quotes;

/// <summary>The shop's figures and words about quotes. JSON member of the rules document: <c>quotes</c>.</summary>
public sealed record QuoteRules
{
    /// <summary>The usual text of consent.</summary>
    public static readonly ConsentText UsualConsent = new()
    {
        En = "I accept this quote with the options I have chosen. Anything beyond it is done only after I have been asked.",
        De = "Ich nehme diesen Kostenvoranschlag mit den gewählten Zusätzen an. Was darüber hinausgeht, wird erst nach Rückfrage gemacht.",
    };

    // Behind what its members begin with.
    public static readonly QuoteRules Usual = new();

    /// <summary>Calendar days after the day of sending through which a quote is good, where it says nothing else; 1 to 366. Common practice.</summary>
    [Range(1, 366)]
    public int ValidForDays { get; init; } = 30;

    /// <summary>Per cent of the accepted amount of a line by which it may become dearer at the shop's own cost, 0 to 100. Common practice.</summary>
    [Range(0, 100)]
    public int PriceRiseBornePercent { get; init; } = 10;

    /// <summary>What a customer says yes to, where a quote has no text of its own; at most 2000 characters a language.</summary>
    public ConsentText ConsentText { get; init; } = UsualConsent;

    /// <summary>Whether the shop bears a line's rise: of exactly its share it does.</summary>
    public bool Bears(long acceptedMinor, long newMinor) => (Int128)(newMinor - acceptedMinor) * 100 <= (Int128)acceptedMinor * PriceRiseBornePercent;

    /// <param name="pointer">Where these rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (member, text) in new[] { ("en", ConsentText.En), ("de", ConsentText.De) })
        {
            if (text is not null && (string.IsNullOrWhiteSpace(text) || text.Length > 2_000))
            {
                yield return new Fault($"{pointer}/consentText/{member}", "A text of consent has 1 to 2000 characters");
            }
        }
    }
}
