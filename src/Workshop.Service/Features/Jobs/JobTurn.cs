using System.Collections.Immutable;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Reports;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Features.Gates;
using Workshop.Service.Features.People;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Jobs;

/// <summary>How an event enters a job within a turn: facts are read, Core decides, the entries are appended.</summary>
public static class JobTurn
{
    /// <summary>Decides and appends; what the job newly reached goes to the outbox in the same turn.</summary>
    public static Decision Decide(Turn turn, JobHistory history, Incoming incoming, Caller caller, AsSent? sent = null) =>
        Decide(turn, history, incoming, Word.Of(caller.Role), caller.Bench, sent);

    public static Decision Decide(Turn turn, JobHistory history, Incoming incoming, string role, string? bench = null, AsSent? sent = null)
    {
        var before = turn.NextPosition - 1;
        var decision = Ask(turn, history, incoming, role, bench);
        if (!decision.Entries.IsEmpty)
        {
            turn.Append(decision, sent);
            RunTurn.Follow(turn, history.Job, decision.Job);
        }

        KeepWhatGatesSaid(turn, history, incoming, decision, decision.Outcome == Outcome.Refused ? before : before + 1);
        turn.Outside.After(turn, history.Job, decision, incoming.Id, incoming.Effective);
        return decision;
    }

    /// <summary>Writes a mended badge into a job.</summary>
    public static void Mend(Turn turn, JobHistory history, Entry cause, PersonCorrected mended)
    {
        var decision = JobRules.Mend(history, cause, mended, new Facts { Rules = turn.Rules, Role = "manager", NextPosition = turn.NextPosition, RulesAsOf = RulesAsOf(turn), NearBy = NearBy(turn) });
        turn.Append(decision);
        turn.Outside.After(turn, history.Job, decision, cause.Id, cause.Received);
    }

    /// <summary>Writes into a job what follows from something in another stream, once.</summary>
    /// <param name="cause">The job's own entry that led there, or what was said in the other stream.</param>
    public static void HearElsewhere(Turn turn, JobHistory history, WorkshopEvent one, EventId cause, Place at, ImmutableArray<string> flags)
    {
        var decision = JobRules.HearElsewhere(history, one, cause, at, turn.Now, flags, new Facts { Rules = turn.Rules, Role = "service", NextPosition = turn.NextPosition, RulesAsOf = RulesAsOf(turn), NearBy = NearBy(turn) });
        turn.Append(decision);
        RunTurn.Follow(turn, history.Job, decision.Job);
        turn.Outside.After(turn, history.Job, decision, cause, at.Effective);
    }

    /// <summary>What would be decided; nothing is kept.</summary>
    public static Decision Ask(Turn turn, JobHistory history, Incoming incoming, Caller caller) => Ask(turn, history, incoming, Word.Of(caller.Role), caller.Bench);

    private static void KeepWhatGatesSaid(Turn turn, JobHistory history, Incoming incoming, Decision decision, long position)
    {
        GateWordStore.Put(turn, incoming.Job, incoming.Id, incoming.Event, decision.GateWords, position);

        // A report that a manager settles as having happened goes through the gates that had stood against it.
        if (decision.Outcome == Outcome.Accepted && incoming.Event is ReportSettled { As: SettledAs.Happened } settled
            && history.Entries.FirstOrDefault(entry => entry.Id == settled.Of) is { Judged.Failed: { IsEmpty: false } failed } report)
        {
            GateWordStore.Put(turn, incoming.Job, report.Id, report.Event, failed.Select(gate => new GateWord(gate, GateSaid.Settled)), position);
        }
    }

    private static Decision Ask(Turn turn, JobHistory history, Incoming incoming, string role, string? bench)
    {
        var rules = turn.Rules;
        incoming = SaidBy.Named(turn, incoming);
        var person = rules.PersonBehind(incoming.Manner.Person);
        return JobRules.Decide(history, incoming, new Facts
        {
            Rules = rules,
            Person = person,
            Proof = SaidBy.Proven(turn, incoming, person?.Id ?? incoming.Manner.Person, role),
            Role = role,
            Bench = bench,
            Cage = CageKnown.Of(turn, history, incoming),
            Reachable = incoming.Event is JobTakenIn { FixedDate: not null, Adopted: null } taken && rules.Routes.TryGetValue(taken.Variant, out var route) ? FixedDates.Reachable(turn, route) : null,
            Takedown = incoming.Event is TakedownEvent ? CalibreOfJob.Find(turn, history.Job).TermsBy(rules) : null,
            Rate = incoming.Event is RateSetRecorded ? CalibreOfJob.Find(turn, history.Job).RatesBy(history.Job.Route, rules) : null,
            Watch = WatchKnown.IsAsked(incoming.Event) ? KnownOfWatch.Read(turn, history.Job) : null,
            NextPosition = turn.NextPosition,
            OtherJobWithNumber = number => turn.OtherJobWithNumber(number, incoming.Job),
            StockOf = part => StockTable.StockOf(turn, part),
            OtherJob = label => turn.History(label)?.Job,
            NamesOfLabel = turn.NamesOf,
            WornAtWinderPlace = place => RunningChecks.WornAt(turn, place),
            NextStreamVersion = turn.NextStreamVersion,
            NearBy = NearBy(turn),
            RulesAsOf = RulesAsOf(turn),
        });
    }

    private static Func<Label, string?, ImmutableArray<string>, ImmutableArray<MixUpCandidate>> NearBy(Turn turn) => (job, bench, runs) => NearByJobs.Of(turn, job, bench, runs);

    // Several reports of one job were mostly judged by the same rules.
    private static Func<long, ShopRules> RulesAsOf(Turn turn)
    {
        var read = new Dictionary<long, ShopRules>();
        return version => read.TryGetValue(version, out var rules) ? rules : read[version] = turn.RulesAsOf(version);
    }
}
