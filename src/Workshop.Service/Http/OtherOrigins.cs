using Microsoft.Net.Http.Headers;

namespace Workshop.Service.Http;

/// <summary>
/// What pages of other origins may read: the pages of customers, which a storefront shows on its own, and nothing else. Whoever knows the
/// address of one needs no credentials, and none are asked for (Fetch Standard, CORS protocol).
/// </summary>
internal static class OtherOrigins
{
    /// <summary>Where the pages of customers lie.</summary>
    public static readonly PathString Pages = "/v1/public";

    /// <summary>Lets them read an answer, also where it refuses.</summary>
    public static void LetRead(IHeaderDictionary headers)
    {
        headers.AccessControlAllowOrigin = "*";
        headers.AccessControlExposeHeaders = $"{HeaderNames.ETag}, {HeaderNames.RetryAfter}";
        headers["Cross-Origin-Resource-Policy"] = "cross-origin";
    }

    /// <summary>A browser asks first before it sends JSON to another origin.</summary>
    public static void AnswerPreflight(HttpResponse response)
    {
        response.StatusCode = StatusCodes.Status204NoContent;
        response.Headers.AccessControlAllowMethods = "GET, POST";
        response.Headers.AccessControlAllowHeaders = "Content-Type, Accept-Language, If-None-Match";
        response.Headers.AccessControlMaxAge = "86400";
    }
}
