using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.WebUtilities;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// What a customer sends: JSON, or a plain form of a page without any script. A field of a form becomes the member of its name: yes and
/// no, numbers with point or comma, days and words as they are; a field left empty is left out, and what the page has besides (a button)
/// is not looked at. Options of a quote are fields of their own, <c>option.strap=yes</c>.
/// </summary>
public sealed class PublicForm<T> : IBindableFromHttpContext<PublicForm<T>>, IEndpointParameterMetadataProvider, IRefusable
    where T : notnull
{
    private const string Form = "application/x-www-form-urlencoded";
    private const string Json = "application/json";
    private const string OptionPrefix = "option.";

    private readonly JsonBody<T>? body;

    private PublicForm(JsonBody<T>? body, ProblemHttpResult? refusal)
    {
        this.body = body;
        Refusal = refusal;
    }

    public T Value => body!.Value;

    public ProblemHttpResult? Refusal { get; }

    public static async ValueTask<PublicForm<T>?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var sent = await RequestBody.Read(context.Request, Json, Form);
        if (sent.Refusal is not null)
        {
            return new PublicForm<T>(null, sent.Refusal);
        }

        var body = JsonBody<T>.Read(sent.MediaType == Form ? Fields(Encoding.UTF8.GetString(sent.Bytes.Span)) : sent.Bytes);
        return new PublicForm<T>(body, body.Refusal);
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new AcceptsMetadata([Json, Form], typeof(T)));

    private static byte[] Fields(string text)
    {
        var told = QueryHelpers.ParseQuery(text);
        var read = new JsonObject();
        foreach (var member in WorkshopJson.Bodies.GetTypeInfo(typeof(T)).Properties)
        {
            if (told.TryGetValue(member.Name, out var said) && said.ToString().Trim() is { Length: > 0 } value)
            {
                read[member.Name] = Read(member, value);
            }
        }

        var options = told.Where(field => field.Key.StartsWith(OptionPrefix, StringComparison.Ordinal))
            .Select(field => (JsonNode)new JsonObject { ["option"] = field.Key[OptionPrefix.Length..], ["accepted"] = Bool(field.Value.ToString()) ?? false })
            .ToArray();
        if (options.Length > 0)
        {
            read["options"] = new JsonArray(options);
        }

        return Encoding.UTF8.GetBytes(read.ToJsonString());
    }

    // What cannot be read as its kind stays text, and is then named as not right like in any other body.
    private static JsonNode? Read(JsonPropertyInfo member, string value)
    {
        var type = Nullable.GetUnderlyingType(member.PropertyType) ?? member.PropertyType;
        return type == typeof(bool) && Bool(value) is { } yes ? yes
            : type == typeof(int) && int.TryParse(value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole) ? whole
            : type == typeof(decimal) && decimal.TryParse(value.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? number
            : JsonValue.Create(value);
    }

    private static bool? Bool(string value) => value.Trim().ToLowerInvariant() switch
    {
        "true" or "yes" or "on" or "1" or "ja" => true,
        "false" or "no" or "off" or "0" or "nein" => false,
        _ => null,
    };
}
