using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.Description;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Documents;

public sealed partial class ApiDescriptionTests : IAsyncLifetime
{
    private WorkshopHost host = null!;
    private string text = "";
    private JsonElement document;

    public async Task InitializeAsync()
    {
        host = await WorkshopHost.Start();
        text = await host.Stranger.GetStringAsync("/openapi/v1.json");
        document = JsonElement.Parse(text);
    }

    public async Task DisposeAsync() => await host.DisposeAsync();

    // Who comes with digits, with a token that stands for a key, with a signature, or with something that anybody may ask.
    private static readonly string[] WithoutKey =
        ["post /v1/devices/pair", "get /v1/agenda/{file}", "get /v1/public/", "post /v1/public/", "post /v1/storefront/events", "post /v1/seals/check", "get /v1/seals/keys"];

    [Fact]
    public void The_committed_description_is_what_the_service_says_of_itself() =>
        Assert.Equal(text, Repository.Read("api-docs", "openapi.json"));

    [Fact]
    public void It_is_open_api_3_1() => Assert.StartsWith("3.1.", document.GetProperty("openapi").GetString());

    [Fact]
    public void Every_operation_has_a_summary_a_name_of_its_own_where_it_has_a_key_and_the_errors_of_every_other()
    {
        var names = new List<string>();
        foreach (var (path, method, operation) in Operations())
        {
            var what = $"{method} {path}";
            Assert.True(operation.TryGetProperty("summary", out var summary) && summary.GetString() is { Length: > 0 }, $"{what} has no summary.");
            Assert.True(operation.GetProperty("responses").TryGetProperty("429", out _) && operation.GetProperty("responses").TryGetProperty("503", out _), $"{what} names no errors.");
            if (path.StartsWith("/v1/", StringComparison.Ordinal))
            {
                Assert.True(operation.TryGetProperty("operationId", out var name), $"{what} has no name: its handler is to be a class named after what it does.");
                names.Add(name.GetString()!);
                if (NeedsNoKey(what))
                {
                    continue;
                }

                Assert.True(operation.GetProperty("security").GetArrayLength() > 0, $"{what} names no key.");
                Assert.True(operation.GetProperty("responses").TryGetProperty("401", out _), $"{what} does not say what happens without a key.");
            }
        }

        Assert.NotEmpty(names);
        Assert.Equal(names.Distinct(), names);
    }

    [Fact]
    public void Every_tag_says_what_it_gathers() => Assert.All(
        document.GetProperty("tags").EnumerateArray(), tag => Assert.True(tag.TryGetProperty("description", out var text) && text.GetString() is { Length: > 0 }, tag.GetProperty("name").GetString()));

    [Fact]
    public void Every_answer_that_has_a_body_shows_an_example()
    {
        var without = Operations()
            .Where(one => one.Path.StartsWith("/v1/", StringComparison.Ordinal))
            .Where(one => one.Operation.GetProperty("responses").EnumerateObject()
                .Where(answer => answer.Name[0] == '2' && answer.Value.TryGetProperty("content", out _))
                .Any(answer => answer.Value.GetProperty("content").EnumerateObject().Any(body => !body.Value.TryGetProperty("example", out _))))
            .Select(one => $"{one.Method} {one.Path}");

        Assert.True(!without.Any(), string.Join('\n', without));
    }

