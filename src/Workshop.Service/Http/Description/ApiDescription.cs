using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Scalar.AspNetCore;

namespace Workshop.Service.Http.Description;

/// <summary>The OpenAPI 3.1 document at <c>/openapi/v1.json</c> and the page for people at <c>/docs</c>.</summary>
public static class ApiDescription
{
    public const string Document = "v1";
    public const string BearerScheme = "bearer";
    public const string ProblemSchema = "Problem";
    public const string EventSchema = "CloudEvent";

    private static readonly Dictionary<string, string> Tags = new()
    {
        ["Agenda"] = "What falls due, overdue first.",
        ["Parts"] = "Spare parts: what there is of each and for whom, and what is on order.",
        ["Charts"] = "Worn rates on control charts, instruments held against each other, and plots of a watch's rates.",
        ["Whereabouts"] = "What is where: the list of the evening, and what lies with somebody who is away.",
        ["Arrivals"] = "Watches that are expected, and the slips for their parcels.",
        ["Storefront"] = "What storefronts tell: their signed door, their orders, and what nobody has looked at yet.",
        ["Back-ups"] = "Whether what is kept is kept twice.",
        ["Bench events"] = "The one door for everything a bench says.",
        ["Changes"] = "What was written down, in order.",
        ["Messages out"] = "Where messages go that leave the house, and what became of them.",
        ["Customers"] = "Who people are and how to reach them.",
        ["Devices"] = "Pairing, and what the shop says of a device.",
        ["Events"] = "The shapes of events.",
        ["Extracts"] = "What the owner of a watch may show, sealed, and how a seal is checked.",
        ["Gates"] = "What stands against an event, and how each gate has fared.",
        ["Health"] = "For whoever operates the machine.",
        ["Jobs"] = "Watches in the house: intake, state, history, search.",
        ["Photos"] = "Pictures of a watch and its parts, without place or camera.",
        ["Recordings"] = "The sound of a watch, and what is heard in it: frequency, rate, amplitude and beat error, each with its interval.",
        ["Takedown"] = "How a movement came apart, and the list by which it goes together again.",
        ["Labels"] = "What a label names.",
        ["Money"] = "What was asked, paid and is still owed.",
        ["Oneself"] = "What this key may do, the time, and the words.",
        ["People"] = "The short numbers by which people prove who they are.",
        ["Problems"] = "Every refusal and what to do about it.",
        ["Promises"] = "Dates that were promised, and their moves.",
        ["Quotes"] = "Offers in versions, and their answers.",
        ["Shop"] = "The shop's own data, as documents with versions.",
        ["Warranty"] = "Hand-over, delivery, warranty days and claims.",
        ["Customer's page"] = "What a customer sees of their watch, and what they may say from there.",
        ["Timekeeping"] = "Rates, plots of them, and what customers tell of their watches.",
        ["Cleaning"] = "The cleaning room: runs, fluids, and what to run next.",
        ["Watches"] = "Watches with all their jobs.",
    };

    // It costs some ten milliseconds to write and does not change while the program runs.
    private static readonly TimeSpan KeptFor = TimeSpan.FromHours(1);

    public static void AddApiDescription(this IServiceCollection services) => services.AddOpenApi(Document, options =>
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.CreateSchemaReferenceId = type =>
            ValueSchemas.IsWrittenInPlace(type.Type) ? null
            : type.Type == typeof(ProblemDetails) ? ProblemSchema
            : OpenApiOptions.CreateDefaultSchemaReferenceId(type);
        options.AddSchemaTransformer(ValueSchemas.Describe);
        options.AddOperationTransformer(OperationTexts.Describe);
        options.AddDocumentTransformer(Introduce);
    });

    /// <summary>The page's script comes with the program, and nothing on it leads to its maker: it is read on machines that reach nothing outside.</summary>
    public static void MapApiDescription(this IEndpointRouteBuilder routes)
    {
        routes.MapOpenApi("/openapi/{documentName}.json").CacheOutput(kept => kept.Expire(KeptFor)).AllowAnonymous();
        routes.MapScalarApiReference("/docs", page => page
                .WithTitle("Workshop")
                .AddDocument(Document, routePattern: "/openapi/{documentName}.json")
                .AddPreferredSecuritySchemes(BearerScheme)
                .DisableDefaultFonts()
                .DisableTelemetry()
                .DisableAgent()
                .DisableMcp()
                .HideDeveloperTools()
                .HideClientButton())
            .AllowAnonymous();
    }

    private static Task Introduce(OpenApiDocument document, OpenApiDocumentTransformerContext context, CancellationToken cancel)
    {
        document.Info = new OpenApiInfo
        {
            Title = "Workshop",
            Version = "1",
            Description = """
                Watches move through a workshop of several benches; this service remembers what happened, says what may come
                next and what is due. Times are RFC 3339, dates YYYY-MM-DD, durations ISO 8601, money is in minor units.
                Every refusal is a problem of RFC 9457 whose `code` is listed at `/problems`. Receivers ignore members they
                do not know: within v1 answers only grow.
                """.ReplaceLineEndings(" "),
        };
        document.Servers = [new OpenApiServer { Url = "/" }];
        document.Components ??= new OpenApiComponents();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            [BearerScheme] = new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description = "A key that was given out with `workshop keys add`, bound to one role and one source.",
            },
        };
        document.Components.Schemas ??= new Dictionary<string, IOpenApiSchema>();
        document.Components.Schemas[ProblemSchema] = Shapes.Problem();
        document.Components.Schemas[EventSchema] = Shapes.CloudEvent();

        foreach (var tag in document.Tags ?? new HashSet<OpenApiTag>())
        {
            tag.Description = Tags.GetValueOrDefault(tag.Name ?? "");
        }

        // The order of endpoints in the program says nothing; sorted, a change shows as a change.
        var paths = new OpenApiPaths();
        foreach (var (path, item) in document.Paths.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            paths[path] = item;
        }

        document.Paths = paths;
        return Task.CompletedTask;
    }
}
