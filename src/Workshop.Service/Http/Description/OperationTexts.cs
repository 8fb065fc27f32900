using System.Reflection;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Http.Description;

/// <summary>What an endpoint answers besides its own answer; for the API description.</summary>
/// <param name="Kinds">Problems of this endpoint alone; those every endpoint may answer with are added by themselves.</param>
public sealed record MayAnswer(params ProblemKind[] Kinds);

/// <summary>An example of a body sent and of the answer, as JSON texts; for the API description.</summary>
public sealed record Example(string? Request, string? Answer);

/// <summary>Fills the description of an endpoint from what the endpoint itself says of itself.</summary>
public static class OperationTexts
{
    /// <summary>Names the problems that this endpoint may answer with besides the usual ones.</summary>
    public static TBuilder WithProblems<TBuilder>(this TBuilder endpoint, params ProblemKind[] kinds) where TBuilder : IEndpointConventionBuilder =>
        endpoint.WithMetadata(new MayAnswer(kinds));

    /// <summary>Shows an example; a test reads the request as the endpoint would.</summary>
    public static TBuilder WithExample<TBuilder>(this TBuilder endpoint, string? request = null, string? answer = null) where TBuilder : IEndpointConventionBuilder =>
        endpoint.WithMetadata(new Example(request, answer));

    internal static Task Describe(OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancel)
    {
        var endpoint = context.Description.ActionDescriptor.EndpointMetadata;
        operation.OperationId ??= NameOf(endpoint);
        operation.Responses ??= [];
        AddWho(operation, endpoint, context);
        AddParameters(operation, endpoint);
        AddProblems(operation, endpoint, context);
        AddHeaders(operation, endpoint);
        AddEvents(operation, context);
        AddExample(operation, endpoint);
        return Task.CompletedTask;
    }

