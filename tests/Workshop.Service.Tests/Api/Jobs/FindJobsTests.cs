using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class FindJobsTests
{
    [Theory]
    [BothEngines]
    public async Task The_list_shows_the_newest_first_and_goes_on_where_the_page_ended(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var labels = new List<string>();
        for (var i = 0; i < 5; i++)
        {
            labels.Insert(0, await host.TakeIn());
        }

        var seen = new List<string>();
        for (var address = "/v1/jobs?limit=2&open=true"; address is not null;)
        {
            using var answer = await host.Bench.GetAsync(address);
            seen.AddRange((await answer.Json()).GetProperty("items").EnumerateArray().Select(one => one.Text("label")));
            address = answer.Headers.TryGetValues("Link", out var link) ? link.Single().Split('<', '>')[1] : null;
        }

        Assert.Equal(labels, seen);
    }

    [Theory]
    [BothEngines]
    public async Task The_list_is_narrowed_by_what_is_not_personal(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var one = await host.TakeIn();
        await host.Approve(one);
        var other = await host.TakeIn("""{ "customer": { "email": "a@b.example" }, "watch": { "maker": "Velling", "calibre": { "kind": "chronograph" } } }""");

        Assert.Equal([one], await Labels("stage=queue"));
        Assert.Equal([other], await Labels("stage=diagnosis&branch=front"));
        Assert.Equal([other], await Labels("variant=full-chronograph"));
        Assert.Equal([other, one], await Labels("open=true&inHouse=true"));
        Assert.Empty(await Labels("open=false"));
        Assert.Empty(await Labels("inHouse=false"));
        Assert.Empty(await Labels("variant=unheard-of"));

        async Task<IEnumerable<string>> Labels(string query) =>
            (await host.Bench.Get($"/v1/jobs?{query}")).GetProperty("items").EnumerateArray().Select(job => job.Text("label")).ToArray();
    }

    [Theory]
    [InlineData("stage=lunch", "stage")]
    [InlineData("branch=tree", "branch")]
    [InlineData("open=perhaps", "open")]
    [InlineData("inHouse=1", "inHouse")]
    [InlineData("limit=501", "limit")]
    [InlineData("cursor=%00", "cursor")]
    public async Task A_filter_that_cannot_be_is_named(string query, string parameter)
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Bench.GetAsync($"/v1/jobs?{query}")).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal(parameter, problem.Whole.GetProperty("errors")[0].Text("parameter"));
    }

    [Theory]
    [InlineData("WyJ4IiwieSJd")]
    [InlineData("WyIxIl0")]
    public async Task A_cursor_of_another_list_does_no_harm(string cursor)
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        using var jobs = await host.Bench.GetAsync($"/v1/jobs?cursor={cursor}");
        using var history = await host.Bench.GetAsync($"/v1/jobs/{label}/history?cursor={cursor}");
        using var sets = await host.Bench.GetAsync($"/v1/jobs/{label}/rate-sets?cursor={cursor}");

        Assert.All([jobs, history, sets], answer => Assert.Equal(HttpStatusCode.OK, answer.StatusCode));
    }

    [Theory]
    [BothEngines]
    public async Task A_job_is_found_by_what_somebody_at_the_counter_knows(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var ida = await host.TakeIn();
        host.Clock.Advance(Duration.FromSeconds(1));
        await host.TakeIn("""{ "customer": { "name": "Änne O'Dell 100%_!", "telephone": "0131 496 0222" }, "watch": { "maker": "Velling", "caseSerial": "1" } }""");

        Assert.Equal(("Ida Marlow", "telephone"), await Found("""{ "telephone": "020 7946 0018" }"""));
        Assert.Equal(("Ida Marlow", "telephone"), await Found("""{ "telephone": "0044 (0)20-7946-0018" }"""));
        Assert.Equal(("Änne O'Dell 100%_!", "telephone"), await Found("""{ "telephone": "+44 131 4960222" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "serial": "20 417" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "serial": "m77.1" }"""));
        Assert.Equal(("Ida Marlow", "label"), await Found($$"""{ "label": "{{ida.ToLowerInvariant()}}" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "name": "MARL" }"""));
        Assert.Equal(("Änne O'Dell 100%_!", "name"), await Found("""{ "name": "Änne o'd" }"""));
        Assert.Equal(("Änne O'Dell 100%_!", "name"), await Found("""{ "name": "%_!" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "text": "ida m" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "text": "20-417" }"""));
        Assert.Equal(("Ida Marlow", "label"), await Found($$"""{ "text": "{{ida}}" }"""));
        Assert.Null(await Found("""{ "name": "Ida", "telephone": "0131 496 0222" }"""));
        Assert.Null(await Found("""{ "name": "nobody" }"""));

        async Task<(string Name, string By)?> Found(string body)
        {
            var items = (await (await host.Desk.PostJson("/v1/jobs/search", body)).Json()).GetProperty("items").EnumerateArray().ToArray();
            return items.Length == 0 ? null : (Assert.Single(items).Text("name"), items[0].Texts("by").Single());
        }
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("""{ "name": "a" }""")]
    [InlineData("""{ "telephone": "call me" }""")]
    [InlineData("""{ "text": " - " }""")]
    public async Task Nothing_to_look_for_is_no_search_for_everything(string body)
    {
        await using var host = await Counter.Open();

        Assert.Equal(422, (await (await host.Desk.PostJson("/v1/jobs/search", body)).Problem()).Status);
    }

    [Fact]
    public async Task Only_the_desk_searches_by_names()
    {
        await using var host = await Counter.Open();

        Assert.Equal("not-for-this-role", (await (await host.Bench.PostJson("/v1/jobs/search", """{ "name": "Ida" }""")).Problem()).Code);
    }
}
