using System.Globalization;
using Microsoft.AspNetCore.Http;
using NodaTime;
using NodaTime.Testing;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Webhooks;

public class SendMessagesTests
{
    private static readonly string[] Streams = ["job/J1", "job/J2", "job/J3"];

    [Theory]
    [BothEngines]
    public async Task Every_message_arrives_signed_once_and_in_the_order_of_its_job(StorageEngine engine)
    {
        var (host, _) = await Sending.Open(engine);
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        await host.Put(Sending.Message("job/J9", 0));
        var endpoint = await host.AddEndpoint(receiver.Address);
        await host.Put([.. from number in Enumerable.Range(1, 12) from stream in Streams select Sending.Message(stream, number)]);

        await host.Send();
        await host.Send();

        // What was before the endpoint is not told it.
        Assert.Equal(36, receiver.All.Count);
        Assert.All(receiver.All, one => Assert.True(one.Verify(endpoint.Text("secret")).Genuine, one.Verify(endpoint.Text("secret")).Sentence));
        Assert.All(receiver.All, one => Assert.Equal("application/cloudevents+json; charset=utf-8", one.ContentType));
        Assert.All(receiver.All, one => Assert.Equal(one.Headers.Id, one.Event.Text("id")));
        Assert.All(Streams, stream => Assert.Equal(Enumerable.Range(1, 12), receiver.All.Where(one => one.Subject == stream[4..]).Select(one => one.Data.GetProperty("number").GetInt32())));
        Assert.Equal(Enumerable.Range(2, 36).Select(one => (long)one), receiver.All.Select(one => one.Position).Order());
        var after = await host.Endpoint(endpoint);
        Assert.Equal((37, 37, 0), (after.GetProperty("takenThrough").GetInt32(), after.GetProperty("lastPosition").GetInt32(), after.GetProperty("waiting").GetInt32()));
        Assert.Equal(36, (await host.Deliveries(endpoint)).Count(one => one.GetProperty("delivered").GetBoolean()));
    }

    [Theory]
    [BothEngines]
    public async Task A_message_that_fails_keeps_only_later_ones_of_its_job_waiting_and_comes_again_with_the_same_id_and_body(StorageEngine engine)
    {
        var (host, real) = await Sending.Open(engine);
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        var endpoint = await host.AddEndpoint(receiver.Address);
        receiver.Answers = (one, _, context) => Status(context, one.Subject == "J1" && receiver.All.Count(other => other.Headers.Id == one.Headers.Id) < 3 ? 500 : 200);
        await host.Put(Sending.Message("job/J1", 1), Sending.Message("job/J1", 2), Sending.Message("job/J2", 1), Sending.Message("job/J2", 2));

        await host.Send();
        Assert.Equal(["J1 1", "J2 1", "J2 2"], Said(receiver).Order());
        var waits = await host.Endpoint(endpoint);
        Assert.Equal(2, waits.GetProperty("waiting").GetInt32());

        // Five seconds and a tenth at most, then five minutes.
        real.Advance(Duration.FromSeconds(4));
        await host.Send();
        Assert.Equal(3, receiver.All.Count);
        real.Advance(Duration.FromSeconds(2));
        await host.Send();
        Assert.Equal(4, receiver.All.Count);
        real.Advance(Duration.FromSeconds(299));
        await host.Send();
        Assert.Equal(4, receiver.All.Count);
        real.Advance(Duration.FromSeconds(32));
        await host.Send();

        Assert.Equal(["J1 1", "J1 1", "J1 1", "J1 2"], receiver.All.Where(one => one.Subject == "J1").Select(one => $"{one.Subject} {one.Data.GetProperty("number")}"));
        var same = receiver.All.Where(one => one.Subject == "J1").Take(3).ToArray();
        Assert.Single(same.Select(one => one.Headers.Id).Distinct());
        Assert.Single(same.Select(one => Convert.ToHexString(one.Body)).Distinct());
        Assert.Equal(3, same.Select(one => one.Headers.Timestamp).Distinct().Count());
        var log = (await host.Deliveries(endpoint)).Where(one => one.Text("subject") == "J1" && one.GetProperty("position").GetInt32() == 1).Reverse().ToArray();
        Assert.Equal([(1, "answered", 500), (2, "answered", 500), (3, null, 200)], log.Select(one => (
            one.GetProperty("attempt").GetInt32(), one.TryGetProperty("error", out var error) ? error.GetString() : null, one.GetProperty("status").GetInt32())));
        Assert.Equal(same[0].Headers.Id, log[0].Text("message"));
    }

