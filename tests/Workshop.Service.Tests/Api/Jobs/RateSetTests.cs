using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class RateSetTests
{
    private const string Six = """
        "readings": [ { "position": "CH", "ratePerDaySeconds": 4, "amplitudeDegrees": 280, "beatErrorMilliseconds": 0.2 }, { "position": "fh", "ratePerDaySeconds": 5 },
          { "position": "3H", "ratePerDaySeconds": 9 }, { "position": "6H", "ratePerDaySeconds": 4 }, { "position": "9H", "ratePerDaySeconds": -3 }, { "position": "12H", "ratePerDaySeconds": 2 } ]
        """;

    [Theory, BothEngines]
    public async Task A_set_told_by_symbols_keeps_where_the_crown_pointed_and_is_judged_by_its_tolerance(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        var told = await host.Say(label, "rate-set.recorded", $$"""{ "windState": "full", "liftAngleDegrees": 52, "vibrationsPerHour": 28800, {{Six}}, "person": "mara" }""");

        Assert.Equal(("Passes: mean +3.5, spread 12.0 s/d", "The crown is taken to sit at three; nobody has said where it is."), (told.GetProperty("say").Text("line"), told.GetProperty("say").Text("more")));
        Assert.Equal(("passes", "modern-automatic", true), (told.GetProperty("rateSet").Text("outcome"), told.GetProperty("rateSet").Text("tolerance"), told.GetProperty("rateSet").GetProperty("complete").GetBoolean()));

        // The worst position left out looks better.
        await host.Say(label, "rate-set.recorded", $$"""{ "windState": "full", {{Six.Replace("""{ "position": "9H", "ratePerDaySeconds": -3 }, """, "", StringComparison.Ordinal)}} }""");
        var sets = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items");

        var readings = sets[0].GetProperty("readings").EnumerateArray().ToArray();
        Assert.Equal(["dial-up", "dial-down", "crown-up", "crown-left", "crown-down", "crown-right"], readings.Select(one => one.Text("position")));
        Assert.Equal(["CH", "FH", "3H", "6H", "9H", "12H"], readings.Select(one => one.Text("symbol")));
        Assert.Equal(["CH", "fh", "3H", "6H", "9H", "12H"], readings.Select(one => one.Text("toldPosition")));
        Assert.Equal((3.5m, 12.0m, 4.5m, 3.0m, 280m), (Number(sets[0], "meanPerDaySeconds"), Number(sets[0], "spreadPerDaySeconds"), Number(sets[0], "flatMeanPerDaySeconds"), Number(sets[0], "verticalMeanPerDaySeconds"), Number(sets[0], "meanAmplitudeDegrees")));
        Assert.Equal(0.7m, Number(readings[0], "restOffsetDegrees"));
        var verdict = sets[0].GetProperty("verdict");
        Assert.Equal(("passes", "modern-automatic", "Passes modern automatic."), (verdict.Text("outcome"), verdict.Text("tolerance"), verdict.Texts("words")[0]));
        var spread = verdict.GetProperty("criteria").EnumerateArray().Single(one => one.Text("criterion") == "spread-full");
        Assert.Equal((12m, 15m, 3m, "holds", "s/d"), (Number(spread, "figure"), Number(spread, "most"), Number(spread, "margin"), spread.Text("outcome"), spread.Text("unit")));

        Assert.Equal((4.8m, 7m), (Number(sets[1], "meanPerDaySeconds"), Number(sets[1], "spreadPerDaySeconds")));
        Assert.Equal(("incomplete", false), (sets[1].GetProperty("verdict").Text("outcome"), sets[1].GetProperty("complete").GetBoolean()));
        Assert.Equal(["crown-down"], sets[1].Texts("missingPositions"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_left_hand_crown_and_the_shops_own_words_say_what_a_position_means()
    {
        await using var host = await Counter.Open();
        await host.Change("/v1/rules", """{ "timekeeping": { "positionAliases": { "Nine Up": { "markUp": 9 }, "on its face": { "position": "dial-down" } } } }""");
        var label = await host.TakeIn();
        var watch = (await host.Bench.Get($"/v1/jobs/{label}")).GetProperty("watch").Text("id");
        using var seen = await host.Desk.GetAsync($"/v1/watches/{watch}");
        using var edited = await host.Desk.Send(HttpMethod.Put, $"/v1/watches/{watch}", """{ "words": "worn on the right", "crownHour": 9 }""", "application/json", ("If-Match", seen.Headers.ETag!.ToString()));
        Assert.Equal((HttpStatusCode.OK, 9), (edited.StatusCode, (await edited.Json()).GetProperty("watch").GetProperty("crownHour").GetInt32()));

        await host.Say(label, "rate-set.recorded", """{ "readings": [ { "position": "nine up", "ratePerDaySeconds": 4 }, { "position": "12H", "ratePerDaySeconds": 5 }, { "position": "On its face", "ratePerDaySeconds": 1 } ] }""");
        await host.Say(label, "trial-day.recorded", """{ "trial": "spring", "day": 1, "position": "6H", "temperatureCelsius": 23, "ratePerDaySeconds": 1 }""");
        using var unknown = await host.TrySay(label, "rate-set.recorded", """{ "readings": [ { "position": "nine up", "ratePerDaySeconds": 4 }, { "position": "sideways", "ratePerDaySeconds": 5 } ] }""");

        var set = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items")[0];
        Assert.Equal(["crown-up", "crown-left", "dial-down"], set.GetProperty("readings").EnumerateArray().Select(one => one.Text("position")));
        Assert.Equal(["9H", "12H", "FH"], set.GetProperty("readings").EnumerateArray().Select(one => one.Text("symbol")));
        Assert.Equal((9, false), (set.GetProperty("crownHour").GetInt32(), set.GetProperty("crownAssumed").GetBoolean()));
        Assert.Equal("crown-right", (await host.Bench.Get($"/v1/jobs/{label}/chronometer-trials/spring")).GetProperty("days")[0].Text("position"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, unknown.StatusCode);
        var problem = await unknown.Problem();
        Assert.Equal(["/data/readings/1/position"], problem.Pointers);
        Assert.Contains("'sideways' is no position here. Known are: dial-up, dial-down, crown-up, crown-down, crown-left, crown-right, CH, FH, CB, 3H, 6H, 9H, 12H, Nine Up, on its face", problem.Whole.GetProperty("errors")[0].Text("detail"), StringComparison.Ordinal);
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Odd_figures_are_kept_flagged_and_asked_back()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(body: """{ "variant": "full-automatic", "customer": { "telephone": "01632 960 117" }, "watch": { "words": "steel", "calibre": { "kind": "automatic", "vibrationsPerHour": 28800, "liftAngleDegrees": 50 } } }""");
        var told = await host.Say(
            label, "rate-set.recorded",
            """{ "windState": "full", "hoursSinceFullWind": 24, "liftAngleDegrees": 52, "vibrationsPerHour": 28800, "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4, "amplitudeDegrees": 335 } ], "person": "mara" }""");

        Assert.Equal(("ask", "335° dial up: knocking, or the lift angle?"), (told.GetProperty("say").Text("signal"), told.GetProperty("say").Text("line")));
        Assert.Equal(["implausible"], told.Texts("flags"));
        Assert.Equal(["amplitude-high", "lift-angle-unlike-calibre", "wind-unlike-hours"], told.GetProperty("rateSet").GetProperty("doubts").EnumerateArray().Select(one => one.Text("doubt")));

        await host.Say(label, "lift-angle.corrected", """{ "liftAngleDegrees": 49, "person": "mara" }""");

        var set = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items")[0];
        Assert.Equal((49m, 52m), (Number(set, "liftAngleDegrees"), Number(set, "liftAngleAsToldDegrees")));
        Assert.Equal((315.7m, 335m), (Number(set.GetProperty("readings")[0], "amplitudeDegrees"), Number(set.GetProperty("readings")[0], "amplitudeAsReadDegrees")));
        Assert.Equal(["amplitude-above-usual", "lift-angle-unlike-calibre", "wind-unlike-hours"], set.GetProperty("doubts").EnumerateArray().Select(one => one.Text("doubt")));
    }

    [Theory, BothEngines]
    public async Task What_a_manager_signs_is_shown_with_the_verdict_and_the_sets_are_compared(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Say(label, "rate-set.recorded", $$"""{ "windState": "full", {{Six.Replace("\"ratePerDaySeconds\": 9 ", "\"ratePerDaySeconds\": 19 ", StringComparison.Ordinal)}} }""");
        var outside = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items")[0].GetProperty("verdict");
        Assert.Equal("outside", outside.Text("outcome"));

        await host.Say(label, "tolerance.excepted", """{ "criterion": "spread-full", "reason": "worn pivots", "person": "ines" }""");

        var verdict = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items")[0].GetProperty("verdict");
        var exception = Assert.Single(verdict.GetProperty("exceptions").EnumerateArray());
        Assert.Equal(("passes", "spread-full", "worn pivots", "ines"), (verdict.Text("outcome"), exception.Text("criterion"), exception.Text("reason"), exception.Text("person")));
        Assert.True(verdict.GetProperty("criteria")[1].GetProperty("excepted").GetBoolean());

        var compared = await host.Bench.Get($"/v1/jobs/{label}/rate-sets/compared");
        Assert.Equal((1, "modern-automatic", 4m), (compared.GetProperty("sets").GetInt32(), compared.GetProperty("target").Text("tolerance"), Number(compared.GetProperty("target"), "aimPerDaySeconds")));
        Assert.True(compared.GetProperty("target").GetProperty("spreadTooWide").GetBoolean());
        Assert.Equal("one-set", compared.GetProperty("cannotSeparate")[0].Text("limit"));
        Assert.False(compared.TryGetProperty("isochronism", out _));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Sets_before_and_after_a_touch_and_over_a_day_are_compared()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await Measured(host, label, "full", -20, 0);
        await host.Say(label, "index.touched", """{ "person": "mara" }""");
        await Measured(host, label, "full", 0, 0);
        host.Clock.Advance(Duration.FromHours(24));
        await Measured(host, label, "one-day", -3, -40);

        var compared = await host.Bench.Get($"/v1/jobs/{label}/rate-sets/compared");

        var day = compared.GetProperty("isochronism");
        Assert.Equal((-3m, 3.5m, 0.5m, 6), (Number(day, "changePerDaySeconds"), Number(day, "meanBeforePerDaySeconds"), Number(day, "meanAfterPerDaySeconds"), day.GetProperty("positions").GetArrayLength()));
        Assert.Equal((0.75m, 12), (Number(compared.GetProperty("amplitude"), "perDaySecondsPerTenDegrees"), compared.GetProperty("amplitude").GetProperty("readings").GetInt32()));
        Assert.Equal(3, compared.GetProperty("flatToVertical").GetArrayLength());
        Assert.Equal(["one-instrument"], compared.GetProperty("cannotSeparate").EnumerateArray().Select(one => one.Text("limit")));
        var verdict = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items")[2].GetProperty("verdict");
        Assert.Equal(["vertical-one-day", "isochronism", "beat-error"], verdict.GetProperty("criteria").EnumerateArray().Select(one => one.Text("criterion")));
        Assert.Equal(day.GetProperty("before").Text("id"), verdict.GetProperty("comparedWith").Text("id"));

        await Measured(host, label, "full", 1, 0);
        var change = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets/compared")).GetProperty("beforeAndAfter");
        Assert.Equal((-16.5m, 4.5m, 21m), (Number(change, "meanBeforePerDaySeconds"), Number(change, "meanAfterPerDaySeconds"), Number(change, "changePerDaySeconds")));
    }

    [Fact]
    public async Task Gates_that_nobody_can_move_are_shown_as_fixed()
    {
        await using var host = await Counter.Open();
        var gates = (await host.Bench.Get("/v1/gates")).GetProperty("gates").EnumerateArray().ToDictionary(one => one.Text("gate"));

        Assert.True(gates["positions-complete"].GetProperty("fixed").GetBoolean());
        Assert.False(gates["tolerance-met"].GetProperty("fixed").GetBoolean());
    }

    private static Task<JsonElement> Measured(WorkshopHost host, string label, string wind, int rate, int amplitude)
    {
        (string Position, int Rate, int Amplitude)[] six = [("dial-up", 4, 290), ("dial-down", 5, 288), ("crown-up", 9, 262), ("crown-left", 4, 260), ("crown-down", -3, 255), ("crown-right", 2, 258)];
        var readings = six.Select(one => FormattableString.Invariant(
            $$"""{ "position": "{{one.Position}}", "ratePerDaySeconds": {{one.Rate + rate}}, "amplitudeDegrees": {{one.Amplitude + amplitude}}, "beatErrorMilliseconds": 0.2 }"""));
        return host.Say(label, "rate-set.recorded", $$"""{ "windState": "{{wind}}", "liftAngleDegrees": 52, "vibrationsPerHour": 28800, "readings": [ {{string.Join(", ", readings)}} ], "person": "mara" }""");
    }

    private static decimal Number(JsonElement element, string member) => element.GetProperty(member).GetDecimal();
}
