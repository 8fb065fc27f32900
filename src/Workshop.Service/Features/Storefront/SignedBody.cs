using System.Reflection;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Features.Storefront;

/// <summary>A body byte for byte, with the headers by which it is signed. What it says is nobody's matter before that is proven.</summary>
public sealed class SignedBody : IBindableFromHttpContext<SignedBody>, IEndpointParameterMetadataProvider, IRefusable
{
    public byte[] Bytes { get; private init; } = [];

    public WebhookHeaders Headers { get; private init; }

    public ProblemHttpResult? Refusal { get; private init; }

    public static async ValueTask<SignedBody?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        try
        {
            using var read = new MemoryStream();
            await context.Request.Body.CopyToAsync(read, context.RequestAborted);
            return new SignedBody { Bytes = read.ToArray(), Headers = WebhookHeaders.Of(context.Request.Headers) };
        }
        catch (BadHttpRequestException failure)
        {
            return new SignedBody { Refusal = RequestBody.OfServer(failure) };
        }
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) =>
        builder.Metadata.Add(new AcceptsMetadata([CloudEventReader.One, CloudEventReader.Batch], typeof(object)));
}
