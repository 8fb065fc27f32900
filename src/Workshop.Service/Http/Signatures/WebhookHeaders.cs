namespace Workshop.Service.Http.Signatures;

/// <summary>The three headers of a signed message, as they came; null where one is missing (Standard Webhooks 1.0.0).</summary>
/// <param name="Id">Of the message; the same whenever it is sent again.</param>
/// <param name="Timestamp">Of this attempt, in seconds since 1970.</param>
/// <param name="Signature">One or several, with blanks between them.</param>
public readonly record struct WebhookHeaders(string? Id, string? Timestamp, string? Signature)
{
    public const string IdName = "webhook-id";
    public const string TimestampName = "webhook-timestamp";
    public const string SignatureName = "webhook-signature";

    public static WebhookHeaders Of(IHeaderDictionary headers) => new(One(headers, IdName), One(headers, TimestampName), One(headers, SignatureName));

    private static string? One(IHeaderDictionary headers, string name) => headers[name] is { Count: > 0 } values ? values.ToString() : null;
}
