using System.Net;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Tests.Api;

public class RateLimitTests
{
    [Fact]
    public async Task A_key_that_asks_too_much_is_told_when_to_come_again_and_crowds_nobody_out()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Limits:RequestsPerTenSeconds"] = "10" });
        for (var i = 9; i >= 0; i--)
        {
            var answer = await host.Bench.GetAsync("/v1/me");
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Equal("\"key\";q=10;w=10", answer.Headers.GetValues("RateLimit-Policy").Single());
            Assert.Equal($"\"key\";r={i}", answer.Headers.GetValues("RateLimit").Single());
        }

        var refused = await host.Bench.GetAsync("/v1/me");

        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.Equal("too-many-requests", (await refused.Problem()).Code);
        Assert.InRange(refused.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 10);
        Assert.Equal(HttpStatusCode.OK, (await host.As(Role.Desk).GetAsync("/v1/me")).StatusCode);
    }

    [Fact]
    public async Task An_address_that_tries_key_after_key_is_stopped()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Limits:StrangersPerTenSeconds"] = "10" });
        var statuses = new List<HttpStatusCode>();
        for (var i = 0; i < 12; i++)
        {
            statuses.Add((await host.With($"wk_{i}").GetAsync("/v1/me")).StatusCode);
        }

        Assert.Equal([.. Enumerable.Repeat(HttpStatusCode.Unauthorized, 10), HttpStatusCode.TooManyRequests, HttpStatusCode.TooManyRequests], statuses);
        Assert.Equal(HttpStatusCode.OK, (await host.Desk.GetAsync("/v1/me")).StatusCode);
    }
}
