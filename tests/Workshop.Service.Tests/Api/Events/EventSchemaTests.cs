using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Workshop.Core.Journal;
using Workshop.Service.Features.Events;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Documents;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Events;

public class EventSchemaTests
{
    private static readonly Dictionary<string, JsonSchema> Schemas =
        EventCatalogue.Rows.ToDictionary(row => row.Type, row => JsonSchema.FromText(EventSchemas.Of(row.Type)!, baseUri: new Uri("https://workshop.example")));

    public static TheoryData<string> Types => [.. EventCatalogue.Rows.Select(row => row.Type)];

    [Theory, MemberData(nameof(Types))]
    public void A_schema_has_the_events_own_members_and_asks_for_those_that_are_needed(string type)
    {
        var schema = JsonElement.Parse(EventSchemas.Of(type)!);
        var own = WorkshopJson.Stored.GetTypeInfo(EventCatalogue.RecordOf(type)!).Properties.Where(property => property.Set is not null || property.AssociatedParameter is not null).ToList();
        string[] common = EventCatalogue.SenderOf(type) == SentBy.Bench ? ["already", "despite", "insteadOf", "bench", "person", "proof"] : [];

        Assert.Equal(own.Select(property => property.Name).Union(common).Order(), schema.GetProperty("properties").EnumerateObject().Select(member => member.Name).Order());
        Assert.Equal(
            own.Where(property => property.IsRequired).Select(property => property.Name).Order(),
            schema.TryGetProperty("required", out var required) ? required.EnumerateArray().Select(name => name.GetString()!).Order() : []);
    }

    [Theory, MemberData(nameof(Types))]
    public void A_schema_accepts_the_events_of_the_page_and_what_a_newer_sender_adds(string type)
    {
        var example = EventsPage.Example(type);

        Assert.True(Accepts(type, example), example);
        Assert.True(Accepts(type, EventSamples.Full[type]), EventSamples.Full[type]);
        Assert.True(Accepts(type, With(example, "mood", "good")));
    }

    [Theory, MemberData(nameof(Types))]
    public void A_schema_refuses_what_the_service_refuses(string type)
    {
        var schema = JsonElement.Parse(EventSchemas.Of(type)!);
        foreach (var needed in schema.TryGetProperty("required", out var required) ? required.EnumerateArray().Select(name => name.GetString()!) : [])
        {
            MustBeRefused(With(EventSamples.Full[type], needed, null));
        }

        foreach (var member in schema.GetProperty("properties").EnumerateObject())
        {
            MustBeRefused(With(EventSamples.Full[type], member.Name, new JsonArray(new JsonObject())));
        }

        void MustBeRefused(string data)
        {
            Assert.NotEmpty(EventCodec.Read(type, data).Faults);
            Assert.False(Accepts(type, data), data);
        }
    }

    [Fact]
    public async Task It_is_served_to_everybody_with_words_and_moments_spelt_out()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite);

        using var answer = await host.Stranger.GetAsync("/events/wear-check.started.json");
        using var unknown = await host.Stranger.GetAsync("/events/tea.made.json");

        Assert.Equal("application/schema+json", answer.Content.Headers.ContentType?.MediaType);
        var members = (await answer.Json()).GetProperty("properties");
        Assert.Equal(["static", "worn"], members.GetProperty("kind").GetProperty("enum").EnumerateArray().Select(word => word.GetString()));
        Assert.Equal("duration", members.GetProperty("owed").GetProperty("format").GetString());
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
    }

    private static bool Accepts(string type, string data) => Schemas[type].Evaluate(JsonElement.Parse(data), new EvaluationOptions { RequireFormatValidation = true }).IsValid;

    /// <summary>The data with one member changed, or without it.</summary>
    private static string With(string data, string member, JsonNode? value)
    {
        var changed = JsonNode.Parse(data)!.AsObject();
        if (value is null)
        {
            changed.Remove(member);
        }
        else
        {
            changed[member] = value;
        }

        return changed.ToJsonString();
    }
}
