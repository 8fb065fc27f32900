using System.Reflection;
using NodaTime;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// The header <c>Sent-At</c>: what the device's own clock shows as it posts, even if that is wrong. One that cannot be read is as good as
/// none: it must not keep an event from being taken in.
/// </summary>
public sealed record SentAt(Instant? Shown) : IBindableFromHttpContext<SentAt>
{
    public const string Header = "Sent-At";

    public static ValueTask<SentAt?> BindAsync(HttpContext context, ParameterInfo parameter) =>
        ValueTask.FromResult<SentAt?>(new SentAt(context.Request.Headers[Header] is [{ } text] && Rfc3339.Read(text) is { } shown ? shown.ToInstant() : null));
}
