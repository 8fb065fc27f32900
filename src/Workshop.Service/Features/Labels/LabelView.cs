using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>What a label is on.</summary>
public sealed record LabelView
{
    public required Label Label { get; init; }

    public required LabelKind Kind { get; init; }

    /// <summary><c>job/&lt;label&gt;</c>, <c>job/&lt;label&gt;/&lt;piece&gt;</c>, <c>benches/…</c>, <c>people/…</c>, <c>words/…</c> and so on; absent for a blank one.</summary>
    public string? Names { get; init; }

    /// <summary>For a label of a watch or of a piece.</summary>
    public JobOfLabel? Job { get; init; }

    /// <summary>For a label that is no longer on the watch.</summary>
    public ReplacementView? Replaced { get; init; }

    /// <summary>True for one that was taken out of use: lost, or torn; it names nothing ever again.</summary>
    public bool? Withdrawn { get; init; }

    public required Say Say { get; init; }

    public static LabelView Of(Label label, string names, Job? job)
    {
        var piece = LabelRow.PieceOf(names);
        var replaced = job?.Labels.ReplacementOf(label);
        var where = job?.Pieces.Meant(piece, null) is [var first, ..] ? first.Holder : null;
        return new LabelView
        {
            Label = label,
            Kind = label.Kind,
            Names = names.Length == 0 || LabelRow.IsWithdrawn(names) ? null : names,
            Withdrawn = LabelRow.IsWithdrawn(names) ? true : null,
            Job = job is null ? null : new JobOfLabel(job.Label, piece, job.Standings.Current, where),
            Replaced = replaced is null ? null : new ReplacementView(replaced.By, replaced.Reason, replaced.At),
            Say = replaced is not null ? new Say(Signal.Stop, $"STOP: this label was replaced by {replaced.By}", $"{replaced.Reason}. The old one may lie on another watch.")
                : LabelRow.IsWithdrawn(names) ? new Say(Signal.Stop, "STOP: this label was taken out of use", $"It was on {names[LabelRow.Withdrawn.Length..]}".TrimEnd())
                : names.Length == 0 ? new Say(Signal.Ask, "Blank: it is on nothing yet")
                : job is null ? new Say(Signal.Ok, names)
                : new Say(Signal.Ok, $"{job.Label}: {piece ?? (job.Standings.Current is { } stage ? Word.Of(stage).Replace('-', ' ') : "nothing left to do")}, {where ?? "nowhere"}"),
        };
    }
}

/// <param name="Label">The job's first label, under which its journal stands.</param>
/// <param name="Piece">For the label of a piece.</param>
/// <param name="Stage">The first required stage that does not stand.</param>
/// <param name="Where">Who or what holds it.</param>
public sealed record JobOfLabel(Label Label, string? Piece, Stage? Stage, string? Where);

/// <param name="By">The label that is on it now.</param>
public sealed record ReplacementView(Label By, string Reason, Instant At);
