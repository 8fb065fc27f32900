using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Webhooks;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Changes;

public class StreamTests
{
    [Theory]
    [BothEngines]
    public async Task Whoever_reads_along_sees_what_happens_and_goes_on_where_they_were(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        var seen = (await host.Desk.Get("/v1/changes?limit=500")).GetProperty("items").EnumerateArray().Last().GetProperty("position").GetInt64();

        await using var line = await Line.Open(host.Desk, $"/v1/changes/stream?after={seen}");
        Assert.Equal("text/event-stream", line.ContentType);
        var label = await host.TakeIn();
        var first = await line.Next();
        Assert.Equal(("job.taken-in", $"job/{label}"), (first.Type, first.Data.Text("stream")));
        Assert.Equal(first.Id, first.Data.GetProperty("position").GetInt64());
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        var second = await line.Next();
        await line.DisposeAsync();

        await using var again = await Line.Open(host.Desk, "/v1/changes/stream?after=0", first.Id);
        Assert.Equal((second.Id, second.Type), ((await again.Next()) is var next ? next.Id : 0, next.Type));
    }

    [Theory]
    [BothEngines]
    public async Task A_storefront_reads_the_very_events_of_its_own_orders_and_of_the_shop(StorageEngine engine)
    {
        var (host, _) = await Sending.Open(engine);
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        await host.AddEndpoint(receiver.Address, """, "storefront": "/storefront/shop" """);
        await host.Put(
            Sending.Message("job/J1", 1, "/storefront/shop"), Sending.Message("job/J2", 2, "/storefront/elsewhere"), Sending.Message("job/J3", 3),
            Sending.Message("job/J1", 4) with { Id = "shop.closed/1", Type = "shop.closed", Stream = "shop", Storefront = Outbox.EveryStorefront },
            Sending.Message("job/J1", 5, "/storefront/shop"));
        await host.Send();
        var storefront = host.As(Role.Storefront);

        var first = await (await storefront.GetAsync("/v1/changes?limit=2")).Json();
        var rest = await (await storefront.GetAsync("/v1/changes?after=4")).Json();
        JsonElement[] pulled = [.. first.GetProperty("items").EnumerateArray(), .. rest.GetProperty("items").EnumerateArray()];
        Assert.Equal(["1", "4", "5"], pulled.Select(one => one.Text("sequence")));
        Assert.Equal(receiver.All.OrderBy(one => one.Position).Select(one => one.Event.ToString()), pulled.Select(one => one.ToString()));

        await using var line = await Line.Open(storefront, "/v1/changes/stream", 1);
        Assert.Equal((4, "shop.closed"), (await line.Next()) is var closed ? (closed.Id, closed.Type) : default);
        Assert.Equal(pulled[2].ToString(), (await line.Next()).Data.ToString());
    }

