using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Parts;

/// <summary>What an order is to bring for a job.</summary>
/// <param name="Count">Ordered for this job.</param>
/// <param name="Come">Of these, came and fits, or was made up for from the shelf.</param>
/// <param name="Wrong">Came and did not fit.</param>
/// <param name="Since">Since when this day is known.</param>
public sealed record OrderedPart(string Order, string Part, int Count, int Come, int Wrong, LocalDate? On, bool Essential, Instant Since)
{
    /// <summary>Pieces still to come.</summary>
    public int Open => Math.Max(0, Count - Come);
}

/// <summary>What was set aside for a job and was given to another.</summary>
/// <param name="On">The day by which a new one usually comes.</param>
/// <param name="TakenBy">The other job's label.</param>
public sealed record TakenPart(string Part, int Count, LocalDate? On, bool Essential, Instant Since, string TakenBy);

/// <summary>A part that a job waits for.</summary>
/// <param name="Order">Null where none was ordered.</param>
public sealed record AwaitedPart(string Part, int Count, string? Order, LocalDate? On, bool Essential, Instant Since);

/// <summary>A part in the watch.</summary>
public sealed record FittedPart(string Part, int Count, string? Lot, string? Replaces, EventId Entry);

/// <summary>What an entry did to the shelf: pieces that came or went, and pieces set aside for the job, each more or fewer.</summary>
public sealed record PartMove(EventId Entry, string Part, int OnShelf, int Reserved, Instant At);

/// <summary>The spare parts of a job: set aside, awaited, fitted. What is on the shelf is the sum over all jobs, and stands in no job.</summary>
public sealed record PartBook
{
    public ImmutableArray<OrderedPart> Ordered { get; init; } = [];

    public ImmutableArray<TakenPart> Taken { get; init; } = [];

    public ImmutableArray<FittedPart> Fitted { get; init; } = [];

    public ImmutableArray<PartMove> Moves { get; init; } = [];

    /// <summary>What the job waits for: of orders, and in the place of what another job was given.</summary>
    public IEnumerable<AwaitedPart> Awaited() =>
        Ordered.Where(one => one.Open > 0).Select(one => new AwaitedPart(one.Part, one.Open, one.Order, one.On, one.Essential, one.Since))
            .Concat(Taken.Select(one => new AwaitedPart(one.Part, one.Count, null, one.On, one.Essential, one.Since)));

    /// <summary>Pieces of a part that lie in the house for this job.</summary>
    public int Reserved(string part) => Moves.Where(move => move.Part == part).Sum(move => move.Reserved);

    /// <summary>Every part the job has to do with.</summary>
    public IEnumerable<string> Names() =>
        Moves.Select(move => move.Part).Concat(Ordered.Select(one => one.Part)).Concat(Taken.Select(one => one.Part)).Concat(Fitted.Select(one => one.Part)).Distinct();

    public PartBook Apply(Entry entry) => entry.Event switch
    {
        PartExpected expected => Expect(expected, entry),
        PartReserved { Order: { } order } reserved when Of(order, reserved.Part) is null =>
            this with { Ordered = Ordered.Add(new OrderedPart(order, reserved.Part, reserved.Pieces(), 0, 0, null, reserved.Essential == true, entry.Effective)) },
        PartReserved { Order: not null } reserved when reserved.Essential == true && Of(reserved.Order, reserved.Part) is { } known => Put(known, known with { Essential = true }),
        PartReserved { Order: not null } => this,
        PartReserved reserved => Less(reserved.Part, reserved.Pieces()).Move(entry, reserved.Part, 0, reserved.Pieces()),
        PartReceived { Fits: false } wrong => Of(wrong.Order, wrong.Part) is { } ordered ? Put(ordered, ordered with { Wrong = ordered.Wrong + wrong.Pieces() }) : this,
        PartReceived received => Receive(received, entry),
        PartChecked { Fits: false } wrong => SendBack(wrong, entry),
        PartFitted fitted => Fit(fitted, entry),
        PartReleased released => Release(released, entry),
        _ => this,
    };

    /// <summary>The watch has left: nothing is set aside for it any longer, and it waits for nothing.</summary>
    public PartBook Close(Entry entry)
    {
        var left = Moves.GroupBy(move => move.Part).Select(of => (Part: of.Key, Reserved: of.Sum(move => move.Reserved))).Where(one => one.Reserved > 0).ToImmutableArray();
        return left.IsEmpty && Ordered.IsEmpty && Taken.IsEmpty ? this : this with
        {
            Ordered = Ordered.RemoveAll(one => one.Open > 0),
            Taken = [],
            Moves = Moves.AddRange(left.Select(one => new PartMove(entry.Id, one.Part, 0, -one.Reserved, entry.Effective))),
        };
    }

