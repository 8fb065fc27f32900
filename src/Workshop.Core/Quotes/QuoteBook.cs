using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Quotes;

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

    /// <summary>Lines that became dearer after they were agreed.</summary>
    public ImmutableArray<PriceRise> PriceRises { get; init; } = [];

    /// <summary>What was agreed for the kind of work the job is: the newest version that was accepted and is no supplement.</summary>
    public QuoteVersion? Agreed => Versions.LastOrDefault(one => one is { Accepted: true, Supplementary: false } && IsForThisKind(one));

    /// <summary>What was agreed on top of it since; a version that took the place of everything took theirs too.</summary>
    public IEnumerable<QuoteVersion> Supplements => Versions
        .Skip(Math.Max(ForAnotherKind, Agreed is { } agreed ? Versions.IndexOf(agreed) + 1 : 0))
        .Where(one => one is { Accepted: true, Supplementary: true });

    /// <summary>Required lines and accepted options of what is agreed, supplements included; null where no version is. Minor units.</summary>
    public long? AgreedMinor => Agreed is { } agreed ? agreed.AgreedMinor + SupplementsMinor : null;

    /// <summary>Agreed on top, minor units.</summary>
    public long SupplementsMinor => Supplements.Sum(one => one.AgreedMinor);

    /// <summary>Open days that supplements add to the promised date.</summary>
    public int SupplementWorkingDays => Supplements.Sum(one => one.WorkingDays);

    /// <summary>A line has become so much dearer that the customer is to be asked, and no version was sent since. Null without one.</summary>
    public PriceRise? AsksForAVersion => PriceRises.LastOrDefault(rise => !rise.Borne && Newest is { } newest && newest.SentAt <= rise.At);

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
            this with { Versions = Versions.Add(QuoteVersion.Of(sent, entry.Effective)) },
            AnyAccepted ? [] : [new Returning(false), new Began(Stage.Quote)]),
        QuoteAnswered answered => Answer(answered, entry),
        QuotePriceChanged rise => new(this with { PriceRises = PriceRises.Add(new(rise.Version, rise.Line, rise.AcceptedMinor, rise.NewAmountMinor, rise.Borne, entry.Effective)) }),
        _ => new(this),
    };

    private Heard<QuoteBook> Answer(QuoteAnswered answered, Entry entry)
    {
        var asked = Versions.FirstOrDefault(one => one.Version == answered.Version);
        if (asked is null)
        {
            return new(this);
        }

        var after = this with { Versions = Versions.Replace(asked, asked.Answer(answered, entry.Effective)) };

        if (answered.Accepted && !AnyAccepted && after.AnyAccepted)
        {
            after = after with { Approval = new Approval(entry.Position, entry.Effective, answered.Version) };
        }

        // What was agreed before stays agreed; an answer that came for another kind of work changes nothing any more.
        return !IsForThisKind(asked) ? new(after)
            : answered.Accepted ? new(after, new Returning(false), new Ended(Stage.Quote))
            : AnyAccepted || AgreedToAnotherKind || answered.IfRefused is CustomersChoice.AskMe or CustomersChoice.ScrapValue ? new(after)
            : new(after, new Returning(true));
    }
}
