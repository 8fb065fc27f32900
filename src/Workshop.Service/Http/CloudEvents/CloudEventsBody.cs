using System.Collections.Immutable;
using System.Reflection;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Bodies;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>A body that holds one event or a batch of events.</summary>
public sealed class CloudEventsBody : IBindableFromHttpContext<CloudEventsBody>, IEndpointParameterMetadataProvider, IRefusable
{
    /// <summary>In the order sent.</summary>
    public ImmutableArray<CloudEventRead> Events { get; private init; } = [];

    /// <summary>A batch is answered with a list, also when it holds one event.</summary>
    public bool IsBatch { get; private init; }

    public ProblemHttpResult? Refusal { get; private init; }

    public static async ValueTask<CloudEventsBody?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var body = await RequestBody.Read(context.Request, CloudEventReader.One, CloudEventReader.Batch);
        if (body.Refusal is { } refusal)
        {
            return new CloudEventsBody { Refusal = refusal };
        }

        var isBatch = body.MediaType == CloudEventReader.Batch;
        var (events, refused) = CloudEventReader.Read(body.Bytes, isBatch);
        return new CloudEventsBody { Events = events, IsBatch = isBatch, Refusal = refused };
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) =>
        builder.Metadata.Add(new AcceptsMetadata([CloudEventReader.One, CloudEventReader.Batch], typeof(object)));
}
