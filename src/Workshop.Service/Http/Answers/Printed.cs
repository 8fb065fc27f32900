namespace Workshop.Service.Http.Answers;

/// <summary>Something to be printed or shown as it is. The endpoint says of what media type it may be.</summary>
/// <param name="name">The file's name where a browser saves it.</param>
public sealed class Printed(byte[] bytes, string mediaType, string name) : IResult
{
    public int Status { get; init; } = StatusCodes.Status200OK;

    /// <summary>Where the same is to be had again.</summary>
    public string? Location { get; init; }

    /// <summary>The answer is one that was given before.</summary>
    public bool Again { get; init; }

    public async Task ExecuteAsync(HttpContext context)
    {
        var response = context.Response;
        response.StatusCode = Status;
        response.ContentType = mediaType;
        response.ContentLength = bytes.Length;
        response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        response.Headers.CacheControl = "no-store";
        if (Location is not null)
        {
            response.Headers.Location = Location;
        }

        if (Again)
        {
            response.Headers[Once.ReplayedHeader] = "true";
        }

        await response.Body.WriteAsync(bytes, context.RequestAborted);
    }
}