    [Fact]
    public async Task After_the_last_attempt_the_endpoint_is_paused_a_manager_sees_it_and_nothing_is_lost()
    {
        var (host, real) = await Sending.Open();
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        var endpoint = await host.AddEndpoint(receiver.Address, """, "description": "the shop" """);
        receiver.Answers = (_, _, context) => Status(context, 500);
        await host.Put(Sending.Message("job/J1", 1));

        for (var attempt = 1; attempt <= 10; attempt++)
        {
            Assert.Equal("enabled", (await host.Endpoint(endpoint)).Text("state"));
            await host.Send();
            Assert.Equal(attempt, receiver.All.Count);
            real.Advance(Duration.FromHours(27));
        }

        var paused = await host.Endpoint(endpoint);
        Assert.Equal(("paused", "attempts-exhausted", 1), (paused.Text("state"), paused.Text("reason"), paused.GetProperty("waiting").GetInt32()));
        var row = Assert.Single((await host.Manager.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "webhook-stopped");
        Assert.Contains("the shop", row.Text("line"), StringComparison.Ordinal);
        await host.Put(Sending.Message("job/J2", 1));
        await host.Send();
        Assert.Equal(10, receiver.All.Count);

        receiver.Answers = null;
        using var enabled = await host.Manager.Patch($"/v1/webhook-endpoints/{endpoint.Text("id")}", """{ "state": "enabled" }""", $"\"{paused.GetProperty("version")}\"");
        await enabled.Json();
        await host.Send();

        Assert.Equal(["J1 1", "J2 1"], Said(receiver).Skip(10));
        Assert.DoesNotContain((await host.Manager.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "webhook-stopped");
    }

    [Fact]
    public async Task A_receiver_that_is_gone_is_sent_nothing_more()
    {
        var (host, real) = await Sending.Open();
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        var endpoint = await host.AddEndpoint(receiver.Address);
        receiver.Answers = (_, _, context) => Status(context, 410);
        await host.Put(Sending.Message("job/J1", 1), Sending.Message("job/J1", 2));

        await host.Send();
        real.Advance(Duration.FromDays(2));
        await host.Send();

        Assert.Single(receiver.All);
        var disabled = await host.Endpoint(endpoint);
        Assert.Equal(("disabled", "gone"), (disabled.Text("state"), disabled.Text("reason")));
        Assert.Contains((await host.Manager.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "webhook-stopped");
    }

    [Fact]
    public async Task A_redirect_is_followed_by_nobody()
    {
        var (host, _) = await Sending.Open();
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        await using var elsewhere = await Receiver.Open();
        var endpoint = await host.AddEndpoint(receiver.Address);
        receiver.Answers = (_, _, context) =>
        {
            context.Response.Headers.Location = elsewhere.Address;
            return Status(context, 307);
        };
        await host.Put(Sending.Message("job/J1", 1));

        await host.Send();

        Assert.Single(receiver.All);
        Assert.Empty(elsewhere.All);
        Assert.Equal(("redirected", 307), (Assert.Single(await host.Deliveries(endpoint)).Text("error"), (await host.Deliveries(endpoint))[0].GetProperty("status").GetInt32()));
    }

    [Theory]
    [InlineData(429, true)]
    [InlineData(503, true)]
    [InlineData(429, false)]
    public async Task A_receiver_that_asks_to_wait_is_left_in_peace_for_that_long(int status, bool inSeconds)
    {
        var (host, real) = await Sending.Open();
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        await host.AddEndpoint(receiver.Address);
        var full = true;
        receiver.Answers = (_, _, context) =>
        {
            if (full)
            {
                context.Response.Headers.RetryAfter = inSeconds ? "3600" : (real.GetCurrentInstant() + Duration.FromHours(1)).ToDateTimeUtc().ToString("R", CultureInfo.InvariantCulture);
            }

            return Status(context, full ? status : 200);
        };
        await host.Put(Sending.Message("job/J1", 1));
        await host.Send();
        await host.Put(Sending.Message("job/J2", 1));
        full = false;

        real.Advance(Duration.FromMinutes(59));
        await host.Send();
        Assert.Single(receiver.All);
        real.Advance(Duration.FromMinutes(2));
        await host.Send();

        Assert.Equal(["J1 1", "J1 1", "J2 1"], Said(receiver).Order());
    }

    [Fact]
    public async Task A_slow_receiver_times_out_and_keeps_no_other_endpoint_waiting()
    {
        var (host, _) = await Sending.Open(set: ("Webhooks:Timeout", "PT1S"));
        await using var _host = host;
        await using var slow = await Receiver.Open();
        await using var quick = await Receiver.Open();
        var endpoint = await host.AddEndpoint(slow.Address);
        await host.AddEndpoint(quick.Address);
        var here = new TaskCompletionSource();
        slow.Answers = (_, _, context) => Task.Delay(TimeSpan.FromSeconds(30), context.RequestAborted);
        quick.Answers = (_, number, _) =>
        {
            if (number == 3)
            {
                here.SetResult();
            }

            return Task.CompletedTask;
        };
        await host.Put(Sending.Message("job/J1", 1), Sending.Message("job/J1", 2), Sending.Message("job/J1", 3));

        var sending = host.Send();
        await here.Task.WaitAsync(TimeSpan.FromSeconds(30));
        Assert.False(sending.IsCompleted);
        await sending;

        Assert.Equal(3, quick.All.Count);
        Assert.Single(slow.All);
        Assert.Equal("timed-out", Assert.Single(await host.Deliveries(endpoint)).Text("error"));
    }

    [Fact]
    public async Task A_receiver_that_is_not_there_is_looked_for_again_and_then_gets_everything()
    {
        var (host, real) = await Sending.Open();
        await using var _host = host;
        var receiver = await Receiver.Open();
        var address = receiver.Address;
        await receiver.DisposeAsync();
        var endpoint = await host.AddEndpoint(address);
        await host.Put([.. Enumerable.Range(1, 20).Select(number => Sending.Message($"job/J{number}", 1))]);

        await host.Send();

        // One round is tried, not all twenty.
        var log = await host.Deliveries(endpoint);
        Assert.InRange(log.Length, 1, 4);
        Assert.All(log, one => Assert.Equal("no-connection", one.Text("error")));
        Assert.True((await host.Endpoint(endpoint)).TryGetProperty("heldUntil", out _));
        await using var back = await Receiver.Open();
        using var moved = await host.Manager.Patch($"/v1/webhook-endpoints/{endpoint.Text("id")}", $$"""{ "url": "{{back.Address}}" }""", "\"1\"");
        await moved.Json();
        await host.Send();
        Assert.Equal(20, back.All.Count);
        Assert.True(real.GetCurrentInstant() > Instant.MinValue);
    }

    [Fact]
    public async Task More_than_a_thousand_that_wait_are_not_taken_up_at_once_and_none_is_lost()
    {
        var (host, real) = await Sending.Open();
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        var endpoint = await host.AddEndpoint(receiver.Address);
        receiver.Answers = (_, _, context) => Status(context, 500);
        await host.Put([.. Enumerable.Range(1, 1_500).Select(number => Sending.Message($"job/J{number % 7}", number))]);
        for (var i = 0; i < 12; i++)
        {
            await host.Send();
            real.Advance(Duration.FromSeconds(1));
        }

        Assert.InRange((await host.Endpoint(endpoint)).GetProperty("waiting").GetInt32(), 1_000, 1_199);
        receiver.Forget();
        receiver.Answers = null;
        real.Advance(Duration.FromHours(1));
        await host.Send();

        Assert.Equal(Enumerable.Range(1, 1_500), receiver.All.Select(one => one.Data.GetProperty("number").GetInt32()).Order());
        Assert.All(Enumerable.Range(0, 7), stream => Assert.Equal(
            Enumerable.Range(1, 1_500).Where(number => number % 7 == stream), receiver.All.Where(one => one.Subject == $"J{stream}").Select(one => one.Data.GetProperty("number").GetInt32())));
    }

    [Theory]
    [BothEngines]
    public async Task A_message_of_a_later_hour_waits_for_it_and_keeps_nothing_else_waiting_and_one_withdrawn_is_never_sent(StorageEngine engine)
    {
        var (host, _) = await Sending.Open(engine);
        await using var _host = host;
        await using var receiver = await Receiver.Open();
        await host.AddEndpoint(receiver.Address);
        var later = host.Clock.GetCurrentInstant() + Duration.FromHours(2);
        await host.Put(Sending.Message("job/J1", 1, notBefore: later), Sending.Message("job/J1", 2), Sending.Message("job/J1", 3, notBefore: later));

        await host.Send();
        Assert.Equal(["J1 2"], Said(receiver));
        await host.Withdraw("job.ready/job/J1/3");
        host.Clock.Advance(Duration.FromHours(3));
        await host.Send();

        Assert.Equal(["J1 2", "J1 1"], Said(receiver));
    }

    [Fact]
    public async Task Of_several_instances_one_works_through_an_endpoint_at_a_time_and_another_takes_over_from_one_that_died()
    {
        await using var database = await PostgresDatabase.Create();
        var clock = new FakeClock(SystemClock.Instance.GetCurrentInstant());
        var (one, _) = await Sending.Open(StorageEngine.Postgres, database.ConnectionString, clock);
        await using var _one = one;
        var (two, _) = await Sending.Open(StorageEngine.Postgres, database.ConnectionString, clock);
        await using var _two = two;
        await using var receiver = await Receiver.Open();
        await one.AddEndpoint(receiver.Address);
        await one.Put([.. from number in Enumerable.Range(1, 30) from stream in Streams select Sending.Message(stream, number)]);

        await Task.WhenAll(one.Send(), two.Send());
        Assert.Equal(90, receiver.All.Count);
        Assert.All(Streams, stream => Assert.Equal(Enumerable.Range(1, 30), receiver.All.Where(came => came.Subject == stream[4..]).Select(came => came.Data.GetProperty("number").GetInt32())));

        // A third one died with the endpoint in its hands.
        await one.Execute("update webhook_endpoint set leased_by = 'gone', leased_until = @until where site = 'main'", new { until = Microseconds.Of(clock.GetCurrentInstant() + Duration.FromSeconds(20)) });
        await one.Put(Sending.Message("job/J1", 31));
        await two.Send();
        Assert.Equal(90, receiver.All.Count);
        clock.Advance(Duration.FromSeconds(21));
        await two.Send();
        Assert.Equal(91, receiver.All.Count);
    }

    private static IEnumerable<string> Said(Receiver receiver) => receiver.All.Select(one => $"{one.Subject} {one.Data.GetProperty("number")}");

    private static Task Status(HttpContext context, int status)
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    }
}
