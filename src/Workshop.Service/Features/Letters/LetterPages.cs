using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>
/// Where a letter says that its customer sees their watch: one address for each job it speaks of, showing as much as its paragraphs need.
/// A watch that has not come has no page.
/// </summary>
public sealed class LetterPages
{
    /// <summary>Letters without any address: the shop has said none.</summary>
    public static readonly LetterPages None = new((_, _) => null);

    private readonly Func<Label, PublicView, string?> addressOf;

    private LetterPages(Func<Label, PublicView, string?> addressOf) => this.addressOf = addressOf;

    /// <summary>Of a letter that goes out: its links are made here, and found again when it goes once more.</summary>
    public static LetterPages Of(Turn turn, string letter) => turn.Rules.PublicPages is { Address: not null } rules
        ? new LetterPages((job, view) => rules.AddressOf(EditPublicLinks.TokenInLetter(turn, job, view, letter)))
        : None;

    /// <summary>Of a letter that is only looked at: where a link will stand, and no link.</summary>
    public static LetterPages Shown(ShopRules rules, Language language) =>
        new((_, _) => rules.PublicPages.AddressOf(language == Language.German ? "entsteht-beim-senden" : "made-when-it-is-sent"));

    /// <summary>Addresses of somebody else's making, for letters that nobody sends.</summary>
    public static LetterPages At(Func<Label, PublicView, string?> addressOf) => new(addressOf);

    /// <param name="paragraphs">Of one job, at least one.</param>
    /// <returns>null: there is nothing to see, or the shop shows no pages.</returns>
    internal string? AddressOf(IReadOnlyCollection<LetterParagraph> paragraphs) =>
        paragraphs.First().Read.Job is { TakenIn: true } job ? addressOf(job.Label, paragraphs.Max(one => ViewOf(one.Occasion.Moment))) : null;

    /// <summary>How much the page shows: never more than the letter is about, for the recipient of a gift is written to as well.</summary>
    internal static PublicView ViewOf(LetterMoment moment) => moment switch
    {
        LetterMoment.QuoteReady or LetterMoment.QuoteReminder or LetterMoment.SupplementaryQuote => PublicView.Decide,
        LetterMoment.ApprovalConfirmed or LetterMoment.PaymentAsked or LetterMoment.RefundOwed or LetterMoment.ReadyToCollect or LetterMoment.ReadyReminder => PublicView.StatusAndAmounts,
        _ => PublicView.Status,
    };
}