    private PartBook Expect(PartExpected expected, Entry entry)
    {
        var order = expected.Order ?? "";
        var known = Of(order, expected.Part);
        var sinceKnown = known is not null && known.On == expected.ExpectedOn ? known.Since : entry.Effective;
        var now = new OrderedPart(
            order, expected.Part, expected.Pieces(), known?.Come ?? 0, known?.Wrong ?? 0, expected.ExpectedOn, expected.Essential ?? known?.Essential ?? false, sinceKnown);

        // A new order is what the job waits for from now on, in the place of what it lost.
        var after = known is null ? Less(expected.Part, expected.Pieces(), ordersToo: false) : this;
        return known is null ? after with { Ordered = after.Ordered.Add(now) } : after.Put(known, now);
    }

    private PartBook Receive(PartReceived received, Entry entry)
    {
        var after = Of(received.Order, received.Part) is { } ordered ? Put(ordered, ordered with { Come = ordered.Come + received.Pieces() }) : Less(received.Part, received.Pieces(), ordersToo: false);
        return after.Move(entry, received.Part, received.Pieces(), received.Pieces());
    }

    private PartBook SendBack(PartChecked wrong, Entry entry)
    {
        var here = Math.Min(wrong.Pieces(), Reserved(wrong.Part));
        if (here == 0)
        {
            return this;
        }

        var after = Move(entry, wrong.Part, -here, -here);
        var came = Ordered.LastOrDefault(one => one.Part == wrong.Part && (wrong.Order is null || one.Order == wrong.Order) && one.Come > 0);
        return came is null ? after : after.Put(came, came with { Come = Math.Max(0, came.Come - here), Wrong = came.Wrong + here });
    }

    private PartBook Fit(PartFitted fitted, Entry entry)
    {
        var own = Math.Min(fitted.Pieces(), Reserved(fitted.Part));
        var after = Less(fitted.Part, fitted.Pieces() - own).Move(entry, fitted.Part, -fitted.Pieces(), -own);
        return after with { Fitted = after.Fitted.Add(new FittedPart(fitted.Part, fitted.Pieces(), fitted.Lot, fitted.Replaces, entry.Id)) };
    }

    private PartBook Release(PartReleased released, Entry entry)
    {
        var here = Math.Min(released.Pieces(), Reserved(released.Part));
        var after = here > 0 ? Move(entry, released.Part, 0, -here) : this;
        return released.TakenBy is { } by
            ? after with { Taken = after.Taken.Add(new TakenPart(released.Part, released.Pieces(), released.ExpectedOn, released.Essential == true, entry.Effective, by)) }
            : after;
    }

    private OrderedPart? Of(string? order, string part) =>
        order is not null ? Ordered.FirstOrDefault(one => one.Order == order && one.Part == part)
        : Ordered.FirstOrDefault(one => one.Part == part && one.Open > 0);

    private PartBook Put(OrderedPart old, OrderedPart now) => this with { Ordered = Ordered.Replace(old, now) };

    // What is here from elsewhere is not waited for any longer: first what was lost, then what would come last.
    private PartBook Less(string part, int pieces, bool ordersToo = true)
    {
        var after = this;
        for (var left = pieces; left > 0;)
        {
            if (after.Taken.FirstOrDefault(one => one.Part == part) is { } taken)
            {
                var less = Math.Min(left, taken.Count);
                left -= less;
                after = after with { Taken = less == taken.Count ? after.Taken.Remove(taken) : after.Taken.Replace(taken, taken with { Count = taken.Count - less }) };
            }
            else if (ordersToo && after.Ordered.Where(one => one.Part == part && one.Open > 0).MaxBy(one => one.On ?? LocalDate.MaxIsoValue) is { } ordered)
            {
                var less = Math.Min(left, ordered.Open);
                left -= less;
                after = after.Put(ordered, ordered with { Come = ordered.Come + less });
            }
            else
            {
                break;
            }
        }

        return after;
    }

    private PartBook Move(Entry entry, string part, int onShelf, int reserved) =>
        this with { Moves = Moves.Add(new PartMove(entry.Id, part, onShelf, reserved, entry.Effective)) };
}
