using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates that read the facts of the turn; asked once, when the event comes.</summary>
public static class FactGates
{
    public const string JobLabel = "job-label";
    public const string CaseSerial = "case-serial";
    public const string MovementNumber = "movement-number";

    public static IEnumerable<Objection> Ask(Job job, Asking asking, Incoming incoming, Facts facts) => incoming.Event switch
    {
        StageFinished { Stage: Stage.Rebuild } or FinalControlPassed or FinalControlRefused or WaiverGiven or WearCheckConfirmed or ReportSettled => PersonNamed(asking),
        CaseClosed closed => ThreeNumbers(job, asking, closed),
        QuoteAnswered answered => QuoteValid(job, asking, answered, facts),
        _ => [],
    };

    /// <summary>Which of the three numbers read at casing do not belong to this job; one not known yet is set by its first reading.</summary>
    public static IEnumerable<string> Differing(Job job, CaseClosed closed)
    {
        if (!Label.TryRead(closed.JobLabel, out var read) || read != job.Label)
        {
            yield return JobLabel;
        }

        if (!WatchNumber.Agree(job.Case.CaseSerial, closed.CaseSerial))
        {
            yield return CaseSerial;
        }

        if (!WatchNumber.Agree(job.Case.MovementNumber, closed.MovementNumber))
        {
            yield return MovementNumber;
        }
    }

    private static IEnumerable<Objection> PersonNamed(Asking asking)
    {
        if (string.IsNullOrWhiteSpace(asking.Person))
        {
            yield return GateTable.Objects("person-named", asking.Rules, Phrase.Of("Who is it? Scan your badge"), Phrase.Of("scan a badge, then send it again"));
        }
    }

    private static IEnumerable<Objection> ThreeNumbers(Job job, Asking asking, CaseClosed closed)
    {
        var differing = Differing(job, closed).ToArray();
        if (differing.Length > 0)
        {
            yield return GateTable.Objects(
                "three-numbers", asking.Rules, Phrase.Of("Numbers disagree. Stop: both jobs are held"), Phrase.Of("a manager, with both watches on the table"),
                names: [("differing", string.Join(", ", differing))]);
        }
    }

    private static IEnumerable<Objection> QuoteValid(Job job, Asking asking, QuoteAnswered answered, Facts facts)
    {
        var asked = job.Quotes.Versions.FirstOrDefault(one => one.Version == answered.Version);
        if (asked is not null && answered.Accepted && facts.Rules.Calendar.DateOf(asking.At) > asked.ValidThrough)
        {
            yield return GateTable.Objects("quote-valid", asking.Rules, Phrase.Of("The quote was good through {0}", asked.ValidThrough), Phrase.Of("send a new version"), names: [("validThrough", $"{asked.ValidThrough:yyyy-MM-dd}")]);
        }
    }
}
