using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Letters;

/// <summary>Something that was said to somebody.</summary>
/// <param name="Customer">The customer's id.</param>
public sealed record LetterSaid(LetterMoment Moment, string Occasion, string Customer, LetterChannel Channel, string Letter, Instant At);

/// <summary>A damage or loss of which a manager lets the customer be told.</summary>
public sealed record ReleasedLetter(LetterMoment Moment, int Number, EventId Entry, Instant At);

/// <summary>What people round a watch were told.</summary>
public sealed record LetterBook
{
    public ImmutableArray<LetterSaid> Said { get; init; } = [];

    public ImmutableArray<ReleasedLetter> Released { get; init; } = [];

    public bool Has(LetterMoment moment, string occasion, string customer) => Said.Any(one => one.Moment == moment && one.Occasion == occasion && one.Customer == customer);

    public int NextNumber(LetterMoment moment) => Released.Count(one => one.Moment == moment) + 1;

    public LetterBook Apply(Entry entry) => entry.Event switch
    {
        CustomerTold told => this with { Said = Said.Add(new LetterSaid(told.Moment, told.Occasion, told.Customer, told.Channel, told.Letter, entry.Effective)) },
        LetterReleased released => this with { Released = Released.Add(new ReleasedLetter(released.Moment, released.Number, entry.Id, entry.Effective)) },
        _ => this,
    };
}
