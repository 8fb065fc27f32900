using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Route;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class StaticCheckTests
{
    private const string Positions = """
        [{"position":"dial-up","ratePerDaySeconds":RATE,"amplitudeDegrees":270},{"position":"dial-down","ratePerDaySeconds":RATE,"amplitudeDegrees":270},
         {"position":"crown-up","ratePerDaySeconds":RATE,"amplitudeDegrees":240},{"position":"crown-down","ratePerDaySeconds":RATE,"amplitudeDegrees":240},
         {"position":"crown-left","ratePerDaySeconds":RATE,"amplitudeDegrees":240},{"position":"crown-right","ratePerDaySeconds":RATE,"amplitudeDegrees":240}]
        """;

    [Theory, BothEngines]
    public async Task A_watch_lies_still_for_a_day_and_is_read_by_two_sets(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Regulation);
        var next = await (await host.Bench.GetAsync($"/v1/jobs/{watch.Label}/next-checks")).Json();
        Assert.Equal(["static", "worn"], next.GetProperty("startBy").EnumerateArray().Select(one => one.GetProperty("kind").GetString()!));

        Assert.Equal("accepted", (await watch.Tells("wear-check.started", """{"kind":"static","fullyWound":true,"person":"mara"}""")).Outcome);
        host.Clock.Advance(Duration.FromMinutes(30));
        await watch.Tells("rate-set.recorded", Set("full", "4"));
        host.Clock.Advance(Duration.FromHours(23.5));
        var early = await watch.Tells("wear-check.read", """{"kind":"static","person":"mara"}""");
        Assert.Equal("sets-to-compare", early.Problem.GetProperty("code").GetString());
        await watch.Tells("rate-set.recorded", Set("one-day", "7"));

        var read = await watch.Tells("wear-check.read", """{"kind":"static","person":"mara"}""");

        Assert.Equal("Passed: +3.0 s/d, 240° upright", read.Line);
        Assert.Equal("pass", read.Whole.GetProperty("reading").GetProperty("verdict").GetString());
        var still = (await (await host.Bench.GetAsync($"/v1/jobs/{watch.Label}")).Json()).GetProperty("wearCheck").GetProperty("statics")[0];
        Assert.Equal("isochronism", still.GetProperty("readings")[0].GetProperty("criteria")[0].GetProperty("kind").GetString());
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_jump_of_the_clock_is_written_into_every_job_whose_watch_is_worn(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await (await host.Manager.Put("/v1/winder-places/w-3", """{ "name": "Third place" }""")).Json();
        var worn = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        var next = await (await host.Bench.GetAsync($"/v1/jobs/{worn.Label}/next-checks")).Json();
        Assert.Contains(next.GetProperty("startBy").EnumerateArray(), one => one.GetProperty("line").GetString() == "winder place free: w-3");
        await worn.Tells("wear-check.started", """{"kind":"worn","fullyWound":true,"offsetSeconds":0,"place":"winder","winderPlace":"w-3","reference":"server","person":"mara"}""");

        var jump = Duration.FromSeconds(7);
        await ClockSteps.Tell(host.Services.GetRequiredService<AgendaStore>(), host.Services.GetRequiredService<Writer>(), jump, CancellationToken.None);
        host.Clock.Advance(Duration.FromHours(24));
        var read = await worn.Tells("wear-check.read", """{"kind":"worn","offsetSeconds":3,"reference":"server","person":"mara"}""");

        Assert.Equal("inconclusive", read.Whole.GetProperty("reading").GetProperty("verdict").GetString());
        Assert.Equal("The service's clock jumped: no verdict", read.Line);
        Assert.Empty(host.Check().Differences);
    }

    private static string Set(string wind, string rate) => $$"""{"windState":"{{wind}}","readings":{{Positions.Replace("RATE", rate, StringComparison.Ordinal)}},"person":"mara"}""";
}
