using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using NodaTime;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api;

/// <summary>Answers that can be given again, states that were seen, and lists, on endpoints that do nothing else.</summary>
public class AnswersTests
{
    private static int works;

    private static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/trial/things", MakeThing).RequireOperation(Operation.TakeInJob);
        routes.MapGet("/trial/thing", (Caller caller) => Answer.Seen(3, new Thing(caller.Role == Role.Bench ? "short" : "with everything"))).RequireOperation(Operation.ReadOneself);
        routes.MapPut("/trial/thing", Results<Seen<Thing>, ProblemHttpResult> (SeenState seen, JsonBody<Thing> body) =>
            seen.RefusalUnlessStill(3) is { } refusal ? refusal : Answer.Seen(4, body.Value)).RequireOperation(Operation.ReadOneself);
        routes.MapGet("/trial/list", (Page page) => page.Of(
            Enumerable.Range(1, 1000).Where(number => page.After.Length == 0 || number > int.Parse(page.After[0])).Take(page.Limit + 1).ToList(),
            number => [$"{number}"])).RequireOperation(Operation.ReadOneself);
    }

    // The name decides how it ends, so that each end can be tried.
    private static Task<Once<Results<Made<Thing>, ProblemHttpResult>>> MakeThing(JsonBody<Thing> body, Once once, Writer writer) =>
        once.Do(writer, body.Bytes, Results<Made<Thing>, ProblemHttpResult> (turn) =>
        {
            var number = Interlocked.Increment(ref works);
            turn.Execute("insert into label (site, label, kind, names, bound) values (@site, @label, 'tray', @names, 0)", new { site = turn.Site, label = $"T{number}", names = body.Value.Name });
            return body.Value.Name switch
            {
                "refused" => Problems.Of(ProblemCatalogue.NoSuchThing, "There is none."),
                "broken" => throw new InvalidOperationException("This thing always breaks."),
                _ => Answer.Made($"/trial/things/{number}", number, new Thing($"{body.Value.Name} {number}")),
            };
        });

    public sealed record Thing(string Name);

    [Theory, BothEngines]
    public async Task The_same_request_with_the_same_key_is_done_once_and_answered_again_word_for_word(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, besides: Map);

        var first = await Post(host, "chair", "k-1");
        var again = await Post(host, "chair", "\"k-1\"");

        Assert.Equal(HttpStatusCode.Created, first.StatusCode);
        Assert.Equal(HttpStatusCode.Created, again.StatusCode);
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal(first.Headers.Location, again.Headers.Location);
        Assert.Equal(first.Headers.ETag, again.Headers.ETag);
        Assert.Equal(first.Content.Headers.ContentType, again.Content.Headers.ContentType);
        Assert.False(first.Headers.Contains("Idempotency-Replayed"));
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(1, await Count(host, "chair"));
    }

    [Fact]
    public async Task A_refusal_is_given_again_too()
    {
        await using var host = await WorkshopHost.Start(besides: Map);

        var first = await Post(host, "refused", "k-2");
        var again = await Post(host, "refused", "k-2");

        Assert.Equal("no-such-thing", (await first.Problem()).Code);
        Assert.Equal("no-such-thing", (await again.Problem()).Code);
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(1, await Count(host, "refused"));
    }

    [Theory, BothEngines]
    public async Task What_broke_is_not_kept_and_may_be_tried_again(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, besides: Map);

        var first = await Post(host, "broken", "k-3");
        var again = await Post(host, "broken", "k-3");

        Assert.Equal("unexpected", (await first.Problem()).Code);
        Assert.Equal("unexpected", (await again.Problem()).Code);
        Assert.Equal(0, await Count(host, "broken"));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from idempotency"));
    }

    [Fact]
    public async Task The_same_key_for_something_else_is_refused()
    {
        await using var host = await WorkshopHost.Start(besides: Map);
        await Post(host, "table", "k-4");

        var other = await Post(host, "lamp", "k-4");

        Assert.Equal("idempotency-key-reused", (await other.Problem()).Code);
        Assert.Equal(0, await Count(host, "lamp"));
    }

    [Fact]
    public async Task A_key_is_each_callers_own()
    {
        await using var host = await WorkshopHost.Start(besides: Map);
        await Post(host, "table", "k-5");

        var others = await host.Manager.PostJson("/trial/things", """{"name":"stool"}""", ("Idempotency-Key", "k-5"));

        Assert.Equal(HttpStatusCode.Created, others.StatusCode);
    }

    [Fact]
    public async Task A_key_is_forgotten_after_35_days()
    {
        await using var host = await WorkshopHost.Start(besides: Map);
        await Post(host, "bench", "k-6");
        host.Clock.Advance(Duration.FromDays(34));
        Assert.True((await Post(host, "bench", "k-6")).Headers.Contains("Idempotency-Replayed"));

        host.Clock.Advance(Duration.FromDays(1));

        Assert.False((await Post(host, "bench", "k-6")).Headers.Contains("Idempotency-Replayed"));
        Assert.Equal(2, await Count(host, "bench"));
    }

    [Fact]
    public async Task Without_a_key_a_repeat_is_a_new_request()
    {
        await using var host = await WorkshopHost.Start(besides: Map);

        await host.Desk.PostJson("/trial/things", """{"name":"rug"}""");
        await host.Desk.PostJson("/trial/things", """{"name":"rug"}""");

        Assert.Equal(2, await Count(host, "rug"));
    }

    [Theory, BothEngines]
    public async Task Thirty_at_once_with_one_key_make_one_thing(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, besides: Map);

        var answers = await Task.WhenAll(Enumerable.Range(0, 30).Select(_ => Post(host, "door", "k-7")));

        Assert.Equal(1, await Count(host, "door"));
        foreach (var answer in answers)
        {
            Assert.True(answer.StatusCode == HttpStatusCode.Created || (await answer.Problem()).Code == "still-running");
        }

        Assert.Single(answers, answer => answer.StatusCode == HttpStatusCode.Created && !answer.Headers.Contains("Idempotency-Replayed"));
    }

    [Theory]
    [InlineData("with blank")]
    [InlineData("\"\"")]
    [InlineData("back\\slash")]
    public async Task A_key_that_cannot_be_read_is_refused(string key)
    {
        await using var host = await WorkshopHost.Start(besides: Map);

        var answer = await Post(host, "vase", key);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(0, await Count(host, "vase"));
    }

    [Fact]
    public async Task What_was_seen_already_is_not_sent_again()
    {
        await using var host = await WorkshopHost.Start(besides: Map);
        var first = await host.Desk.GetAsync("/trial/thing");
        var tag = first.Headers.ETag!.ToString();

        Assert.Matches("^\"3-[0-9a-f]{12}\"$", tag);
        foreach (var named in (string[])[tag, $"W/{tag}", $"\"1-000000000000\", {tag}", "*"])
        {
            var again = await host.Desk.Send(HttpMethod.Get, "/trial/thing", null, "", ("If-None-Match", named));
            Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
            Assert.Equal(tag, again.Headers.ETag!.ToString());
            Assert.Empty(await again.Content.ReadAsByteArrayAsync());
        }

        // Another role is shown something else of the same state, which is therefore another body.
        var others = await host.Bench.Send(HttpMethod.Get, "/trial/thing", null, "", ("If-None-Match", tag));
        Assert.Equal(HttpStatusCode.OK, others.StatusCode);
    }

    [Theory]
    [InlineData(null, 428, "if-match-needed")]
    [InlineData("\"2-aabbccddeeff\"", 412, "changed-meanwhile")]
    [InlineData("W/\"3-aabbccddeeff\"", 412, "changed-meanwhile")]
    [InlineData("nonsense", 412, "changed-meanwhile")]
    [InlineData("\"3-aabbccddeeff\"", 200, null)]
    [InlineData("\"2-aabbccddeeff\", \"3-aabbccddeeff\"", 200, null)]
    [InlineData("*", 200, null)]
    public async Task Only_who_has_seen_the_present_state_may_change_it(string? ifMatch, int status, string? code)
    {
        await using var host = await WorkshopHost.Start(besides: Map);

        var answer = ifMatch is null
            ? await host.Desk.Send(HttpMethod.Put, "/trial/thing", """{"name":"new"}""", "application/json")
            : await host.Desk.Send(HttpMethod.Put, "/trial/thing", """{"name":"new"}""", "application/json", ("If-Match", ifMatch));

        Assert.Equal(status, (int)answer.StatusCode);
        Assert.Equal(code, code is null ? null : (await answer.Problem()).Code);
    }

    [Fact]
    public async Task A_list_is_read_to_its_end_by_following_its_links()
    {
        await using var host = await WorkshopHost.Start(besides: Map);
        var seen = new List<int>();
        var pages = 0;

        for (var next = "/trial/list?limit=300&colour=a%26b"; next is not null;)
        {
            var answer = await host.Desk.GetAsync(next);
            seen.AddRange((await answer.Json()).GetProperty("items").EnumerateArray().Select(one => one.GetInt32()));
            pages++;
            next = answer.Headers.TryGetValues("Link", out var links) ? Next(links.Single()) : null;
        }

        Assert.Equal(Enumerable.Range(1, 1000), seen);
        Assert.Equal(4, pages);

        static string Next(string link)
        {
            Assert.EndsWith(">; rel=\"next\"", link);
            Assert.Contains("limit=300", link);
            Assert.Contains("colour=a%26b", link);
            return link[1..link.IndexOf('>')];
        }
    }

    [Theory]
    [InlineData("limit=0", "limit")]
    [InlineData("limit=501", "limit")]
    [InlineData("limit=ten", "limit")]
    [InlineData("cursor=abc", "cursor")]
    [InlineData("cursor=W10", "cursor")]
    [InlineData("cursor=%00", "cursor")]
    public async Task A_page_that_does_not_exist_is_refused(string query, string parameter)
    {
        await using var host = await WorkshopHost.Start(besides: Map);

        var problem = await (await host.Desk.GetAsync($"/trial/list?{query}")).Problem();

        Assert.Equal("bad-fields", problem.Code);
        Assert.Equal(parameter, problem.Whole.GetProperty("errors")[0].GetProperty("parameter").GetString());
    }

    private static Task<HttpResponseMessage> Post(WorkshopHost host, string name, string key) =>
        host.Desk.PostJson("/trial/things", $$"""{"name":"{{name}}"}""", ("Idempotency-Key", key));

    private static Task<long> Count(WorkshopHost host, string name) =>
        host.QueryFirst<long>("select count(*) from label where names = @name", new { name });
}
