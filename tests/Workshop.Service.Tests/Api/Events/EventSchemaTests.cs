using System.Net;
using System.Text.Json;
using Workshop.Core.Journal;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api.Events;

public class EventSchemaTests
{
    public static TheoryData<string> Types => [.. EventCatalogue.Rows.Select(row => row.Type)];

    [Theory, MemberData(nameof(Types))]
    public void A_schema_has_the_events_own_members_and_asks_for_those_that_are_needed(string type)
    {
        var schema = JsonElement.Parse(Service.Features.Events.EventSchemas.Of(type)!);
        var own = WorkshopJson.Stored.GetTypeInfo(EventCatalogue.RecordOf(type)!).Properties.Where(property => property.Set is not null || property.AssociatedParameter is not null).ToList();
        string[] common = EventCatalogue.SenderOf(type) == SentBy.Bench ? ["already", "despite", "insteadOf", "bench", "person"] : [];

        Assert.Equal(own.Select(property => property.Name).Concat(common).Order(), schema.GetProperty("properties").EnumerateObject().Select(member => member.Name).Order());
        Assert.Equal(
            own.Where(property => property.IsRequired).Select(property => property.Name).Order(),
            schema.TryGetProperty("required", out var required) ? required.EnumerateArray().Select(name => name.GetString()!).Order() : []);
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
}
