using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Devices;

public class PairingTests
{
    private const string Tablet = """{"device":"bench-2","bench":"bench-2","role":"bench"}""";

    [Theory, BothEngines]
    public async Task Six_digits_give_a_key_once_with_a_source_of_its_own(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);

        var opened = await Open(host, Tablet);
        var paired = await (await Pair(host, opened.Digits)).Json();

        Assert.Matches("^[0-9]{6}$", opened.Digits);
        Assert.Equal($"pair:{opened.Digits}", opened.Whole.GetProperty("codeText").GetString());
        Assert.Equal("2026-03-02T09:10:00Z", opened.Whole.GetProperty("expiresAt").GetString());
        Assert.Equal("/devices/bench-2/1", paired.GetProperty("source").GetString());
        Assert.Equal("bench-2", paired.GetProperty("bench").GetString());
        Assert.Equal("bench", paired.GetProperty("role").GetString());
        Assert.Equal("main", paired.GetProperty("site").GetString());
        var me = await (await host.With(paired.GetProperty("key").GetString()!).GetAsync("/v1/me")).Json();
        Assert.Equal("/devices/bench-2/1", me.GetProperty("source").GetString());
        Assert.Equal("no-such-pairing", (await (await Pair(host, opened.Digits)).Problem()).Code);
    }

    [Fact]
    public async Task Digits_whose_time_is_over_are_answered_as_wrong_ones_are()
    {
        await using var host = await WorkshopHost.Start();
        var late = await Open(host, Tablet);
        host.Clock.Advance(Duration.FromMinutes(10));

        var expired = await (await Pair(host, late.Digits)).Problem();
        var open = await Open(host, Tablet);
        var wrong = await (await Pair(host, Other(open.Digits))).Problem();
        host.Clock.Advance(Duration.FromMinutes(10) - Duration.FromSeconds(1));

        Assert.Equal((404, "no-such-pairing"), (expired.Status, expired.Code));
        Assert.Equal(expired.Whole.GetRawText(), wrong.Whole.GetRawText());
        Assert.Equal(HttpStatusCode.OK, (await Pair(host, open.Digits)).StatusCode);
    }

    [Fact]
    public async Task After_five_wrong_tries_in_a_minute_not_even_the_right_digits_are_looked_at()
    {
        await using var host = await WorkshopHost.Start();
        var open = await Open(host, Tablet);
        for (var i = 0; i < 5; i++)
        {
            Assert.Equal(HttpStatusCode.NotFound, (await Pair(host, Other(open.Digits))).StatusCode);
        }

        var answer = await Pair(host, open.Digits);

        Assert.Equal("too-many-requests", (await answer.Problem()).Code);
        Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
    }

    [Theory, BothEngines]
    public async Task Ten_wrong_tries_in_all_void_every_open_pairing_wherever_they_came_from(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var bench = await Open(host, Tablet);
        var wall = await Open(host, """{"device":"wall","role":"wall"}""");
        var neither = Enumerable.Range(0, 1_000_000).Select(number => $"{number:D6}").First(digits => digits != bench.Digits && digits != wall.Digits);
        for (var i = 0; i < 9; i++)
        {
            await FromElsewhere(host, () => Pair(host, neither), HttpStatusCode.NotFound);
        }

        await FromElsewhere(host, () => Pair(host, wall.Digits), HttpStatusCode.OK);
        await FromElsewhere(host, () => Pair(host, neither), HttpStatusCode.NotFound);

        await FromElsewhere(host, () => Pair(host, bench.Digits), HttpStatusCode.NotFound);
        var anew = await Open(host, Tablet);
        await FromElsewhere(host, () => Pair(host, anew.Digits), HttpStatusCode.OK);
    }

    [Theory, BothEngines]
    public async Task A_replaced_tablet_gets_the_next_number_and_the_lost_ones_key_is_worthless_at_once(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var lost = host.With(await Paired(host, Tablet, "/devices/bench-2/1"));
        var neighbour = host.With(await Paired(host, """{"device":"bench-21","bench":"bench-21","role":"bench"}""", "/devices/bench-21/1"));
        Assert.Equal(HttpStatusCode.OK, (await lost.GetAsync("/v1/me")).StatusCode);

        var replaced = host.With(await Paired(host, Tablet, "/devices/bench-2/2"));

        Assert.Equal(HttpStatusCode.Unauthorized, (await lost.GetAsync("/v1/me")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await replaced.GetAsync("/v1/me")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await neighbour.GetAsync("/v1/me")).StatusCode);
    }

    [Fact]
    public async Task A_replaced_tablet_begins_at_1_again_and_what_it_says_is_no_repeat()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host, Device.Pair(host, bench: "bench-5"));
        const string Note = """{"text":"crown turns stiffly","audience":"house","person":"mara"}""";
        var lost = Device.Of(host, "/devices/bench-2/1", await Paired(host, Tablet, "/devices/bench-2/1"));
        Assert.Equal("accepted", (await lost.Say($"{watch.Label}", "note.written", Note, id: "n-1")).Outcome);

        var replaced = Device.Of(host, "/devices/bench-2/2", await Paired(host, Tablet, "/devices/bench-2/2"));
        var first = await replaced.Say($"{watch.Label}", "note.written", Note, id: "n-1");

        Assert.Equal("accepted", first.Outcome);
        Assert.Equal(2, (await watch.Entries()).Count(entry => entry.Id.Id == "n-1"));
    }

    [Fact]
    public async Task A_device_that_already_had_a_key_by_hand_is_counted_on_from_there()
    {
        await using var host = await WorkshopHost.Start();
        host.AddKey(Role.Bench, "/devices/bench-2/9", "bench-2");
        host.AddKey(Role.Bench, "/devices/bench-2/10", "bench-2");

        await Paired(host, Tablet, "/devices/bench-2/11");
    }

    [Fact]
    public async Task Opening_a_pairing_again_voids_the_digits_shown_before()
    {
        await using var host = await WorkshopHost.Start();
        var first = await Open(host, Tablet);
        var second = await Open(host, Tablet);

        Assert.Equal(HttpStatusCode.NotFound, (await Pair(host, first.Digits)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await Pair(host, second.Digits)).StatusCode);
    }

    [Theory, BothEngines]
    public async Task A_repeat_is_told_of_the_pairing_but_not_its_digits_which_nobody_keeps(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);

        var first = await (await host.Manager.PostJson("/v1/devices/pairings", Tablet, ("Idempotency-Key", "tablet"))).Json();
        var again = await host.Manager.PostJson("/v1/devices/pairings", Tablet, ("Idempotency-Key", "tablet"));
        var digits = first.GetProperty("digits").GetString()!;
        var kept = await host.QueryFirst<string>("select body from idempotency where idempotency_key = 'tablet'");

        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        var told = await again.Json();
        Assert.Equal(first.GetProperty("expiresAt").GetString(), told.GetProperty("expiresAt").GetString());
        Assert.False(told.TryGetProperty("digits", out _));
        Assert.DoesNotContain(digits, kept);
        Assert.Equal(HttpStatusCode.OK, (await Pair(host, digits)).StatusCode);
    }

    [Fact]
    public async Task Devices_are_listed_by_their_newest_pairing_and_a_withdrawn_key_is_worthless_at_once()
    {
        await using var host = await WorkshopHost.Start();
        await Paired(host, Tablet, "/devices/bench-2/1");
        host.Clock.Advance(Duration.FromHours(1));
        var tablet = host.With(await Paired(host, Tablet, "/devices/bench-2/2"));
        Assert.Equal(HttpStatusCode.OK, (await tablet.GetAsync("/v1/me")).StatusCode);

        var before = await One(host);
        var revoked = await host.Manager.DeleteAsync("/v1/devices/bench-2");
        var after = await One(host);

        Assert.Equal(("bench-2", "/devices/bench-2/2", "2026-03-02T10:00:00Z"), (Text(before, "device"), Text(before, "source"), Text(before, "pairedAt")));
        Assert.False(before.TryGetProperty("revokedAt", out _));
        Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await tablet.GetAsync("/v1/me")).StatusCode);
        Assert.Equal("2026-03-02T10:00:00Z", Text(after, "revokedAt"));
        Assert.Equal(HttpStatusCode.NoContent, (await host.Manager.DeleteAsync("/v1/devices/bench-2")).StatusCode);
        Assert.Equal("no-such-thing", (await (await host.Manager.DeleteAsync("/v1/devices/bench-3")).Problem()).Code);

        static string? Text(JsonElement device, string member) => device.GetProperty(member).GetString();

        static async Task<JsonElement> One(WorkshopHost host) =>
            (await (await host.Desk.GetAsync("/v1/devices")).Json()).GetProperty("devices").EnumerateArray().Single();
    }

    [Theory]
    [InlineData("""{"device":"Bench 2","role":"bench"}""", "/device")]
    [InlineData("""{"device":"bench-2/1","role":"bench"}""", "/device")]
    [InlineData("""{"device":"shop","role":"storefront"}""", "/role")]
    [InlineData("""{"device":"bench-2","role":"owner"}""", "/role")]
    public async Task A_pairing_that_makes_no_sense_names_the_field(string body, string pointer)
    {
        await using var host = await WorkshopHost.Start();

        Assert.Equal([pointer], (await (await host.Manager.PostJson("/v1/devices/pairings", body)).Problem()).Pointers);
    }

    private static async Task<(string Digits, JsonElement Whole)> Open(WorkshopHost host, string body)
    {
        var opened = await (await host.Manager.PostJson("/v1/devices/pairings", body)).Json();
        return (opened.GetProperty("digits").GetString()!, opened);
    }

    private static Task<HttpResponseMessage> Pair(WorkshopHost host, string digits) => host.Stranger.PostJson("/v1/devices/pair", $$"""{"digits":"{{digits}}"}""");

    /// <summary>Opens a pairing and tells the digits.</summary>
    /// <returns>The key.</returns>
    private static async Task<string> Paired(WorkshopHost host, string body, string source)
    {
        var paired = await (await Pair(host, (await Open(host, body)).Digits)).Json();
        Assert.Equal(source, paired.GetProperty("source").GetString());
        return paired.GetProperty("key").GetString()!;
    }

    // What one address may try is forgotten, as if each try came from an address of its own.
    private static async Task FromElsewhere(WorkshopHost host, Func<Task<HttpResponseMessage>> tries, HttpStatusCode expected)
    {
        Assert.Equal(expected, (await tries()).StatusCode);
        ((Service.Features.Devices.WrongDigits)host.Services.GetService(typeof(Service.Features.Devices.WrongDigits))!).WereRight(IPAddress.Loopback);
    }

    private static string Other(string digits) => digits == "000000" ? "000001" : "000000";
}
