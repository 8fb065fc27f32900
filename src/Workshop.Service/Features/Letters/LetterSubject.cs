using System.Collections.Immutable;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Service.Features.Arrivals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Letters;

/// <summary>What letters are about: a watch in a job, or one that is expected under a label of its own.</summary>
/// <param name="Expected">It has not come yet, and may still.</param>
public sealed record LetterSubject(LetterReading Read, ImmutableArray<LetterOccasion> Occasions, bool Expected = false)
{
    /// <summary>Null where nothing is known by this label.</summary>
    public static LetterSubject? Of(Turn turn, Label label) =>
        label.Kind == LabelKind.Expected ? OfArrival(turn, label)
        : LetterReading.Of(turn, label) is { } read ? new LetterSubject(read, read.Occasions(turn.Now))
        : null;

    // Nobody is known of it but who ordered it; what the desk expects has no order that could have been received.
    private static LetterSubject? OfArrival(Turn turn, Label label)
    {
        if (ArrivalStore.Find(turn, label) is not { CustomerId: { } customer } arrival)
        {
            return null;
        }

        var moments = ArrivalMessages.Moments(turn, arrival);
        var ordered = arrival is { Storefront: { } storefront, OrderRef: { } order } ? new OrderedAs(label, storefront, order, arrival.Line ?? "", (int)(arrival.Piece ?? 1)) : null;
        var read = new LetterReading
        {
            Job = new Job { Label = label, Intake = new IntakeRecord { Customer = customer, Ordered = ordered } },
            Entries = [],
            Rules = turn.Rules,
            Around = LetterSurroundings.None,
        };
        return new LetterSubject(read, [.. LetterPlan.Of(moments).Where(one => ordered is not null || one.Moment != LetterMoment.OrderReceived)], Expected: !moments.Over);
    }
}
