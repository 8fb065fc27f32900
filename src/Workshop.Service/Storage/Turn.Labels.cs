using Workshop.Core.Casing;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <content>Labels: what they name, and what bears them.</content>
public sealed partial class Turn
{
    private const int LabelAttempts = 100;

    private const string OtherJobSql = """
        select label
        from job
        where site = @site
          and in_house = 1
          and label <> @not_this
          and (label = @key or case_serial_key = @key or movement_number_key = @key)
        order by label
        limit 1
        """;

    /// <summary>Says what a label is stuck on.</summary>
    /// <returns>false: it names something already, here or in another site.</returns>
    public bool BindLabel(Label label, string names)
    {
        var row = new { site = Site, label = label.ToString(), kind = Word.Of(label.Kind), names, bound = Microseconds.Of(Now) };
        return Execute(Labels.FillSql, row) == 1 || Execute(Labels.BindSql, row) == 1;
    }

    /// <summary>Takes a label of the house, or a blank one, out of use; nothing happens to one of a watch or of a piece.</summary>
    public void WithdrawLabel(Label label) => Execute(Labels.WithdrawSql, new { withdrawn = LabelRow.Withdrawn, site = Site, label = label.ToString() });

    /// <summary>What a label names, in whatever site: null for one nobody knows, empty for a blank one of this site.</summary>
    public string? NamesOf(Label label) => FindLabel(label) is not { } row ? null : row.Site == Site ? row.Names : $"sites/{row.Site}";

    /// <summary>The row of a label, whatever the site.</summary>
    public LabelRow? FindLabel(Label label) => QueryFirst<LabelRow>(Labels.FindSql, new { label = label.ToString() });

    /// <summary>The job that a label means: its first label, a further one, or that of a piece.</summary>
    public JobHistory? HistoryBehind(Label label) =>
        label.Kind is not (LabelKind.Job or LabelKind.Piece) ? null
        : label.Kind == LabelKind.Job && History(label) is { } own ? own
        : FindLabel(label) is { } row && row.Site == Site && LabelRow.JobOf(row.Names) is { } job ? History(job)
        : null;

    /// <summary>A new label by chance, bound to what it names; empty for a blank one.</summary>
    public Label DrawLabel(LabelKind kind, Func<Label, string> names)
    {
        for (var attempt = 0; attempt < LabelAttempts; attempt++)
        {
            var label = draw(kind);
            if (BindLabel(label, names(label)))
            {
                return label;
            }
        }

        throw new InvalidOperationException($"No label of the kind {Word.Of(kind)} was free in {LabelAttempts} attempts.");
    }

    /// <summary>Another job in the house with this label, case serial or movement number.</summary>
    public Label? OtherJobWithNumber(string number, Label notThis) =>
        WatchNumber.Key(number) is { } key && QueryFirst<string>(OtherJobSql, new { site = Site, not_this = notThis.ToString(), key }) is { } label
            ? Label.Read(label)
            : Label.TryRead(number, out var further) && FindLabel(further.Value) is { } row && row.Site == Site && LabelRow.JobOf(row.Names) is { } other && other != notThis
            ? other
            : null;
}
