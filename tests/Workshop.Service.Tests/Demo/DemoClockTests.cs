using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.Configuration;
using NodaTime;
using Workshop.Service.Demo;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;

namespace Workshop.Service.Tests.Demo;

/// <summary>A demo without watches that the tests of a class share.</summary>
public sealed class EmptyHouse : IAsyncLifetime
{
    private readonly string folder = ScratchFolder.New();

    public HttpClient Client { get; private set; } = null!;

    internal DemoHouse Demo { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        var machine = MachineSettings.Read(new ConfigurationBuilder()
            .AddInMemoryCollection(new Dictionary<string, string?> { [KnownSettings.StoragePath.Name] = folder, [KnownSettings.HttpPort.Name] = "0" })
            .Build());
        Demo = await DemoHouse.Open(new DemoOptions { Empty = true }, machine, CancellationToken.None);
        Client = new HttpClient { BaseAddress = Demo.Address.Url };
    }

    public async Task DisposeAsync()
    {
        Client.Dispose();
        await Demo.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }
}

public class DemoClockTests(EmptyHouse house) : IClassFixture<EmptyHouse>
{
    internal static async Task<Instant> Now(HttpClient client) =>
        JsonSerializer.Deserialize<DemoNow>(await client.GetStringAsync("/demo/clock"), WorkshopJson.Options)!.Now;

    [Fact]
    public async Task The_demos_clock_can_be_set_and_ticks_on()
    {
        var then = Instant.FromUtc(2031, 5, 6, 7, 8);

        var set = await house.Client.PutAsJsonAsync("/demo/clock", new { now = "2031-05-06T09:08:00+02:00" });

        Assert.Equal(HttpStatusCode.OK, set.StatusCode);
        var first = await Now(house.Client);
        await Task.Delay(30);
        var second = await Now(house.Client);
        Assert.InRange(first, then, then + Duration.FromMinutes(1));
        Assert.True(second - first >= Duration.FromMilliseconds(30));

        await house.Client.PutAsJsonAsync("/demo/clock", new { now = "2020-01-01T00:00:00Z" });
        Assert.True(await Now(house.Client) < first);
    }

    [Theory]
    [InlineData("PUT", "/demo/clock", """{ "now": "yesterday" }""")]
    [InlineData("PUT", "/demo/clock", """{ "now": "1999-12-31T23:59:59Z" }""")]
    [InlineData("POST", "/demo/clock/advance", """{ "by": "-PT1H" }""")]
    [InlineData("POST", "/demo/clock/advance", """{ "by": "PT100000H" }""")]
    [InlineData("POST", "/demo/clock/advance", """{ "to": "PT1H" }""")]
    public async Task A_clock_cannot_be_set_to_nonsense_and_does_not_move(string method, string path, string body)
    {
        var before = await Now(house.Client);
        using var request = new HttpRequestMessage(new HttpMethod(method), path) { Content = new StringContent(body, MediaTypeHeaderValue.Parse("application/json")) };

        var answer = await house.Client.SendAsync(request);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Equal("bad-fields", (await answer.Problem()).Code);
        Assert.InRange(await Now(house.Client), before, before + Duration.FromMinutes(1));
    }

    [Fact]
    public async Task A_page_that_calls_this_machine_by_a_name_of_its_own_is_told_nothing()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/demo") { Headers = { Host = "elsewhere.example" } };

        var answer = await house.Client.SendAsync(request);

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.DoesNotContain(house.Demo.Address.Keys["desk"], await answer.Content.ReadAsStringAsync());
    }
}
