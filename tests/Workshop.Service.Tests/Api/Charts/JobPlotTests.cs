using System.Net;
using NodaTime;
using SkiaSharp;
using Workshop.Core.Route;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Charts;

/// <summary>Plots of a job, asked for before there is anything to draw, and after.</summary>
public class JobPlotTests
{
    [Theory, BothEngines]
    public async Task A_watchs_rates_amplitudes_and_readings_are_drawn_in_the_callers_language(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        foreach (var plot in new[] { "rate-sets/ladder.svg", "rate-sets/amplitude.png", "wear-checks/readings.svg" })
        {
            using var nothing = await host.Bench.GetAsync($"/v1/jobs/{watch.Label}/{plot}");
            Assert.Equal((HttpStatusCode.NotFound, true), (nothing.StatusCode, (await nothing.Problem()).Detail.Contains("nothing to draw", StringComparison.Ordinal)));
        }

        await watch.Does("rate-set.recorded", """{"windState":"full","liftAngleDegrees":52,"readings":[{"position":"dial-up","ratePerDaySeconds":-14,"amplitudeDegrees":231},{"position":"crown-down","ratePerDaySeconds":-25,"amplitudeDegrees":201}],"person":"mara"}""");
        var one = await Svg(host, watch, "rate-sets/ladder.svg");
        Assert.Contains("there is no earlier set", one, StringComparison.Ordinal);
        await watch.Through(Stage.WaterTest);
        await watch.StartWear();
        host.Clock.Advance(Duration.FromHours(24));
        Assert.Contains("Nothing was read yet but the start.", await Svg(host, watch, "wear-checks/readings.svg"), StringComparison.Ordinal);
        await watch.ReadWear("3");

        var two = await Svg(host, watch, "rate-sets/ladder.svg");
        Assert.Contains("Left as measured Mon 2 Mar 10:00", two, StringComparison.Ordinal);
        Assert.Contains("window of the mean", two, StringComparison.Ordinal);
        Assert.Contains("zifferblatt oben", (await Svg(host, watch, "rate-sets/ladder.svg?set=1", "de")).ToLowerInvariant(), StringComparison.Ordinal);
        Assert.Contains("hours since full wind", await Svg(host, watch, "rate-sets/amplitude.svg"), StringComparison.Ordinal);
        var read = await Svg(host, watch, "wear-checks/readings.svg?check=1");
        Assert.Contains("+3.0 ± 1.4 s/d: pass", read, StringComparison.Ordinal);
        Assert.Contains("Ablesungen der Probe 1", await Svg(host, watch, "wear-checks/readings.svg", "de"), StringComparison.Ordinal);
        using var png = await host.Bench.GetAsync($"/v1/jobs/{watch.Label}/rate-sets/ladder.png?set=2&before=1&width=559&scale=3.125");
        Assert.Equal(1747, SKBitmap.Decode(await png.Content.ReadAsByteArrayAsync()).Width);

        foreach (var (address, status) in new[]
        {
            ("rate-sets/ladder.svg?set=9", 404), ("rate-sets/ladder.svg?before=9", 404), ("rate-sets/ladder.svg?set=none", 422), ("rate-sets/ladder.pdf", 404), ("rate-sets/amplitude.svg?width=99999", 422),
            ("wear-checks/readings.svg?check=2", 404), ("wear-checks/readings.svg?check=-1", 422),
        })
        {
            using var answer = await host.Bench.GetAsync($"/v1/jobs/{watch.Label}/{address}");
            Assert.Equal((address, status), (address, (int)answer.StatusCode));
        }
    }

    private static async Task<string> Svg(WorkshopHost host, HouseWatch watch, string address, string language = "en")
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, $"/v1/jobs/{watch.Label}/{address}");
        request.Headers.AcceptLanguage.ParseAdd(language);
        using var answer = await host.Bench.SendAsync(request);
        Assert.Equal((HttpStatusCode.OK, "image/svg+xml"), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        return System.Net.WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
    }
}
