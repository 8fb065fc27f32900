using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Quotes;

/// <summary>One version of the quote and its answer.</summary>
public sealed record QuoteVersion(int Version, Instant SentAt, long TotalMinor, string Currency, LocalDate ValidThrough, int WorkingDays, bool? Accepted, Instant? AnsweredAt, long DepositMinor = 0, long FeeOnRefusalMinor = 0);

/// <summary>The customer's word for the kind of work the job is: from it the promised days are counted.</summary>
/// <param name="Position">Of the entry in the journal.</param>
/// <param name="Version">Of the quote; null for a kind of work that is done without one.</param>
public sealed record Approval(long Position, Instant At, int? Version);

public sealed record QuoteBook
{
    public ImmutableArray<QuoteVersion> Versions { get; init; } = [];

    public QuoteVersion? Newest => Versions.IsEmpty ? null : Versions[^1];

    /// <summary>The work was agreed without a quote of ours: in the paper book the job was adopted from, or at a fixed price.</summary>
    public bool AgreedWithoutQuote { get; init; }

    /// <summary>Versions that were for a kind of work which the job is no longer; they stand before all others.</summary>
    public int ForAnotherKind { get; init; }

    /// <summary>The customer had agreed to a kind of work which the job is no longer.</summary>
    public bool AgreedToAnotherKind { get; init; }

    /// <summary>Null before it, and where the paper book has it.</summary>
    public Approval? Approval { get; init; }

    /// <summary>What was agreed for the kind of work the job is: the newest version that was accepted.</summary>
    public QuoteVersion? Agreed => Versions.LastOrDefault(one => one.Accepted == true && IsForThisKind(one));

    /// <summary>The customer has agreed to the kind of work the job is.</summary>
    public bool AnyAccepted => AgreedWithoutQuote || Versions.Skip(ForAnotherKind).Any(one => one.Accepted == true);

    /// <summary>Whether a version is for the kind of work the job is.</summary>
    public bool IsForThisKind(QuoteVersion version) => Versions.IndexOf(version) >= ForAnotherKind;

    /// <summary>What the intake of a watch says of its quote.</summary>
    public QuoteBook Begin(JobTakenIn taken, RouteDefinition? route, Entry entry) => this with
    {
        Approval = route is not null && !route.Has(Stage.Quote) && taken.Adopted is null ? new Approval(entry.Position, entry.Effective, null) : null,
        AgreedWithoutQuote = route is not null && (!route.Has(Stage.Quote) || (taken.Adopted is { } adopted && route.ComesBefore(Stage.Quote, adopted.At))),
    };

    /// <summary>Another kind of work asks for an approval of its own, unless it is done without a quote.</summary>
    public QuoteBook Change(RouteDefinition route, Entry entry) => this with
    {
        Approval = route.Has(Stage.Quote) ? null : new Approval(entry.Position, entry.Effective, null),
        AgreedToAnotherKind = AgreedToAnotherKind || AnyAccepted,
        AgreedWithoutQuote = !route.Has(Stage.Quote),
        ForAnotherKind = Versions.Length,
    };

    public Heard<QuoteBook> Apply(Entry entry) => entry.Event switch
    {
        QuoteSent sent => new(
            this with { Versions = Versions.Add(new(sent.Version, entry.Effective, sent.TotalMinor, sent.Currency, sent.ValidThrough, sent.WorkingDays, null, null, sent.DepositMinor ?? 0, sent.FeeOnRefusalMinor ?? 0)) },
            AnyAccepted ? [] : [new Returning(false), new Began(Stage.Quote)]),
        QuoteAnswered answered => Answer(answered, entry),
        _ => new(this),
    };

    private Heard<QuoteBook> Answer(QuoteAnswered answered, Entry entry)
    {
        var asked = Versions.FirstOrDefault(one => one.Version == answered.Version);
        if (asked is null)
        {
            return new(this);
        }

        var after = this with { Versions = Versions.Replace(asked, asked with { Accepted = answered.Accepted, AnsweredAt = entry.Effective }) };

        if (answered.Accepted && !AnyAccepted && after.AnyAccepted)
        {
            after = after with { Approval = new Approval(entry.Position, entry.Effective, answered.Version) };
        }

        // What was agreed before stays agreed; an answer that came for another kind of work changes nothing any more.
        return !IsForThisKind(asked) ? new(after)
            : answered.Accepted ? new(after, new Returning(false), new Ended(Stage.Quote))
            : AnyAccepted || AgreedToAnotherKind ? new(after)
            : new(after, new Returning(true));
    }
}
