using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Photos;

/// <summary>That a photo has come; the picture itself lies beside the database.</summary>
public sealed record StoredPhoto
{
    /// <summary>Of the bytes as they were sent; the photo's name for ever.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Of the bytes that are kept.</summary>
    public required string StoredSha256 { get; init; }

    public required string MediaType { get; init; }

    /// <summary>Of the picture that is kept.</summary>
    public required long Bytes { get; init; }

    /// <summary>Pixels, upright.</summary>
    public required long Width { get; init; }

    public required long Height { get; init; }

    /// <summary>Microseconds.</summary>
    public required long Received { get; init; }

    /// <summary>1: the customer may see it.</summary>
    public long ForCustomer { get; init; }
}

/// <summary>The table <c>photo</c>.</summary>
public static class PhotoStore
{
    private const string FindSql = """
        select sha256, stored_sha256, media_type, bytes, width, height, received, for_customer
        from photo
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    private const string OfJobSql = """
        select sha256, stored_sha256, media_type, bytes, width, height, received, for_customer
        from photo
        where site = @site
          and job = @job
        order by sha256
        """;

    // Whoever sends again a photo whose file is gone gets it kept anew, perhaps as other bytes.
    private const string PutSql = """
        insert into photo (site, job, sha256, stored_sha256, media_type, bytes, width, height, received, source)
        values (@site, @job, @sha256, @stored_sha256, @media_type, @bytes, @width, @height, @received, @source)
        on conflict (site, job, sha256) do update
        set stored_sha256 = excluded.stored_sha256,
            media_type = excluded.media_type,
            bytes = excluded.bytes,
            width = excluded.width,
            height = excluded.height
        """;

    private const string ShowSql = """
        update photo
        set for_customer = @for_customer
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    public static StoredPhoto? Find(DbConnection connection, string site, Label job, string sha256) =>
        connection.QueryFirstOrDefault<StoredPhoto>(FindSql, new { site, job = job.ToString(), sha256 });

    public static StoredPhoto? Find(Turn turn, Label job, string sha256) =>
        turn.QueryFirst<StoredPhoto>(FindSql, new { site = turn.Site, job = job.ToString(), sha256 });

    /// <summary>What has come of a job's photos, by their names.</summary>
    public static ImmutableDictionary<string, StoredPhoto> OfJob(DbConnection connection, string site, Label job) =>
        connection.Query<StoredPhoto>(OfJobSql, new { site, job = job.ToString() }).ToImmutableDictionary(one => one.Sha256, StringComparer.Ordinal);

    /// <summary>Marks a photo for the customer, or no longer.</summary>
    /// <returns>false: it has not come.</returns>
    public static bool Show(Turn turn, Label job, string sha256, bool forCustomer) =>
        turn.Execute(ShowSql, new { site = turn.Site, job = job.ToString(), sha256, for_customer = forCustomer ? 1 : 0 }) == 1;

    public static void Put(Turn turn, Label job, StoredPhoto photo, string source) => turn.Execute(PutSql, new
    {
        site = turn.Site,
        job = job.ToString(),
        sha256 = photo.Sha256,
        stored_sha256 = photo.StoredSha256,
        media_type = photo.MediaType,
        bytes = photo.Bytes,
        width = photo.Width,
        height = photo.Height,
        received = photo.Received,
        source,
    });
}