    private static void AddWho(OpenApiOperation operation, IList<object> endpoint, OpenApiOperationTransformerContext context)
    {
        if (First<IAllowAnonymous>(endpoint) is not null)
        {
            operation.Security = [];
            return;
        }

        operation.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(ApiDescription.BearerScheme, context.Document)] = [] }];
        if (First<OperationOf>(endpoint) is { } one)
        {
            var who = $"For keys of the role {string.Join(", ", Operations.MayDo(one.Operation).Select(Word.Of))}.";
            operation.Description = string.IsNullOrEmpty(operation.Description) ? who : $"{operation.Description} {who}";
        }
    }

    private static void AddParameters(OpenApiOperation operation, IList<object> endpoint)
    {
        operation.Parameters ??= [];
        if (First<TakesPage>(endpoint) is not null)
        {
            operation.Parameters.Add(new OpenApiParameter
            {
                Name = "limit",
                In = ParameterLocation.Query,
                Description = "How many, at most.",
                Schema = new OpenApiSchema { Type = JsonSchemaType.Integer, Format = "int32", Minimum = "1", Maximum = $"{Page.LimitAtMost}", Default = Page.LimitUsually },
            });
            operation.Parameters.Add(Text("cursor", ParameterLocation.Query, "From the Link of the page before.", needed: false));
        }

        if (First<TakesIdempotencyKey>(endpoint) is not null)
        {
            operation.Parameters.Add(Text(Once.KeyHeader, ParameterLocation.Header,
                "A new one for each new thing. The same key with the same body gives the first answer again; without a key a repeat is a new request.", needed: false));
        }

        if (First<SpeaksLanguages>(endpoint) is not null)
        {
            operation.Parameters.Add(Text("Accept-Language", ParameterLocation.Header, "English (`en`, the default) or German (`de`).", needed: false));
        }

        if (First<NeedsIfMatch>(endpoint) is { } ifMatch)
        {
            operation.Parameters.Add(Text(
                "If-Match", ParameterLocation.Header,
                ifMatch.UnlessNew ? "The ETag of the state that was seen; left out for what is not there yet." : "The ETag of the state that was seen.", needed: !ifMatch.UnlessNew));
        }
    }

    private static void AddProblems(OpenApiOperation operation, IList<object> endpoint, OpenApiOperationTransformerContext context)
    {
        var kinds = endpoint.OfType<MayAnswer>().SelectMany(one => one.Kinds).ToList();
        if (First<IAllowAnonymous>(endpoint) is null)
        {
            kinds.AddRange([ProblemCatalogue.KeyNeeded, ProblemCatalogue.NotForThisRole]);
        }

        if (First<IAcceptsMetadata>(endpoint) is not null)
        {
            kinds.AddRange([ProblemCatalogue.UnreadableJson, ProblemCatalogue.BodyTooLarge, ProblemCatalogue.MediaTypeNotTaken, ProblemCatalogue.BadFields]);
        }

        if (First<TakesPage>(endpoint) is not null)
        {
            kinds.Add(ProblemCatalogue.BadFields);
        }

        if (First<TakesIdempotencyKey>(endpoint) is not null)
        {
            kinds.AddRange([ProblemCatalogue.IdempotencyKeyUnreadable, ProblemCatalogue.StillRunning, ProblemCatalogue.IdempotencyKeyReused]);
        }

        if (First<NeedsIfMatch>(endpoint) is not null)
        {
            kinds.AddRange([ProblemCatalogue.ChangedMeanwhile, ProblemCatalogue.IfMatchNeeded]);
        }

        kinds.AddRange([ProblemCatalogue.TooManyRequests, ProblemCatalogue.Unexpected, ProblemCatalogue.StorageBusy, ProblemCatalogue.StorageUnavailable]);
        foreach (var sameStatus in kinds.Distinct().GroupBy(kind => kind.Status).OrderBy(group => group.Key))
        {
            operation.Responses![$"{sameStatus.Key}"] = new OpenApiResponse
            {
                Description = string.Join(" ", sameStatus.Select(kind => $"`{kind.Code}`: {kind.Title}.")),
                Content = new Dictionary<string, OpenApiMediaType>
                {
                    [Problems.MediaType] = new() { Schema = new OpenApiSchemaReference(ApiDescription.ProblemSchema, context.Document) },
                },
            };
        }
    }

    private static void AddHeaders(OpenApiOperation operation, IList<object> endpoint)
    {
        foreach (var (status, response) in operation.Responses!)
        {
            if (status is "200" or "201" && response is OpenApiResponse answer && First<GivesETag>(endpoint) is not null)
            {
                answer.Headers ??= new Dictionary<string, IOpenApiHeader>();
                answer.Headers["ETag"] = new OpenApiHeader { Description = "The state shown.", Schema = new OpenApiSchema { Type = JsonSchemaType.String } };
            }
        }
    }

    // What is sent is short and stands with the endpoint; answers are long and stand in files by the operation's name.
    private static void AddExample(OpenApiOperation operation, IList<object> endpoint)
    {
        var example = First<Example>(endpoint);
        foreach (var (mediaType, body) in operation.RequestBody?.Content ?? new Dictionary<string, OpenApiMediaType>())
        {
            body.Example = example?.Request is not { } sent ? null : mediaType == CloudEventReader.Batch ? new JsonArray(JsonNode.Parse(sent)) : JsonNode.Parse(sent);
        }

        foreach (var body in operation.Responses!.Where(pair => pair.Key.StartsWith('2')).SelectMany(pair => pair.Value.Content?.Values ?? []))
        {
            body.Example = (example?.Answer ?? FileOf(operation.OperationId)) is { } answered ? JsonNode.Parse(answered) : null;
        }
    }

    private static string? FileOf(string? operation)
    {
        using var file = typeof(OperationTexts).Assembly.GetManifestResourceStream($"Examples/{operation}.json");
        if (file is null)
        {
            return null;
        }

        using var text = new StreamReader(file);
        return text.ReadToEnd();
    }

    private static void AddEvents(OpenApiOperation operation, OpenApiOperationTransformerContext context)
    {
        foreach (var (mediaType, body) in operation.RequestBody?.Content ?? new Dictionary<string, OpenApiMediaType>())
        {
            var one = new OpenApiSchemaReference(ApiDescription.EventSchema, context.Document);
            body.Schema = mediaType switch
            {
                CloudEventReader.One => one,
                CloudEventReader.Batch => new OpenApiSchema { Type = JsonSchemaType.Array, MinItems = 1, MaxItems = CloudEventReader.BatchAtMost, Items = one },
                _ => body.Schema,
            };
        }
    }

    // A use case is a class named after what it does; its name is the operation's.
    private static string? NameOf(IList<object> endpoint) =>
        endpoint.OfType<MethodInfo>().FirstOrDefault()?.DeclaringType?.Name is { } name && char.IsAsciiLetterUpper(name[0]) && !name.EndsWith("Endpoints", StringComparison.Ordinal)
            ? char.ToLowerInvariant(name[0]) + name[1..]
            : null;

    private static OpenApiParameter Text(string name, ParameterLocation where, string description, bool needed) => new()
    {
        Name = name,
        In = where,
        Required = needed,
        Description = description,
        Schema = new OpenApiSchema { Type = JsonSchemaType.String },
    };

    private static T? First<T>(IList<object> endpoint) where T : class => endpoint.OfType<T>().FirstOrDefault();
}
