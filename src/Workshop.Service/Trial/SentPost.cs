using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Trial;

/// <summary>One request at the door, as the client under trial sent it.</summary>
/// <param name="Authorization">The header as sent.</param>
/// <param name="SentAt">The header as sent.</param>
/// <param name="MediaType">Without parameters.</param>
/// <param name="Events">In the order sent.</param>
/// <param name="Faults">What the service would find wrong with it before it looks at any job.</param>
/// <param name="DeviceNow">What the device's clock showed.</param>
internal sealed record SentPost(
    string? Authorization, string? SentAt, string? MediaType, ImmutableArray<CloudEvent> Events, ImmutableArray<string> Faults, Instant DeviceNow)
{
    public bool IsBatch => MediaType == CloudEventReader.Batch;

    public static async Task<SentPost> Read(HttpRequest request, Instant deviceNow)
    {
        var mediaType = request.ContentType?.Split(';')[0].Trim().ToLowerInvariant();
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, request.HttpContext.RequestAborted);
        var (events, refusal) = CloudEventReader.Read(body.ToArray(), mediaType == CloudEventReader.Batch);
        return new SentPost(
            request.Headers.Authorization,
            request.Headers["Sent-At"],
            mediaType,
            [.. events.Select(read => read.Event).OfType<CloudEvent>()],
            [
                .. refusal is null ? (string[])[] : [refusal.ProblemDetails.Detail ?? refusal.ProblemDetails.Title!],
                .. events.SelectMany(read => read.Faults).Select(fault => $"{fault.Pointer} {fault.Detail}".Trim()),
            ],
            deviceNow);
    }

    /// <summary>The time in <c>Sent-At</c>; null where there is none that can be read.</summary>
    public Instant? SaidSentAt => SentAt is { } text && OffsetDateTimePattern.Rfc3339.Parse(text) is { Success: true } read ? read.Value.ToInstant() : null;
}
