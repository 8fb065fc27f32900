using System.Reflection;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Workshop.Service.Http.Bodies;

/// <summary>
/// The bytes of a JSON body, for an endpoint that reads them by itself into what only it knows. Another media type and too many bytes are answered
/// before it runs.
/// </summary>
public sealed class SentJson : IBindableFromHttpContext<SentJson>, IRefusable
{
    public const string MediaType = "application/json";

    private SentJson(ReadOnlyMemory<byte> bytes, ProblemHttpResult? refusal) => (Bytes, Refusal) = (bytes, refusal);

    /// <summary>The body as sent.</summary>
    public ReadOnlyMemory<byte> Bytes { get; }

    public ProblemHttpResult? Refusal { get; }

    public static async ValueTask<SentJson?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var body = await RequestBody.Read(context.Request, MediaType);
        return new SentJson(body.Bytes, body.Refusal);
    }
}
