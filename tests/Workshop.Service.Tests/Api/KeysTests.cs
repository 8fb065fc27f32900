using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api;

public class KeysTests
{
    [Fact]
    public async Task Nobody_gets_in_without_a_key_or_with_one_that_was_never_given_out()
    {
        await using var host = await WorkshopHost.Start();

        var none = await host.Stranger.GetAsync("/v1/me");
        var wrong = await host.With("wk_AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA").GetAsync("/v1/me");
        var endless = await host.With(new string('k', 4000)).GetAsync("/v1/me");

        Assert.Equal(HttpStatusCode.Unauthorized, none.StatusCode);
        Assert.Equal("Bearer realm=\"workshop\"", none.Headers.WwwAuthenticate.ToString());
        Assert.Equal("key-needed", (await none.Problem()).Code);
        Assert.Equal("Bearer realm=\"workshop\", error=\"invalid_token\"", wrong.Headers.WwwAuthenticate.ToString());
        Assert.Equal("key-needed", (await wrong.Problem()).Code);
        Assert.Equal("key-needed", (await endless.Problem()).Code);
    }

    [Fact]
    public async Task A_key_says_whose_it_is_and_what_it_may_do()
    {
        await using var host = await WorkshopHost.Start();

        var bench = await (await host.Bench.GetAsync("/v1/me")).Json();
        var desk = await (await host.Desk.GetAsync("/v1/me")).Json();

        Assert.Equal("/devices/bench-1/1", bench.GetProperty("source").GetString());
        Assert.Equal("bench-1", bench.GetProperty("bench").GetString());
        Assert.Equal(["work"], bench.GetProperty("maySee").EnumerateArray().Select(one => one.GetString()));
        Assert.Equal(["work", "names", "amounts"], desk.GetProperty("maySee").EnumerateArray().Select(one => one.GetString()));
        Assert.False(desk.TryGetProperty("bench", out _));
    }

    [Fact]
    public async Task A_revoked_key_is_worthless_at_once_in_this_process()
    {
        await using var host = await WorkshopHost.Start();
        var key = host.AddKey(Role.Bench, "/devices/bench-9/1", "bench-9");
        var client = host.With(key);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/v1/me")).StatusCode);

        var keys = host.Services.GetRequiredService<ApiKeys>();
        var id = (await keys.List(WorkshopHost.Site)).Single(one => key.StartsWith(one.Prefix, StringComparison.Ordinal)).Id;
        Assert.True(keys.Revoke(WorkshopHost.Site, id, host.Clock.GetCurrentInstant()));

        Assert.Equal(HttpStatusCode.Unauthorized, (await client.GetAsync("/v1/me")).StatusCode);
    }

    [Fact]
    public async Task A_browser_gets_to_the_tasks_with_the_managers_key_as_password_and_nowhere_else()
    {
        await using var host = await WorkshopHost.Start();
        var manager = host.AddKey(Role.Manager, "/desk/back");
        var bench = host.AddKey(Role.Bench, "/devices/bench-2/1");

        Assert.Equal(HttpStatusCode.OK, await Status("/hangfire", manager));
        Assert.Equal(HttpStatusCode.Forbidden, await Status("/hangfire", bench));
        Assert.Equal(HttpStatusCode.Unauthorized, await Status("/v1/me", manager));
        Assert.Contains("Basic", (await host.Stranger.GetAsync("/hangfire")).Headers.WwwAuthenticate.ToString());

        async Task<HttpStatusCode> Status(string address, string key)
        {
            using var client = new HttpClient { BaseAddress = host.Address };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Basic", Convert.ToBase64String(Encoding.UTF8.GetBytes($"anybody:{key}")));
            return (await client.GetAsync(address)).StatusCode;
        }
    }

    [Fact]
    public async Task A_form_that_another_site_sends_to_the_tasks_is_refused()
    {
        await using var host = await WorkshopHost.Start();

        var answer = await host.Manager.PostAsync("/hangfire/recurring/remove", new FormUrlEncodedContent([KeyValuePair.Create("jobs[]", "sweep-due")]));

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }
}
