using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around labels: one names one thing, and a replaced one is not to be trusted.</summary>
public static class LabelGates
{
    public const string Replaced = "label-replaced";

    /// <summary>
    /// Whether the label under which something is told is still on the watch. What happened before it was replaced passes: the gate is
    /// asked at the event's own place.
    /// </summary>
    public static IEnumerable<Objection> ToldUnder(Job job, Asking asking)
    {
        if (asking.Under is { } under && job.Labels.ReplacementOf(under) is { } replaced)
        {
            yield return Replacement(asking, replaced);
        }
    }

    public static IEnumerable<Objection> Attach(Job job, Asking asking, LabelAttached attached)
    {
        if (job.Labels.ReplacementOf(attached.Label) is { } replaced)
        {
            yield return Replacement(asking, replaced);
        }

        if (attached.Piece is { } piece && job.Pieces.Meant(piece, null).IsEmpty)
        {
            yield return GateTable.Objects("piece-known", asking.Rules, Phrase.Of("This job has no such piece"), Phrase.Of("choose one of its pieces"), names: [("piece", piece)]);
        }
    }

    public static IEnumerable<Objection> Replace(Job job, Asking asking, LabelReplaced replaced)
    {
        if (replaced.Label != job.Label && !job.Labels.Knows(replaced.Label))
        {
            yield return GateTable.Objects(
                "label-of-job", asking.Rules, Phrase.Of("That label was never this job's"), Phrase.Of("choose a label of this job"), names: [("label", replaced.Label.ToString())]);
        }
        else if (job.Labels.ReplacementOf(replaced.Label) is { } before && before.By != replaced.By)
        {
            yield return Replacement(asking, before);
        }
        else if (job.Labels.ReplacementOf(replaced.By) is { } gone)
        {
            yield return Replacement(asking, gone);
        }
    }

    /// <summary>A label that is to be stuck on must be blank, or be there already.</summary>
    public static IEnumerable<Objection> Free(Job job, Asking asking, Label label, string? piece, Func<Label, string?> namesOf)
    {
        if (label != job.Label && namesOf(label) is { Length: > 0 } named && named != NameOf(job.Label, piece))
        {
            yield return GateTable.Objects("label-free", asking.Rules, Phrase.Of("This label is on something else"), Phrase.Of("take a new label"), names: [("label", label.ToString())]);
        }
        else if (label == job.Label && piece is not null)
        {
            yield return GateTable.Objects("label-free", asking.Rules, Phrase.Of("This label is on something else"), Phrase.Of("take a new label"), names: [("label", label.ToString())]);
        }
    }

    /// <summary>What a label of a job names: <c>job/&lt;label&gt;</c>, or <c>job/&lt;label&gt;/&lt;piece&gt;</c>.</summary>
    public static string NameOf(Label job, string? piece) => piece is null ? $"job/{job}" : $"job/{job}/{piece}";

    private static Objection Replacement(Asking asking, ReplacedLabel replaced) => GateTable.Objects(
        Replaced, asking.Rules, Phrase.Of("STOP: this label was replaced by {0}", replaced.By.ToString()), Phrase.Of("look for the new label; this one may lie on another watch"),
        names: [("label", replaced.Label.ToString()), ("by", replaced.By.ToString()), ("replacedAt", replaced.At.ToString())]);
}