    [Theory]
    [BothEngines]
    public async Task A_ticket_opens_one_stream_once_and_not_for_long(StorageEngine engine)
    {
        var (host, real) = await Sending.Open(engine);
        await using var _host = host;
        async Task<string> Ticket() => (await (await host.Desk.Send(HttpMethod.Post, "/v1/changes/tickets", null, "application/json")).Json()).Text("address");

        var address = await Ticket();
        await using (var line = await Line.Open(host.Stranger, $"{address}&after=0"))
        {
            Assert.Equal(1, (await line.Next()).Id);
        }

        using var again = await host.Stranger.GetAsync(address, HttpCompletionOption.ResponseHeadersRead);
        Assert.Equal(HttpStatusCode.Unauthorized, again.StatusCode);
        address = await Ticket();
        real.Advance(Duration.FromSeconds(31));
        using var late = await host.Stranger.GetAsync(address, HttpCompletionOption.ResponseHeadersRead);
        Assert.Equal(HttpStatusCode.Unauthorized, late.StatusCode);
        address = await Ticket();
        using var elsewhere = await host.Stranger.GetAsync(address.Replace("/stream", "", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Unauthorized, elsewhere.StatusCode);
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from stream_ticket where api_key = @ticket", new { ticket = address[(address.IndexOf('=') + 1)..] }));
    }

    [Fact]
    public async Task Only_so_many_read_along_and_a_place_that_is_left_is_free_again()
    {
        var (host, _) = await Sending.Open(set: [("Limits:Streams", "2"), ("Limits:StreamBeatSeconds", "1")]);
        await using var _host = host;
        await using var one = await Line.Open(host.Desk, "/v1/changes/stream");
        var two = await Line.Open(host.Desk, "/v1/changes/stream");

        using var third = await host.Desk.GetAsync("/v1/changes/stream", HttpCompletionOption.ResponseHeadersRead);
        Assert.Equal(("too-many-streams", 10.0), ((await third.Problem()).Code, third.Headers.RetryAfter!.Delta!.Value.TotalSeconds));
        await two.DisposeAsync();
        for (var i = 0; ; i++)
        {
            using var fourth = await host.Desk.GetAsync("/v1/changes/stream", HttpCompletionOption.ResponseHeadersRead);
            if (fourth.StatusCode == HttpStatusCode.OK)
            {
                break;
            }

            Assert.True(i < 50, "The place was never free again.");
            await Task.Delay(100);
        }
    }

    [Fact]
    public async Task A_quiet_line_says_that_it_lives_and_ends_with_its_key_and_with_the_service()
    {
        var (host, _) = await Sending.Open(set: ("Limits:StreamBeatSeconds", "1"));
        await using var _host = host;
        var key = host.AddKey(Role.Desk, "/desk/back");
        using var back = host.With(key);
        var last = (await host.Desk.Get("/v1/changes?limit=500")).GetProperty("items").EnumerateArray().Last().GetProperty("position").GetInt64();
        await using var line = await Line.Open(back, $"/v1/changes/stream?after={last}");
        Assert.Equal(": still here", await line.Comment());

        var id = await host.QueryFirst<string>("select id from api_key where source = '/desk/back'");
        host.Services.GetRequiredService<ApiKeys>().Revoke(WorkshopHost.Site, id, host.Clock.GetCurrentInstant());
        Assert.True(await line.Ends());

        await using var other = await Line.Open(host.Desk, $"/v1/changes/stream?after={last}");
        var ends = other.Ends();
        await host.Restart();
        Assert.True(await ends);
    }

    private sealed class Line(HttpResponseMessage answer, StreamReader reader) : IAsyncDisposable
    {
        private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

        public string? ContentType => answer.Content.Headers.ContentType?.MediaType;

        public static async Task<Line> Open(HttpClient client, string address, long? last = null)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, address);
            if (last is not null)
            {
                request.Headers.Add("Last-Event-ID", $"{last}");
            }

            var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead).WaitAsync(Patience);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            return new Line(answer, new StreamReader(await answer.Content.ReadAsStreamAsync()));
        }

        public async Task<(long Id, string Type, JsonElement Data)> Next()
        {
            var (id, type) = (0L, "");
            while (await reader.ReadLineAsync().WaitAsync(Patience) is { } line)
            {
                if (line.StartsWith("id: ", StringComparison.Ordinal))
                {
                    id = long.Parse(line[4..], System.Globalization.CultureInfo.InvariantCulture);
                }
                else if (line.StartsWith("event: ", StringComparison.Ordinal))
                {
                    type = line[7..];
                }
                else if (line.StartsWith("data: ", StringComparison.Ordinal))
                {
                    return (id, type, JsonElement.Parse(line[6..]));
                }
            }

            throw new InvalidOperationException("The stream has ended.");
        }

        public async Task<string?> Comment()
        {
            string? line;
            do
            {
                line = await reader.ReadLineAsync().WaitAsync(Patience);
            }
            while (line is not null && !line.StartsWith(':'));
            return line;
        }

        public async Task<bool> Ends()
        {
            try
            {
                while (await reader.ReadLineAsync().WaitAsync(Patience) is not null)
                {
                    // What was still on its way.
                }

                return true;
            }
            catch (TimeoutException)
            {
                return false;
            }
            catch (Exception cut) when (cut is IOException or HttpRequestException)
            {
                return true;
            }
        }

        public ValueTask DisposeAsync()
        {
            reader.Dispose();
            answer.Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
