using System.Net;
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
}
