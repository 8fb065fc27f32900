using System.Data.Common;
using Dapper;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>Reads what labels name, beside the writer. A label of another site is one nobody knows here.</summary>
internal static class LabelStore
{
    private const string FindSql = """
        select site, names
        from label
        where site = @site
          and label = @label
        """;

    /// <returns>What it names, with the job it belongs to; null where it is not known here.</returns>
    public static (string Names, Job? Job)? Find(DbConnection connection, string site, Label label, ShopRules rules)
    {
        var names = connection.QueryFirstOrDefault<LabelRow>(FindSql, new { site, label = label.ToString() })?.Names
            ?? (label.Kind == LabelKind.Badge && rules.PersonBehind(label.ToString()) is { } person ? $"people/{person.Id}"
                : label.Kind == LabelKind.Job ? StreamEntry.OfJob(label)
                : null);
        if (names is null || LabelRow.JobOf(names) is not { } first)
        {
            return names is null ? null : (names, null);
        }

        var entries = Reader.Entries(connection, site, first);
        return entries.IsEmpty ? null : (names, Job.Replay(first, entries));
    }
}
