using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage;

/// <summary>Which recordings of a job have come, for whoever names one.</summary>
public static class RecordingNames
{
    private const string OfJobSql = """
        select sha256
        from recording
        where site = @site
          and job = @job
        """;

    public static ImmutableHashSet<string> OfJob(DbConnection connection, string site, Label job) =>
        connection.Query<string>(OfJobSql, new { site, job = job.ToString() }).ToImmutableHashSet(StringComparer.Ordinal);
}