    [Fact]
    public void Every_example_of_a_body_can_be_sent()
    {
        foreach (var endpoint in host.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints).OfType<RouteEndpoint>())
        {
            if (endpoint.Metadata.GetMetadata<IAcceptsMetadata>() is { RequestType: { } type } && type != typeof(object))
            {
                var example = endpoint.Metadata.GetMetadata<Example>()?.Request;
                Assert.True(example is not null, $"{endpoint.RoutePattern.RawText} takes a body and shows none.");
                Assert.Empty(JsonFields.Check(JsonElement.Parse(example), type));
            }
        }
    }

    [Fact]
    public void Every_example_has_the_shape_that_is_described()
    {
        var wrong = new List<string>();
        var seen = 0;
        foreach (var (path, method, operation) in Operations())
        {
            var contents = operation.GetProperty("responses").EnumerateObject().Select(answer => answer.Value)
                .Concat(operation.TryGetProperty("requestBody", out var sent) ? [sent] : [])
                .Where(one => one.TryGetProperty("content", out _))
                .SelectMany(one => one.GetProperty("content").EnumerateObject());
            foreach (var content in contents.Where(one => one.Value.TryGetProperty("example", out _)))
            {
                seen++;
                Compare(content.Value.GetProperty("example"), content.Value.GetProperty("schema"), $"{method} {path}");
            }
        }

        Assert.True(seen > 0);
        Assert.True(!wrong.Any(), string.Join('\n', wrong));

        void Compare(JsonElement value, JsonElement schema, string where)
        {
            if (schema.TryGetProperty("$ref", out var reference))
            {
                Compare(value, document.GetProperty("components").GetProperty("schemas").GetProperty(reference.GetString()!.Split('/')[^1]), where);
            }
            else if (schema.TryGetProperty("oneOf", out var either))
            {
                // Always "nothing, or this"; nothing is never written.
                Compare(value, either.EnumerateArray().Last(), where);
            }
            else if (schema.TryGetProperty("type", out var type))
            {
                var kind = value.ValueKind switch
                {
                    JsonValueKind.Object => "object",
                    JsonValueKind.Array => "array",
                    JsonValueKind.String => "string",
                    JsonValueKind.Number => value.TryGetInt64(out _) && !type.GetRawText().Contains("number") ? "integer" : "number",
                    JsonValueKind.True or JsonValueKind.False => "boolean",
                    _ => "null",
                };
                var fits = type.GetRawText().Contains($"\"{kind}\"")
                    && (!schema.TryGetProperty("enum", out var words) || words.EnumerateArray().Any(word => word.GetString() == value.GetString()))
                    && (!schema.TryGetProperty("pattern", out var pattern) || Regex.IsMatch(value.GetString()!, pattern.GetString()!));
                if (!fits)
                {
                    wrong.Add($"{where} is {value}");
                    return;
                }

                CompareMembers(value, schema, where);
            }
        }

        void CompareMembers(JsonElement value, JsonElement schema, string where)
        {
            if (value.ValueKind == JsonValueKind.Array)
            {
                foreach (var element in value.EnumerateArray())
                {
                    Compare(element, schema.GetProperty("items"), $"{where}[]");
                }
            }
            else if (value.ValueKind == JsonValueKind.Object && schema.TryGetProperty("properties", out var members))
            {
                wrong.AddRange(schema.TryGetProperty("required", out var required)
                    ? required.EnumerateArray().Where(name => !value.TryGetProperty(name.GetString()!, out _)).Select(name => $"{where} lacks {name}")
                    : []);
                foreach (var member in value.EnumerateObject())
                {
                    if (members.TryGetProperty(member.Name, out var described))
                    {
                        Compare(member.Value, described, $"{where}.{member.Name}");
                    }
                    else
                    {
                        wrong.Add($"{where}.{member.Name} is not described");
                    }
                }
            }
        }
    }

    [Fact]
    public void Every_schema_says_what_it_is_and_numbers_are_numbers()
    {
        var vague = new List<string>();
        foreach (var schema in document.GetProperty("components").GetProperty("schemas").EnumerateObject())
        {
            Assert.Matches("^[A-Z][A-Za-z]*$", schema.Name);
            Look(schema.Value, schema.Name);
        }

        Assert.True(!vague.Any(), string.Join('\n', vague));

        void Look(JsonElement schema, string where)
        {
            var says = schema.ValueKind == JsonValueKind.Object && (schema.TryGetProperty("type", out _) || schema.TryGetProperty("$ref", out _)
                || schema.TryGetProperty("oneOf", out _) || schema.TryGetProperty("anyOf", out _) || schema.TryGetProperty("enum", out _));
            if (!says || Mixed().IsMatch(schema.GetRawText()))
            {
                vague.Add(where);
                return;
            }

            if (schema.TryGetProperty("properties", out var members))
            {
                foreach (var member in members.EnumerateObject())
                {
                    Look(member.Value, $"{where}.{member.Name}");
                }
            }

            if (schema.TryGetProperty("items", out var items))
            {
                Look(items, $"{where}[]");
            }
            else if (schema.TryGetProperty("type", out var type) && type.GetRawText().Contains("array"))
            {
                vague.Add($"{where}[]");
            }
        }
    }

    [Fact]
    public async Task The_page_for_people_loads_nothing_from_elsewhere()
    {
        var page = await host.Stranger.GetStringAsync("/docs/");
        var scripts = Script().Matches(page).Select(script => script.Groups[1].Value).ToList();

        Assert.NotEmpty(scripts);
        Assert.DoesNotContain("://", string.Concat(scripts));
        foreach (var script in scripts)
        {
            var source = await host.Stranger.GetStringAsync(new Uri(new Uri(host.Address, "/docs/"), script));
            Assert.True(source.Length > 0, script);
        }
    }

    private IEnumerable<(string Path, string Method, JsonElement Operation)> Operations() =>
        from path in document.GetProperty("paths").EnumerateObject()
        from method in path.Value.EnumerateObject()
        select (path.Name, method.Name, method.Value);

    [GeneratedRegex("""<script[^>]*\ssrc="([^"]+)""")]
    private static partial Regex Script();

    // What a serializer that also takes numbers as text would say of a number.
    [GeneratedRegex("\"type\":\\s*\\[[^\\]]*\"(integer|number)\"[^\\]]*\"string\"|\"type\":\\s*\\[[^\\]]*\"string\"[^\\]]*\"(integer|number)\"")]
    private static partial Regex Mixed();

    private static bool NeedsNoKey(string what) => WithoutKey.Any(one => one.EndsWith('/') ? what.StartsWith(one, StringComparison.Ordinal) : what == one);
}
