using Microsoft.Net.Http.Headers;

namespace Workshop.Service.Http;

/// <summary>
/// What every answer tells a browser not to do with it. No other origin may read anything but the pages of customers, which a storefront
/// shows on its own: those are for whoever knows their address, and ask for no credentials.
/// </summary>
internal static class SecurityHeaders
{
    private const string ForData = "default-src 'none'; frame-ancestors 'none'";

    // Both pages come with scripts and styles inside the page; everything they load is ours.
    private const string ForPages =
        "default-src 'self'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; "
        + "connect-src 'self'; frame-ancestors 'none'; base-uri 'self'; form-action 'self'";

    private static readonly PathString[] Pages = ["/docs", "/hangfire"];

    public static void UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        var page = Pages.Any(one => context.Request.Path.StartsWithSegments(one));
        context.Response.OnStarting(() =>
        {
            var headers = context.Response.Headers;
            headers.XContentTypeOptions = "nosniff";
            headers["Referrer-Policy"] = "no-referrer";
            headers["Cross-Origin-Resource-Policy"] = "same-origin";
            if (context.Request.Path.StartsWithSegments(OtherOrigins.Pages))
            {
                OtherOrigins.LetRead(headers);
            }

            if (!headers.ContainsKey(HeaderNames.ContentSecurityPolicy))
            {
                headers.ContentSecurityPolicy = page ? ForPages : ForData;
            }

            if (!headers.ContainsKey(HeaderNames.CacheControl))
            {
                // A shared computer keeps nothing; an ETag still saves the way, since 304 is answered to who asks with it.
                headers.CacheControl = context.Response.StatusCode >= StatusCodes.Status400BadRequest ? "no-store" : "private, no-cache";
            }

            return Task.CompletedTask;
        });
        return next(context);
    });
}
