using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using Workshop.Core.Journal;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Photos;

/// <summary>A photo of a job as it is kept, or its small picture.</summary>
public static class ReadPhoto
{
    public static Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Whole(
        string label, string sha256, HttpResponse response, Caller caller, Reader reader, PhotoFiles files, CancellationToken cancel) =>
        Read(label, sha256, thumb: false, response, caller, reader, files, cancel);

    public static Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Thumb(
        string label, string sha256, HttpResponse response, Caller caller, Reader reader, PhotoFiles files, CancellationToken cancel) =>
        Read(label, sha256, thumb: true, response, caller, reader, files, cancel);

    private static async Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Read(
        string label, string sha256, bool thumb, HttpResponse response, Caller caller, Reader reader, PhotoFiles files, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (!HashName.Is(sha256)
            || await reader.Read(connection => PhotoStore.Find(connection, caller.Site, job, sha256), cancel) is not { } photo
            || files.Find(caller.Site, job, photo, thumb) is not { } path)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "This photo has not come yet, or belongs to another job.");
        }

        // What a name leads to never changes; a shared cache keeps no customer's things all the same.
        response.Headers.CacheControl = "private, no-cache";
        var tag = new EntityTagHeaderValue(string.Create(CultureInfo.InvariantCulture, $"\"{photo.StoredSha256}{(thumb ? "-thumb" : "")}\""));
        return TypedResults.PhysicalFile(Path.GetFullPath(path), thumb ? Picture.Jpeg : photo.MediaType, entityTag: tag);
    }
}
