using Microsoft.OpenApi;

namespace Workshop.Service.Http.Description;

/// <summary>Shapes that no type of ours declares, since others have defined them.</summary>
internal static class Shapes
{
    /// <summary>The members that every problem has.</summary>
    internal static OpenApiSchema Problem() => new()
    {
        Type = JsonSchemaType.Object,
        Description = "A refusal by RFC 9457. Further members name what the refusal is about.",
        Required = new HashSet<string> { "type", "title", "status", "code" },
        Properties = new Dictionary<string, IOpenApiSchema>
        {
            ["type"] = new OpenApiSchema { Type = JsonSchemaType.String, Format = "uri-reference", Description = "/problems/<code>, an address of this service." },
            ["title"] = new OpenApiSchema { Type = JsonSchemaType.String, Description = "The same for every problem of the kind." },
            ["status"] = new OpenApiSchema { Type = JsonSchemaType.Integer, Format = "int32" },
            ["detail"] = new OpenApiSchema { Type = JsonSchemaType.String, Description = "One sentence about this very case." },
            ["code"] = new OpenApiSchema { Type = JsonSchemaType.String, Description = "Stable; listed at /problems." },
            ["errors"] = new OpenApiSchema
            {
                Type = JsonSchemaType.Array,
                Description = "With bad-fields: what is wrong, by JSON Pointer into the body or by the parameter's name.",
                Items = new OpenApiSchema
                {
                    Type = JsonSchemaType.Object,
                    Required = new HashSet<string> { "detail" },
                    Properties = new Dictionary<string, IOpenApiSchema>
                    {
                        ["pointer"] = new OpenApiSchema { Type = JsonSchemaType.String },
                        ["parameter"] = new OpenApiSchema { Type = JsonSchemaType.String },
                        ["detail"] = new OpenApiSchema { Type = JsonSchemaType.String },
                    },
                },
            },
        },
    };

    /// <summary>CloudEvents 1.0 in the JSON event format; what <c>data</c> holds follows from <c>type</c>.</summary>
    internal static OpenApiSchema CloudEvent() => new()
    {
        Type = JsonSchemaType.Object,
        Description = "An event in the envelope of CloudEvents 1.0. Any further attribute that the specification allows is kept.",
        Required = new HashSet<string> { "specversion", "id", "source", "type" },
        Properties = new Dictionary<string, IOpenApiSchema>
        {
            ["specversion"] = new OpenApiSchema { Type = JsonSchemaType.String, Const = "1.0" },
            ["id"] = Text("The sender's own; with `source` the event's identity. The same again is answered as the first time."),
            ["source"] = Text("/devices/<name>/<pairing number>: the one the key was given out for."),
            ["type"] = Text("One of the types of api-docs/events.md."),
            ["subject"] = Text("The job's label."),
            ["sequence"] = new OpenApiSchema { Type = JsonSchemaType.String, Pattern = "^[0-9]{1,18}$", Description = "The sender's running number; it orders and never refuses." },
            ["time"] = new OpenApiSchema { Type = JsonSchemaType.String, Format = "date-time", Description = "When it happened, by the sender's clock." },
            ["data"] = new OpenApiSchema { Type = JsonSchemaType.Object, Description = "What happened. Members nobody knows are kept." },
        },
    };

    private static OpenApiSchema Text(string description) => new() { Type = JsonSchemaType.String, MinLength = 1, Description = description };
}
