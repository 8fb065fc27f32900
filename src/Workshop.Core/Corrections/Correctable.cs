using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
using Workshop.Core.Words;

namespace Workshop.Core.Corrections;

/// <summary>Which entry may be corrected, and by whom.</summary>
internal static class Correctable
{
    /// <summary>Time after the moment of an entry within which whoever said it corrects it alone. Common practice.</summary>
    public static readonly Duration OwnFor = Duration.FromMinutes(5);

    /// <summary>What is wrong with naming this entry, whatever the state of the job; null where it can be corrected.</summary>
    /// <param name="pointer">Into <c>data</c>: <c>/of</c> or <c>/insteadOf</c>.</param>
    /// <param name="by">The event that would take its place, or null where nothing does.</param>
    public static Fault? FaultIn(Reckoning reckoning, EventId named, string pointer, WorkshopEvent? by = null) =>
        reckoning.Find(named) is not { } entry ? new Fault(pointer, Phrase.Of("This job has no entry {0}.", $"{named}"))
        : entry.Event is CorrectionMade or PersonCorrected or ReportSettled ? new Fault(pointer, Phrase.Of("A correction or settlement is not corrected; say anew what is right."))
        : entry.Id.Source == EventId.Service || EventCatalogue.SenderOf(entry.Event.Type) != SentBy.Bench ? new Fault(pointer, Phrase.Of("What the service wrote ({0}) is not corrected; say anew what is right.", entry.Event.Type))
        : entry.Event is CageEmptied ? new Fault(pointer, Phrase.Of("A cage that was scanned empty may hold others by now; load it again."))
        : by is not null && by.Type != entry.Event.Type ? new Fault(pointer, Phrase.Of("The right value of {0} is of the same type.", entry.Event.Type))
        : null;

    /// <summary>What stands against correcting an entry, but for what rests on it.</summary>
    /// <param name="asking">Who corrects it, and when.</param>
    public static ImmutableArray<Objection> Ask(Reckoning reckoning, EventId named, Asking asking)
    {
        var entry = reckoning.Counted(named)!;
        var against = ImmutableArray.CreateBuilder<Objection>();
        if (entry.OfNoEffect && reckoning.Newest(entry) is var newest)
        {
            against.Add(GateTable.Objects(
                "newest-of-its-chain", asking.Rules, newest.Id == named ? Phrase.Of("It is void already") : Phrase.Of("Something newer stands in its place"), Phrase.Of("name the newest, or say it anew")) with
            {
                Entries = [NamedEntry.Of(newest)],
            });
        }

        var manager = asking.Role == "manager" || asking.Rules.PersonBehind(asking.Person)?.Manager == true;
        if (!manager && (asking.Person is null || asking.Person != entry.Person || asking.At - entry.Effective > OwnFor))
        {
            against.Add(GateTable.Objects(
                "own-and-fresh", asking.Rules, asking.Person is not null && asking.Person == entry.Person ? Phrase.Of("More than five minutes have passed") : Phrase.Of("Somebody else said it"), Phrase.Of("a manager"),
                names: [("since", entry.Effective.ToString())]));
        }

        return against.ToImmutable();
    }

    /// <summary>The objection that names what would lose its footing, the newest first: in this order they could be corrected.</summary>
    public static Objection NeededLater(ImmutableArray<Entry> harmed, Asking asking) =>
        GateTable.Objects(
            "needed-later", asking.Rules, harmed.Length == 1 ? Phrase.Of("{0} rests on it", harmed[0].Event.Type) : Phrase.Of("{0} later entries rest on it", harmed.Length),
            Phrase.Of("correct those first, the newest first")) with
        {
            Entries = [.. harmed.Select(NamedEntry.Of)],
        };
}
