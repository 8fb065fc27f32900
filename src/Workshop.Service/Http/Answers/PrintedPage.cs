namespace Workshop.Service.Http.Answers;

/// <summary>A page to be printed: one file with its style and pictures inside, without scripts and without anything to be loaded.</summary>
public sealed class PrintedPage(string html) : IResult
{
    public const string MediaType = "text/html";

    public Task ExecuteAsync(HttpContext context)
    {
        var response = context.Response;
        response.ContentType = $"{MediaType}; charset=utf-8";
        response.Headers.CacheControl = "no-store";
        response.Headers.ContentSecurityPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'";
        return response.WriteAsync(html, context.RequestAborted);
    }
}
