using System.Net;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using SkiaSharp;
using Workshop.Service.Features.Photos;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Takedown;

/// <summary>Photos: named by what was sent, kept without what the camera wrote, and never a way to bring the service down.</summary>
public class PhotoTests
{
    [Theory]
    [BothEngines]
    public async Task A_photo_is_kept_upright_without_place_or_camera_under_the_hash_of_what_was_sent(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var sent = Pictures.FromACamera();
        Assert.Contains(Pictures.Camera, Encoding.Latin1.GetString(sent));

        using var first = await host.Bench.PutPhoto(job, sent);
        using var again = await host.Bench.PutPhoto(job, sent);
        var kept = await first.Json();
        using var read = await host.Desk.GetAsync($"/v1/jobs/{job}/photos/{Pictures.HashOf(sent)}");
        var bytes = await read.Content.ReadAsByteArrayAsync();
        using var picture = SKBitmap.Decode(bytes);

        Assert.Equal((HttpStatusCode.Created, HttpStatusCode.OK), (first.StatusCode, again.StatusCode));
        Assert.Equal(Pictures.HashOf(sent), kept.Text("sha256"));
        Assert.Equal(Pictures.HashOf(bytes), kept.Text("storedSha256"));
        Assert.Equal($"\"{kept.Text("storedSha256")}\"", read.Headers.ETag!.Tag);
        Assert.Equal(first.Headers.ETag, read.Headers.ETag);
        Assert.Equal(first.Headers.ETag, again.Headers.ETag);
        Assert.Equal("image/jpeg", read.Content.Headers.ContentType!.MediaType);

        // The camera was held on its side: red, which was left, is above.
        Assert.Equal((32, 64), (picture.Width, picture.Height));
        Assert.True(picture.GetPixel(16, 8).Red > 200 && picture.GetPixel(16, 56).Blue > 200);
        var text = Encoding.Latin1.GetString(bytes);
        Assert.DoesNotContain(Pictures.Camera, text);
        Assert.DoesNotContain("Exif", text);

        using var thumb = await host.Bench.GetAsync($"/v1/jobs/{job}/photos/{Pictures.HashOf(sent)}/thumb");
        Assert.Equal("image/jpeg", thumb.Content.Headers.ContentType!.MediaType);
        Assert.NotEqual(read.Headers.ETag, thumb.Headers.ETag);
        using var seen = await host.Bench.Send(HttpMethod.Get, $"/v1/jobs/{job}/photos/{Pictures.HashOf(sent)}", null, "", [("If-None-Match", read.Headers.ETag.Tag)]);
        Assert.Equal(HttpStatusCode.NotModified, seen.StatusCode);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Png, "image/png")]
    [InlineData(SKEncodedImageFormat.Webp, "image/webp")]
    [InlineData(SKEncodedImageFormat.Jpeg, "image/jpeg")]
    public void What_is_kept_is_of_the_kind_that_was_sent_and_its_small_picture_is_small(SKEncodedImageFormat format, string mediaType)
    {
        var (kept, fault) = Picture.Keep(Pictures.TwoHalves(format, 900, 300), 50_000_000, 200);
        using var thumb = SKBitmap.Decode(kept!.Thumb);

        Assert.Null(fault);
        Assert.Equal((mediaType, 900, 300, mediaType), (kept.MediaType, kept.Width, kept.Height, Picture.Sniffed(kept.Bytes)));
        Assert.Equal((200, 67), (thumb.Width, thumb.Height));
    }

    // How a picture stands for each value of the tag, by where red, which is left as stored, comes to lie.
    [Theory]
    [InlineData(1, 8, 16)]
    [InlineData(2, 56, 16)]
    [InlineData(3, 56, 16)]
    [InlineData(4, 8, 16)]
    [InlineData(5, 16, 8)]
    [InlineData(6, 16, 8)]
    [InlineData(7, 16, 56)]
    [InlineData(8, 16, 56)]
    public void However_the_camera_was_held_the_picture_stands_upright(ushort orientation, int x, int y)
    {
        var (kept, _) = Picture.Keep(Pictures.FromACamera(orientation), 50_000_000, 200);
        using var picture = SKBitmap.Decode(kept!.Bytes);

        Assert.True(picture.GetPixel(x, y).Red > 200 && picture.GetPixel(x, y).Blue < 60, $"{picture.GetPixel(x, y)}");
        Assert.True(picture.GetPixel(picture.Width - 1 - x, picture.Height - 1 - y).Blue is > 200 || orientation is 4 or 2 or 5 or 7);
    }

    [Fact]
    public async Task What_is_no_photo_is_refused_and_never_a_failure_of_the_service()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var whole = Pictures.TwoHalves(width: 640, height: 480);
        (byte[] Bytes, int Status, string Code)[] hostile =
        [
            ([], 415, "media-type-not-taken"),
            ("<svg xmlns='http://www.w3.org/2000/svg'/>"u8.ToArray(), 415, "media-type-not-taken"),
            ("GIF89a"u8.ToArray(), 415, "media-type-not-taken"),
            (whole[..3], 422, "photo-unreadable"),
            (whole[..(whole.Length / 2)], 422, "photo-unreadable"),
            ([.. whole[..20], .. "not dots at all"u8], 422, "photo-unreadable"),
            (Pictures.TwoHalves(SKEncodedImageFormat.Png)[..60], 422, "photo-unreadable"),
            (Pictures.PngClaiming(60_000, 60_000), 422, "photo-too-large"),
            (Pictures.PngClaiming(7_000, 7_000), 422, "photo-unreadable"),
            (Pictures.MovingPng(), 422, "photo-unreadable"),
            (Pictures.MovingWebP(), 422, "photo-unreadable"),
            ("RIFF\u0004\0\0\0WEBP"u8.ToArray(), 422, "photo-unreadable"),
        ];

        foreach (var (bytes, status, code) in hostile)
        {
            using var answer = await host.Bench.PutPhoto(job, bytes);
            var problem = await answer.Problem();
            Assert.Equal((status, code), (problem.Status, problem.Code));
            Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync($"/v1/jobs/{job}/photos/{Pictures.HashOf(bytes)}")).StatusCode);
        }

        Assert.Empty(Directory.Exists(host.Services.GetRequiredService<PhotoSettings>().Folder)
            ? Directory.GetFiles(host.Services.GetRequiredService<PhotoSettings>().Folder, "*", SearchOption.AllDirectories) : []);
    }

    [Fact]
    public async Task Bytes_under_another_name_too_many_bytes_and_other_names_are_refused()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Limits:PhotoBytes"] = "65536" });
        var job = await host.TakeIn();
        var photo = Pictures.TwoHalves();

        var differs = await (await host.Bench.Put($"/v1/jobs/{job}/photos/{new string('0', 64)}", photo)).Problem();
        var large = await (await host.Bench.Put($"/v1/jobs/{job}/photos/{new string('0', 64)}", new byte[65_537])).Problem();
        var noName = await (await host.Bench.Put($"/v1/jobs/{job}/photos/{Pictures.HashOf(photo).ToUpperInvariant()}", photo)).Problem();
        var noJob = await (await host.Bench.Put($"/v1/jobs/J7K3MQ43/photos/{Pictures.HashOf(photo)}", photo)).Problem();

        Assert.Equal((422, "hash-differs"), (differs.Status, differs.Code));
        Assert.Equal(Pictures.HashOf(photo), differs.Whole.Text("received"));
        Assert.Equal(413, large.Status);
        Assert.Equal("bad-fields", noName.Code);
        Assert.Equal("no-such-thing", noJob.Code);
    }

    [Fact]
    public async Task A_photo_whose_file_is_gone_is_awaited_again_and_comes_back_when_it_is_sent()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var photo = Pictures.TwoHalves();
        await (await host.Bench.PutPhoto(job, photo)).Json();
        Directory.Delete(host.Services.GetRequiredService<PhotoSettings>().Folder, recursive: true);

        var gone = await host.Bench.GetAsync($"/v1/jobs/{job}/photos/{Pictures.HashOf(photo)}");
        await (await host.Bench.PutPhoto(job, photo)).Json();
        var back = await host.Bench.GetAsync($"/v1/jobs/{job}/photos/{Pictures.HashOf(photo)}");

        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.OK), (gone.StatusCode, back.StatusCode));
    }

    [Fact]
    public async Task The_same_photo_sent_by_many_at_once_is_one()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var photo = Pictures.TwoHalves();

        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => host.Bench.PutPhoto(job, photo)));

        Assert.Equal(1, answers.Count(answer => answer.StatusCode == HttpStatusCode.Created));
        Assert.Single(answers.Select(answer => answer.Headers.ETag).Distinct());
        Assert.Equal(2, Directory.GetFiles(host.Services.GetRequiredService<PhotoSettings>().Folder, "*", SearchOption.AllDirectories).Length);
    }
}

internal static class PhotoClient
{
    /// <summary>Said to be a JPEG whatever it is: nobody believes it.</summary>
    public static Task<HttpResponseMessage> Put(this HttpClient client, string address, byte[] bytes)
    {
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new("image/jpeg");
        return client.PutAsync(address, content);
    }

    public static Task<HttpResponseMessage> PutPhoto(this HttpClient client, string job, byte[] bytes) => client.Put($"/v1/jobs/{job}/photos/{Pictures.HashOf(bytes)}", bytes);
}
