using System.ComponentModel.DataAnnotations;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api;

/// <summary>The manners that every endpoint has, tried on one that does nothing else.</summary>
public sealed class MannersTests : IAsyncLifetime
{
    private WorkshopHost host = null!;

    public async Task InitializeAsync() => host = await WorkshopHost.Start(besides: Map, set: new Dictionary<string, string?> { ["Limits:BodyBytes"] = "4096" });

    public async Task DisposeAsync() => await host.DisposeAsync();

    private static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/trial/bodies", (JsonBody<Trial> body) => TypedResults.Ok(body.Value)).RequireOperation(Operation.ReadOneself);
        routes.MapGet("/trial/busy", IResult () => throw new WriterBusyException(7)).RequireOperation(Operation.ReadOneself);
        routes.MapGet("/trial/away", IResult () => throw new StorageUnavailableException(new TimeoutException())).RequireOperation(Operation.ReadOneself);
        routes.MapGet("/trial/broken", IResult () => throw new InvalidOperationException("the inside")).RequireOperation(Operation.ReadOneself);
    }

    public sealed record Trial
    {
        [StringLength(10, MinimumLength = 1)]
        public required string Name { get; init; }

        public required LocalDate On { get; init; }

        [Range(1, 9)]
        public int? Count { get; init; }

        public Stage? Stage { get; init; }

        public Label? Label { get; init; }

        [Length(1, 2)]
        public IReadOnlyList<Part>? Parts { get; init; }

        public sealed record Part(string Text, Duration? Took = null);
    }

    [Fact]
    public async Task A_readable_body_arrives_as_it_was_meant()
    {
        var answer = await host.Desk.PostJson("/trial/bodies", """
            { "name": "Zoë", "on": "2026-03-02", "count": 9, "stage": "dial-and-hands", "parts": [ { "text": "crown", "took": "PT24H" } ] }
            """);

        Assert.Equal(
            """{"name":"Zoë","on":"2026-03-02","count":9,"stage":"dial-and-hands","parts":[{"text":"crown","took":"PT24H"}]}""",
            (await answer.Json()).GetRawText());
    }

    [Fact]
    public async Task Everything_that_is_wrong_in_a_body_is_named_at_once()
    {
        var answer = await host.Desk.PostJson("/trial/bodies", """
            { "name": "far too long a name", "count": 12, "stage": "polishing", "label": "J7K3MQ4X",
              "parts": [ { "took": "a day" }, "text", null ], "colour/tint": "red" }
            """);
        var problem = await answer.Problem();

        Assert.Equal("bad-fields", problem.Code);
        Assert.Equal(
            ["/name", "/count", "/stage", "/label", "/parts/0/took", "/parts/0/text", "/parts/1", "/parts/2", "/colour~1tint", "/on"],
            problem.Pointers);
    }

    [Theory]
    [InlineData("[]", 422, "bad-fields")]
    [InlineData("null", 422, "bad-fields")]
    [InlineData("{ \"name\": null, \"on\": \"2026-03-02\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\", \"on\": \"2026-02-30\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\", \"on\": \"2026-03-02\", \"count\": \"3\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\", \"on\": \"2026-03-02\", \"count\": 1e400 }", 422, "bad-fields")]
    [InlineData("{ \"Name\": \"a\", \"on\": \"2026-03-02\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\\u0000\", \"on\": \"2026-03-02\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\\ud800\", \"on\": \"2026-03-02\" }", 422, "bad-fields")]
    [InlineData("{ \"\\ud800\": \"a\" }", 422, "bad-fields")]
    [InlineData("{ \"name\": \"a\", \"name\": \"b\", \"on\": \"2026-03-02\" }", 400, "unreadable-json")]
    [InlineData("{ \"name\": ", 400, "unreadable-json")]
    [InlineData("", 400, "unreadable-json")]
    [InlineData("{} {}", 400, "unreadable-json")]
    [InlineData("{ /* a comment */ }", 400, "unreadable-json")]
    public async Task What_cannot_be_read_is_refused_as_what_it_is(string body, int status, string code)
    {
        var answer = await host.Desk.PostJson("/trial/bodies", body);

        Assert.Equal(status, (int)answer.StatusCode);
        Assert.Equal(code, (await answer.Problem()).Code);
    }

    [Fact]
    public async Task A_body_nested_too_deeply_is_refused()
    {
        var answer = await host.Desk.PostJson("/trial/bodies", new string('[', 1000) + new string(']', 1000));

        Assert.Equal("unreadable-json", (await answer.Problem()).Code);
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/json; charset=iso-8859-1")]
    [InlineData("application/cloudevents+json")]
    public async Task Another_kind_of_content_is_not_taken(string mediaType)
    {
        var answer = await host.Desk.Send(HttpMethod.Post, "/trial/bodies", "{}", mediaType);

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.StatusCode);
        Assert.Equal("media-type-not-taken", (await answer.Problem()).Code);
    }

    [Fact]
    public async Task A_body_that_is_no_utf_8_or_comes_compressed_is_refused()
    {
        var latin = new ByteArrayContent([.. "{\"name\":\""u8, 0xFC, .. "\"}"u8]);
        latin.Headers.ContentType = new("application/json");
        var compressed = new ByteArrayContent([.. "{}"u8]);
        compressed.Headers.ContentType = new("application/json");
        compressed.Headers.ContentEncoding.Add("gzip");

        Assert.Equal("unreadable-json", (await (await host.Desk.PostAsync("/trial/bodies", latin)).Problem()).Code);
        Assert.Equal("media-type-not-taken", (await (await host.Desk.PostAsync("/trial/bodies", compressed)).Problem()).Code);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_body_over_the_limit_is_refused_whether_or_not_it_says_its_length(bool chunked)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/trial/bodies") { Content = new StringContent(new string(' ', 5000), Encoding.UTF8, "application/json") };
        request.Headers.TransferEncodingChunked = chunked;

        var answer = await host.Desk.SendAsync(request);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Equal("body-too-large", (await answer.Problem()).Code);
    }

    [Fact]
    public async Task What_the_framework_refuses_by_itself_has_the_shape_of_every_other_refusal()
    {
        var nowhere = await host.Stranger.GetAsync("/v1/nowhere");
        var wrongMethod = await host.Desk.DeleteAsync("/v1/me");

        Assert.Equal("no-such-address", (await nowhere.Problem()).Code);
        Assert.Equal("method-not-allowed", (await wrongMethod.Problem()).Code);
        Assert.Equal("GET", wrongMethod.Content.Headers.Allow.Single());
    }

    [Fact]
    public async Task Storage_that_cannot_take_more_says_when_to_come_again()
    {
        var busy = await host.Desk.GetAsync("/trial/busy");
        var away = await host.Desk.GetAsync("/trial/away");

        Assert.Equal(HttpStatusCode.ServiceUnavailable, busy.StatusCode);
        Assert.Equal("storage-busy", (await busy.Problem()).Code);
        Assert.Equal("storage-unavailable", (await away.Problem()).Code);
        Assert.True(busy.Headers.RetryAfter?.Delta > TimeSpan.Zero);
        Assert.True(away.Headers.RetryAfter?.Delta > TimeSpan.Zero);
    }

    [Fact]
    public async Task What_nobody_expected_gives_nothing_of_the_inside_away()
    {
        var problem = await (await host.Desk.GetAsync("/trial/broken")).Problem();

        Assert.Equal("unexpected", problem.Code);
        Assert.DoesNotContain("the inside", problem.Whole.GetRawText());
        Assert.False(string.IsNullOrEmpty(problem.Whole.GetProperty("reference").GetString()));
    }

    [Fact]
    public async Task Every_answer_tells_a_browser_to_be_careful_with_it()
    {
        var answer = await host.Desk.GetAsync("/v1/me");

        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
        Assert.Contains("default-src 'none'", answer.Headers.GetValues("Content-Security-Policy").Single());
        Assert.False(answer.Headers.Contains("Server"));
        Assert.False(answer.Headers.Contains("Access-Control-Allow-Origin"));
        Assert.True((await host.Desk.GetAsync("/v1/nowhere")).Headers.CacheControl!.NoStore);
    }

    [Fact]
    public async Task A_request_that_breaks_off_harms_nobody()
    {
        using (var socket = new TcpClient())
        {
            await socket.ConnectAsync(host.Address.Host, host.Address.Port);
            await socket.GetStream().WriteAsync(Encoding.ASCII.GetBytes(
                $"POST /trial/bodies HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {host.AddKey(Role.Desk, "/desk/side")}\r\nContent-Type: application/json\r\nContent-Length: 50\r\n\r\n{{"));
        }

        Assert.Equal(HttpStatusCode.OK, (await host.Desk.GetAsync("/v1/me")).StatusCode);
    }

    [Fact]
    public async Task Every_problem_can_be_looked_up_by_its_type()
    {
        foreach (var kind in ProblemCatalogue.All)
        {
            var page = await (await host.Stranger.GetAsync(kind.Type)).Json();
            Assert.Equal((kind.Title, kind.Status), (page.GetProperty("title").GetString(), page.GetProperty("status").GetInt32()));
        }

        Assert.Equal("no-such-thing", (await (await host.Stranger.GetAsync("/problems/none")).Problem()).Code);
    }
}
