using System.Net;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;
using Workshop.Beats.Tests.Calibration;

namespace Workshop.Service.Tests.Api.Recordings;

/// <summary>The clock of a recorder: stated, or measured by even pulses; every calibration stays.</summary>
public class RecorderClockTests
{
    [Theory]
    [BothEngines]
    public async Task A_clock_is_stated_or_measured_by_pulses_and_every_calibration_stays(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        const string Address = "/v1/devices/bench-1/recording-clock";
        var pulses = PulseTrain.Record(ppm: -22.5, seconds: 30);
        Assert.False((await host.Bench.Get(Address)).TryGetProperty("current", out _));

        var stated = await (await host.Bench.Put(Address, """{ "ppm": 12.5, "uncertaintyPpm": 2, "measuredOn": "2026-02-01", "how": "maker's sheet" }""")).Json();
        var again = await (await host.Bench.Put(Address, """{ "ppm": 12.5, "uncertaintyPpm": 2, "measuredOn": "2026-02-01", "how": "maker's sheet" }""")).Json();
        Assert.Equal(12.5m, stated.GetProperty("current").GetProperty("ppm").GetDecimal());
        Assert.Equal(0, again.GetProperty("earlier").GetArrayLength());

        using var heard = await host.Bench.PutBytes($"{Address}/reference/{Sounds.HashOf(pulses)}?intervalSeconds=1&sourceUncertaintyPpm=0.1", pulses);
        var current = (await heard.Json()).GetProperty("current");
        Assert.Equal(-22.5, current.GetProperty("ppm").GetDouble(), 0.5);
        Assert.InRange(current.GetProperty("uncertaintyPpm").GetDouble(), 0.1, 1);
        Assert.Equal(("2026-03-02", Sounds.HashOf(pulses)), (current.Text("measuredOn"), current.GetProperty("measured").Text("reference")));

        // Measured earlier, told later: what was measured last counts.
        var older = await (await host.Desk.Put(Address, """{ "ppm": 3, "uncertaintyPpm": 1, "measuredOn": "2025-02-01", "how": "an old note" }""")).Json();
        Assert.Equal(current.GetProperty("ppm").GetDouble(), older.GetProperty("current").GetProperty("ppm").GetDouble());
        Assert.Equal([12.5m, 3m], older.GetProperty("earlier").EnumerateArray().Select(one => one.GetProperty("ppm").GetDecimal()));
    }

    [Fact]
    public async Task What_is_no_clock_is_refused_and_a_bench_calibrates_itself_alone()
    {
        await using var host = await Counter.Open();
        const string Address = "/v1/devices/bench-1/recording-clock";
        var watch = Sounds.Of(Sounds.Watch());
        const string Stated = """{ "ppm": 1, "uncertaintyPpm": 1, "how": "by ear" }""";

        Assert.Equal("reference-not-heard", (await (await host.Bench.PutBytes($"{Address}/reference/{Sounds.HashOf(watch)}?intervalSeconds=1", watch)).Problem()).Code);
        Assert.Equal("hash-differs", (await (await host.Bench.PutBytes($"{Address}/reference/{new string('0', 64)}", watch)).Problem()).Code);
        Assert.Equal("not-wav", (await (await host.Bench.PutBytes($"{Address}/reference/{Sounds.HashOf("a text"u8.ToArray())}", "a text"u8.ToArray())).Problem()).Code);
        foreach (var wrong in new[] { "intervalSeconds=0.1", "intervalSeconds=60", "sourceUncertaintyPpm=-1", "measuredOn=yesterday", "measuredOn=2026-03-03" })
        {
            var pulses = PulseTrain.Record(ppm: 0, seconds: 10);
            Assert.Equal(422, (await (await host.Bench.PutBytes($"{Address}/reference/{Sounds.HashOf(pulses)}?{wrong}", pulses)).Problem()).Status);
        }

        Assert.Equal(["/measuredOn"], (await (await host.Bench.Put(Address, """{ "ppm": 1, "uncertaintyPpm": 1, "measuredOn": "2026-03-03", "how": "x" }""")).Problem()).Pointers);
        Assert.Equal(422, (await (await host.Bench.Put(Address, """{ "ppm": 1001, "uncertaintyPpm": 1, "how": "x" }""")).Problem()).Status);
        Assert.Equal("source-not-yours", (await (await host.Bench.Put("/v1/devices/bench-2/recording-clock", Stated)).Problem()).Code);
        Assert.Equal(HttpStatusCode.OK, (await host.Desk.Put("/v1/devices/bench-2/recording-clock", Stated)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.As(Role.Storefront).Put(Address, Stated)).StatusCode);
    }
}

internal static class BytesClient
{
    public static Task<HttpResponseMessage> PutBytes(this HttpClient client, string address, byte[] bytes) => client.PutAsync(address, new ByteArrayContent(bytes));
}
