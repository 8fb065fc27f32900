using System.Reflection;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Photos;

/// <summary>A photo that has come.</summary>
/// <param name="Sha256">Its name: of the bytes as they were sent.</param>
/// <param name="StoredSha256">Of what is kept and given out; the ETag of the photo.</param>
/// <param name="Bytes">Of what is kept.</param>
/// <param name="Width">Pixels, upright.</param>
/// <param name="ForCustomer">The customer sees it on their page.</param>
public sealed record PhotoView(string Sha256, string StoredSha256, string MediaType, long Bytes, long Width, long Height, bool ForCustomer)
{
    public static PhotoView Of(StoredPhoto photo) => new(photo.Sha256, photo.StoredSha256, photo.MediaType, photo.Bytes, photo.Width, photo.Height, photo.ForCustomer == 1);
}

/// <summary>201 where it came now, 200 where it was here already; with the ETag of the photo.</summary>
public sealed class PhotoCame(PhotoView photo, bool now) : IResult, IEndpointMetadataProvider
{
    public Task ExecuteAsync(HttpContext context)
    {
        context.Response.StatusCode = now ? StatusCodes.Status201Created : StatusCodes.Status200OK;
        context.Response.Headers.ETag = $"\"{photo.StoredSha256}\"";
        return context.Response.WriteAsJsonAsync(photo, WorkshopJson.Options, AnswerText.Json, context.RequestAborted);
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status201Created, typeof(PhotoView), [AnswerText.Json]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(PhotoView), [AnswerText.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}

/// <summary>
/// Keeps a photo of a job. It is named by the hash of the bytes as they are sent, so that the same again is the same; what is kept is
/// drawn anew from its dots, upright and without place, camera or names. First the files, then the row: a row always has its picture.
/// </summary>
public sealed class KeepPhoto(PhotoSettings settings, PhotoFiles files, Writer writer, Reader reader, IClock clock) : IDisposable
{
    // An unpacked photo takes up to four bytes a pixel, twice over while it is turned: one at a time.
    private readonly SemaphoreSlim oneAtATime = new(1);

    public static async Task<Results<PhotoCame, ProblemHttpResult>> Handle(
        string label, string sha256, HttpRequest request, Caller caller, KeepPhoto keeper, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (!HashName.Is(sha256))
        {
            return Problems.BadParameter("sha256", "A photo is named by the SHA-256 of its bytes: 64 hexadecimal digits, letters small");
        }

        return await keeper.Keep(job, sha256, request, caller, cancel);
    }

    private async Task<Results<PhotoCame, ProblemHttpResult>> Keep(Label job, string sha256, HttpRequest request, Caller caller, CancellationToken cancel)
    {
        // Before forty megabytes are read it is known whether there is anything to keep them for.
        if (await reader.Read(connection => Reader.Entries(connection, caller.Site, job).IsEmpty, cancel))
        {
            return PathLabel.NoJob();
        }

        byte[] bytes;
        try
        {
            bytes = await ReadToEnd(request, settings.BytesAtMost, cancel);
        }
        catch (BadHttpRequestException failure)
        {
            return RequestBody.OfServer(failure);
        }

        var sent = Convert.ToHexStringLower(SHA256.HashData(bytes));
        if (sent != sha256)
        {
            return Problems.Of(ProblemCatalogue.HashDiffers, "What came is not what its name says.", ("named", sha256), ("received", sent));
        }

        var known = await reader.Read(connection => PhotoStore.Find(connection, caller.Site, job, sha256), cancel);
        if (known is not null && files.Has(caller.Site, job, known))
        {
            return new PhotoCame(PhotoView.Of(known), now: false);
        }

        await oneAtATime.WaitAsync(cancel);
        KeptPicture? picture;
        try
        {
            (picture, var fault) = Picture.Keep(bytes, settings.PixelsAtMost, settings.ThumbPixels);
            if (picture is null)
            {
                return Refused(fault!.Value);
            }
        }
        finally
        {
            oneAtATime.Release();
        }

        var photo = new StoredPhoto
        {
            Sha256 = sha256,
            StoredSha256 = Convert.ToHexStringLower(SHA256.HashData(picture.Bytes)),
            MediaType = picture.MediaType,
            Bytes = picture.Bytes.Length,
            Width = picture.Width,
            Height = picture.Height,
            Received = Microseconds.Of(clock.GetCurrentInstant()),
        };
        files.Put(caller.Site, job, photo, picture);
        return await writer.Turn(
            caller.Site,
            turn =>
            {
                // Somebody may have sent the same meanwhile; the files of both are whole, and the row of the first counts.
                var first = PhotoStore.Find(turn, job, sha256);
                if (first is not null && files.Has(caller.Site, job, first))
                {
                    return new PhotoCame(PhotoView.Of(first), now: false);
                }

                PhotoStore.Put(turn, job, photo, caller.Source);
                return new PhotoCame(PhotoView.Of(photo), now: first is null);
            },
            cancel);
    }

    private ProblemHttpResult Refused(PictureFault fault) => fault switch
    {
        PictureFault.OtherKind => Problems.Of(
            ProblemCatalogue.MediaTypeNotTaken, "By its first bytes this is no JPEG, PNG or WebP.", ("accepted", new[] { Picture.Jpeg, Picture.Png, Picture.WebP })),
        PictureFault.TooLarge => Problems.Of(ProblemCatalogue.PhotoTooLarge, $"A photo has at most {settings.PixelsAtMost} pixels.", ("pixelsAtMost", settings.PixelsAtMost)),
        _ => Problems.Of(ProblemCatalogue.PhotoUnreadable, "The picture ends too early, moves, or is broken."),
    };

    // What it is said to be is not asked: its first bytes tell.
    private static async Task<byte[]> ReadToEnd(HttpRequest request, int atMost, CancellationToken cancel)
    {
        using var kept = new MemoryStream((int)Math.Clamp(request.ContentLength ?? 0, 0, atMost));
        await request.Body.CopyToAsync(kept, cancel);
        return kept.ToArray();
    }

    public void Dispose() => oneAtATime.Dispose();
}
