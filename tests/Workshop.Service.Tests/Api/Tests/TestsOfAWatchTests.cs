using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Tests;

public class TestsOfAWatchTests
{
    private const string Calibre =
        """{ "maker": "Orrery & Finch", "name": "OF 9", "kind": "automatic", "vibrationsPerHour": 28800, "powerReserveHours": 44, "calendar": true }""";

    [Theory, BothEngines]
    public async Task What_a_watch_is_tested_for_and_what_came_of_it_is_read_from_its_job(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("calibre", "of-9", Calibre);
        var label = await host.TakeIn(Counter.WholeIntake
            .Replace("\"madeInYear\": 2011", "\"madeInYear\": 2011, \"crystal\": \"acrylic\", \"waterRatingBar\": 3", StringComparison.Ordinal)
            .Replace("\"place\": \"dial\"", "\"place\": \"crystal\"", StringComparison.Ordinal)
            .Replace("\"polish\": \"no\"", "\"polish\": \"no\", \"waterTest\": true", StringComparison.Ordinal));

        // Functions: what an automatic with a calendar has to show, and what was told of one of them.
        await host.Say(label, "function-check.recorded", """{ "function": "rotor", "passed": true, "person": "mara" }""");
        await host.Say(label, "function-check.recorded", """{ "function": "date-instant", "passed": false, "value": { "done": "00:20" }, "person": "mara" }""");
        var functions = await host.Bench.Get($"/v1/jobs/{label}/functions");
        Assert.Equal(
            ["not-right", "open", "open", "open", "right"],
            functions.GetProperty("functions").EnumerateArray().Select(one => one.Text("state")));
        var date = functions.GetProperty("functions")[0];
        Assert.Equal(("dial-and-hands", "00:20"), (date.Text("backTo"), date.GetProperty("value").Text("done")));
        Assert.Contains("20:00", functions.GetProperty("functions")[1].Text("caution"), StringComparison.Ordinal);

        // Reserve: the calibre's 44 hours, and hands that tell how long it ran.
        await host.Say(label, "reserve-test.started", """{ "fullyWound": true, "person": "mara" }""");
        host.Clock.Advance(Duration.FromHours(36));
        await host.Say(label, "reserve-test.read", """{ "running": true }""");
        var rows = await host.Bench.Get($"/v1/jobs/{label}/next-checks");
        Assert.Contains(rows.GetProperty("items").EnumerateArray(), row => row.Text("kind") == "reserve-test");
        host.Clock.Advance(Duration.FromHours(12));
        await host.Say(label, "reserve-test.read", """{ "stopped": true }""");
        var reserve = await host.Bench.Get($"/v1/jobs/{label}/reserve-tests");
        var test = Assert.Single(reserve.GetProperty("tests").EnumerateArray());
        Assert.Equal((44m, "calibre", "inconclusive", "read-the-hands"), (test.GetProperty("statedHours").GetDecimal(), test.Text("basis"), test.Text("verdict"), test.GetProperty("settling").Text("settling")));
        Assert.Equal((36m, 48m), (test.GetProperty("ranLeastHours").GetDecimal(), test.GetProperty("ranMostHours").GetDecimal()));

        // Water: above the rating of an acrylic crystal, in water before a dry pass, and the watch was cold.
        var told = await host.Say(label, "water-test.recorded", """{ "method": "wet", "pressureBar": 5, "watchAtRoomMinutes": 5, "passed": true, "person": "mara" }""");
        Assert.Contains("against-caution", told.GetRawText(), StringComparison.Ordinal);
        var water = await host.Bench.Get($"/v1/jobs/{label}/water-tests");
        Assert.Equal(["vacuum", "pressure", "condensation"], water.GetProperty("plan").EnumerateArray().Select(step => step.Text("step")));
        Assert.Equal(3m, water.GetProperty("plan")[1].GetProperty("mostBar").GetDecimal());
        Assert.Empty(water.GetProperty("never").EnumerateArray());
        Assert.Empty(water.GetProperty("notKnown").EnumerateArray());
        var wet = Assert.Single(water.GetProperty("tests").EnumerateArray());
        Assert.Equal(["acrylic-above-rating", "wet-before-dry", "cold-watch"], wet.GetProperty("against").EnumerateArray().Select(one => one.Text("caution")));
        Assert.Equal("not-as-closed", wet.Text("validity"));
        Assert.Contains("Local rules", water.GetRawText(), StringComparison.Ordinal);

        using var ask = new HttpRequestMessage(HttpMethod.Get, $"/v1/jobs/{label}/water-tests") { Headers = { { "Accept-Language", "de" } } };
        using var german = await host.Bench.SendAsync(ask);
        Assert.Contains("örtliche", await german.Content.ReadAsStringAsync(), StringComparison.OrdinalIgnoreCase);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync($"/v1/jobs/{Core.Labels.Label.Complete(Core.Labels.LabelKind.Job, [1, 2, 3, 4, 5, 6])}/stops")).StatusCode);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_stop_is_told_by_its_hands_its_causes_are_counted_by_calibre_and_a_correction_puts_the_count_right(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Core.Route.Stage.WaterTest);
        var before = host.Clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb["Europe/Zurich"]).LocalDateTime;
        await watch.StartWear();
        host.Clock.Advance(Duration.FromHours(20));
        var shown = before.PlusMinutes(370).TimeOfDay;
        var found = await watch.Does("wear-check.read", $$"""{"kind":"worn","stopped":true,"shownTime":"{{shown.Hour:00}}:{{shown.Minute:00}}"}""");
        Assert.StartsWith("It stopped after 6 h ", found.Line, StringComparison.Ordinal);
        var id = found.Whole.GetProperty("id").GetString();

        var stops = await host.Bench.Get($"/v1/jobs/{watch.Label}/stops");
        var stop = Assert.Single(stops.GetProperty("stops").EnumerateArray());
        Assert.Equal(2, stop.GetProperty("moments").GetArrayLength());
        Assert.InRange(stop.GetProperty("moments")[0].GetProperty("ranForMinutes").GetInt32(), 368, 371);
        Assert.All(stop.GetProperty("suspicions").EnumerateArray(), one => Assert.Equal("too few to say (n = 0)", one.Text("words")));
        Assert.True(stop.TryGetProperty("nextTest", out _));

        var explained = await watch.Does("stop.explained", $$$"""{"of":{"source":"{{{watch.Bench.Source}}}","id":"{{{id}}}"},"cause":"calendar","person":"mara"}""");
        stops = await host.Bench.Get($"/v1/jobs/{watch.Label}/stops");
        Assert.Equal(1, stops.GetProperty("causesFound").GetInt32());
        Assert.Equal("calendar", stops.GetProperty("stops")[0].GetProperty("found").Text("cause"));
        Assert.Empty(host.Check().Differences);

        await watch.Does("correction.made", $$$"""{"of":{"source":"{{{watch.Bench.Source}}}","id":"{{{explained.Whole.GetProperty("id").GetString()}}}"},"reason":"the wrong card","person":"mara"}""");
        Assert.Equal(0, (await host.Bench.Get($"/v1/jobs/{watch.Label}/stops")).GetProperty("causesFound").GetInt32());
        Assert.Empty(host.Check().Differences);
    }
}
