using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Warranties;

namespace Workshop.Core.PublicPage;

/// <summary>A public stage and when it was first reached.</summary>
public readonly record struct PublicStep(PublicStage Stage, Instant At);

/// <summary>
/// How far a watch has come, as its customer is told. Work that is done again inside the house takes nothing back; what the customer
/// decides begins anew: an approval leads to approved. What was corrected has never been, here as everywhere.
/// </summary>
public sealed record PublicProgress
{
    private const int Approved = 4;
    private const int AtWork = 5;
    private const int OutOfTheHouse = 9;

    /// <summary>The furthest stage since the last approval.</summary>
    public PublicStage Reached { get; init; }

    /// <summary>When that was; null before the watch is in the house.</summary>
    public Instant? Since { get; init; }

    /// <summary>Every stage in the order in which it was reached, each once. For a job of the paper book nothing that was before it.</summary>
    public ImmutableArray<PublicStep> Steps { get; init; } = [];

    /// <summary>The newest entry heard so far, by its position: what stands behind it and is older was told before this was known.</summary>
    internal long NewestPosition { get; init; }

    /// <summary>Has left the house.</summary>
    public bool HasLeft => PublicRank.Of(Reached) >= OutOfTheHouse;

    /// <param name="before">The job before the entry.</param>
    /// <param name="after">The job with it.</param>
    internal PublicProgress Hear(Job before, Job after, Entry entry)
    {
        var next = entry.Event switch
        {
            QuoteSent => Note(PublicStage.YourDecision, entry.Effective),
            QuoteAnswered answered when AcceptsAnew(answered, before.Quotes, after.Quotes) => BeginAnew(entry.Effective),
            VariantChanged when entry.Judged.Route is { } route && !route.Has(Stage.Quote) && PublicRank.Of(Reached) > Approved => BeginAnew(entry.Effective),
            DeliveryRecorded when Reached == PublicStage.OnItsWay => Reach(Ended(after), entry.Effective),
            _ => this,
        };

        if (!ReferenceEquals(before.Standings.Touched, after.Standings.Touched))
        {
            next = entry.Event is JobTakenIn { Adopted: not null } ? next.Adopt(after, entry.Effective) : next.Follow(before, after, entry);
        }

        // The case alone is in work once the movement is done.
        var shown = PublicRank.Of(next.Reached) == AtWork ? WorkNow(after.Standings) : next.Reached;
        next = shown == next.Reached ? next : (next with { Reached = shown, Since = entry.Effective }).Note(shown, entry.Effective);
        return entry.Position <= NewestPosition ? next : next with { NewestPosition = entry.Position };
    }

    // From an approval on, the stages that stand say nothing: only what happens next does.
    private PublicProgress Follow(Job before, Job after, Entry entry)
    {
        var reached = after.Standings.Touched
            .Where(one => one.Value.State != before.Standings.Of(one.Key).State)
            .Select(one => Said(one.Key, one.Value.State, after, entry))
            .OfType<PublicStage>()
            .OrderBy(PublicRank.Of);
        return reached.Aggregate(this, (progress, stage) => progress.Reach(stage, entry.Effective));
    }

    private PublicProgress Adopt(Job after, Instant at)
    {
        var furthest = after.Standings.Touched
            .Select(one => PublicRank.Reached(one.Key, one.Value.State))
            .OfType<PublicStage>()
            .Append(PublicStage.Received)
            .MaxBy(stage => PublicRank.Of(stage) ?? 0);
        return Note(PublicStage.Received, at) with { Reached = furthest, Since = at };
    }

    private PublicStage? Said(Stage stage, StageState state, Job after, Entry entry) => (stage, state) switch
    {
        (Stage.HandedOver, StageState.Done) => entry.Event is JobHandedOver { How: HandedOverHow.Dispatched } ? PublicStage.OnItsWay : Ended(after),

        // What took its ground away was told later: until then it was ready, and its customer had heard so.
        (Stage.FinalControl, StageState.GroundLost) when entry.Position < NewestPosition => PublicStage.Ready,
        _ => PublicRank.Reached(stage, state) is { } reached ? (PublicRank.Of(reached) == AtWork ? WorkNow(after.Standings) : reached) : null,
    };

    private PublicProgress Reach(PublicStage stage, Instant at) =>
        PublicRank.Of(stage) <= PublicRank.Of(Reached) ? this : (this with { Reached = stage, Since = at }).Note(stage, at);

    private PublicProgress BeginAnew(Instant at) => HasLeft ? this : (this with { Reached = PublicStage.Approved, Since = at }).Note(PublicStage.Approved, at);

    private PublicProgress Note(PublicStage stage, Instant at) => Steps.Any(step => step.Stage == stage) ? this : this with { Steps = Steps.Add(new PublicStep(stage, at)) };

    internal static PublicStage Ended(Job job) => job.Standings.ReturnsUnrepaired ? PublicStage.Returned : PublicStage.YoursAgain;

    private static bool AcceptsAnew(QuoteAnswered answered, QuoteBook before, QuoteBook after) =>
        answered.Accepted
        && after.Versions.FirstOrDefault(one => one.Version == answered.Version) is { } version
        && after.IsForThisKind(version)
        && before.Versions.FirstOrDefault(one => one.Version == answered.Version)?.Accepted != true;

    private static PublicStage WorkNow(Standings standings)
    {
        bool Open(ImmutableArray<Stage> stages) => standings.Plan.Any(planned => stages.Contains(planned.Stage) && !standings.Stands(planned.Stage));
        var hasMovement = standings.Plan.Any(planned => !planned.Optional && PublicRank.Movement.Contains(planned.Stage));
        return !hasMovement || (!Open(PublicRank.Movement) && Open(PublicRank.Case)) ? PublicStage.CaseInWork : PublicStage.AtTheWatchmaker;
    }
}
