using System.Collections.Immutable;
using System.Data;
using System.Security.Cryptography;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>What a label is stuck on.</summary>
public sealed record LabelRow
{
    public required string Site { get; init; }

    /// <summary>
    /// <c>job/&lt;label&gt;</c>, <c>job/&lt;label&gt;/&lt;piece&gt;</c>, <c>benches/&lt;id&gt;</c>, <c>people/&lt;id&gt;</c> and so on; empty for one
    /// given out blank.
    /// </summary>
    public required string Names { get; init; }

    /// <summary>Before what a label named that was taken out of use; it never names anything again.</summary>
    public const string Withdrawn = "withdrawn/";

    public static bool IsWithdrawn(string names) => names.StartsWith(Withdrawn, StringComparison.Ordinal);

    /// <summary>The first label of the job that something of this name belongs to, or null where it is no job's.</summary>
    public static Label? JobOf(string names) =>
        names.Split('/') is ["job", var job, ..] && Label.TryRead(job, out var label) ? label : null;

    /// <summary>The piece that something of this name is, or null.</summary>
    public static string? PieceOf(string names) => names.Split('/') is ["job", _, var piece] ? piece : null;
}

/// <summary>
/// The table <c>label</c>: every label given out or bound, of all kinds and sites. The rows of a job's further labels follow from its
/// entries and are written with its other rows.
/// </summary>
internal static class Labels
{
    internal const string BindSql = """
        insert into label (site, label, kind, names, bound)
        values (@site, @label, @kind, @names, @bound)
        on conflict do nothing
        """;

    // A blank one is bound at its first use.
    internal const string FillSql = """
        update label
        set names = @names,
            bound = @bound
        where site = @site
          and label = @label
          and names = ''
          and @names <> ''
        """;

    internal const string WithdrawSql = """
        update label
        set names = @withdrawn || names
        where site = @site
          and label = @label
          and names not like 'job/%'
          and names not like 'withdrawn/%'
        """;

    private const string LetGoSql = """
        delete from label
        where site = @site
          and label = @label
          and names = @names
        """;

    internal const string FindSql = """
        select site, names
        from label
        where label = @label
        """;

    private const int FreeCharacters = Label.Length - 2;

    private static readonly HotSql Bind = new(BindSql,
        ("site", DbType.String), ("label", DbType.String), ("kind", DbType.String), ("names", DbType.String), ("bound", DbType.Int64));

    private static readonly HotSql Fill = new(FillSql,
        ("names", DbType.String), ("bound", DbType.Int64), ("site", DbType.String), ("label", DbType.String));

    private static readonly HotSql LetGo = new(LetGoSql, ("site", DbType.String), ("label", DbType.String), ("names", DbType.String));

    /// <summary>Writes the labels a job has got since its rows were saved; one that it no longer has is nobody's again.</summary>
    public static void Save(HotStatements statements, string site, Job job, ImmutableArray<AttachedLabel> saved, Instant now)
    {
        foreach (var gone in saved.Except(job.Labels.Attached))
        {
            statements.Write(LetGo, site, gone.Label.ToString(), LabelGates.NameOf(job.Label, gone.Piece));
        }

        foreach (var one in job.Labels.Attached.Except(saved).Where(one => one.Label != job.Label))
        {
            var names = LabelGates.NameOf(job.Label, one.Piece);
            statements.Write(Fill, names, Microseconds.Of(now), site, one.Label.ToString());
            statements.Write(Bind, site, one.Label.ToString(), Word.Of(one.Label.Kind), names, Microseconds.Of(now));
        }
    }

    /// <summary>A label by chance; whether it is free is the table's to say.</summary>
    public static Label Draw(LabelKind kind)
    {
        Span<int> free = stackalloc int[FreeCharacters];
        while (true)
        {
            for (var i = 0; i < FreeCharacters; i++)
            {
                free[i] = RandomNumberGenerator.GetInt32(Label.Alphabet.Length);
            }

            if (Label.Complete(kind, free) is { } label)
            {
                return label;
            }
        }
    }
}
