using System.Text.Unicode;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Http.Bodies;

/// <summary>The bytes of a request's body and what they claim to be.</summary>
/// <param name="MediaType">One of the media types asked for; empty where refused.</param>
/// <param name="Bytes">Valid UTF-8 without a byte order mark.</param>
public readonly record struct RequestBody(string MediaType, ReadOnlyMemory<byte> Bytes, ProblemHttpResult? Refusal)
{
    private static ReadOnlySpan<byte> ByteOrderMark => [0xEF, 0xBB, 0xBF];

    /// <summary>Reads the whole body if it is of one of these media types, encoded as UTF-8 and no larger than the limit.</summary>
    public static async ValueTask<RequestBody> Read(HttpRequest request, params string[] mediaTypes)
    {
        if (MediaTypeOf(request, mediaTypes) is not { } mediaType)
        {
            return Refused(Problems.Of(
                ProblemCatalogue.MediaTypeNotTaken,
                $"The body has to be {string.Join(" or ", mediaTypes)}, in UTF-8 and without a content encoding.",
                ("accepted", mediaTypes)));
        }

        byte[] bytes;
        try
        {
            bytes = await ReadToEnd(request);
        }
        catch (BadHttpRequestException failure)
        {
            return Refused(OfServer(failure));
        }

        var text = bytes.AsMemory(bytes.AsSpan().StartsWith(ByteOrderMark) ? ByteOrderMark.Length : 0);
        return Utf8.IsValid(text.Span)
            ? new RequestBody(mediaType, text, null)
            : Refused(Problems.Of(ProblemCatalogue.UnreadableJson, "The body is not valid UTF-8."));
    }

    /// <summary>What the web server itself found wrong with a request, as a problem.</summary>
    public static ProblemHttpResult OfServer(BadHttpRequestException failure) =>
        ProblemCatalogue.OfStatus(failure.StatusCode) is { } kind && kind != ProblemCatalogue.RequestUnreadable
            ? Problems.Of(kind, kind.Remedy)
            : Problems.Of(ProblemCatalogue.RequestUnreadable, "The request ended before it was complete, or its framing is wrong.");

    private static RequestBody Refused(ProblemHttpResult refusal) => new("", default, refusal);

    private static string? MediaTypeOf(HttpRequest request, string[] mediaTypes) =>
        request.Headers.ContentEncoding.Count == 0
        && MediaTypeHeaderValue.TryParse(request.ContentType, out var sent)
        && (!sent.Charset.HasValue || HeaderUtilities.RemoveQuotes(sent.Charset).Equals("utf-8", StringComparison.OrdinalIgnoreCase))
            ? mediaTypes.FirstOrDefault(one => sent.MediaType.Equals(one, StringComparison.OrdinalIgnoreCase))
            : null;

    private static async ValueTask<byte[]> ReadToEnd(HttpRequest request)
    {
        var cancel = request.HttpContext.RequestAborted;
        if (request.ContentLength is { } length)
        {
            // A length beyond the limit is refused by the first read; nothing of that size is set aside for it.
            var limit = request.HttpContext.Features.Get<Microsoft.AspNetCore.Http.Features.IHttpMaxRequestBodySizeFeature>()?.MaxRequestBodySize;
            var bytes = new byte[length <= (limit ?? length) ? length : 1];
            await request.Body.ReadExactlyAsync(bytes, cancel);
            return bytes;
        }

        using var kept = new MemoryStream();
        await request.Body.CopyToAsync(kept, cancel);
        return kept.ToArray();
    }
}
