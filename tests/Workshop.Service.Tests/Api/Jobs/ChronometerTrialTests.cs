using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class ChronometerTrialTests
{
    private static readonly (string Position, int Celsius)[] Sequence =
    [
        ("crown-left", 23), ("crown-left", 23), ("crown-up", 23), ("crown-up", 23), ("crown-down", 23), ("crown-down", 23), ("dial-down", 23), ("dial-down", 23),
        ("dial-up", 23), ("dial-up", 23), ("dial-up", 8), ("dial-up", 23), ("dial-up", 38), ("crown-left", 23), ("crown-left", 23),
    ];

    private static readonly string[] Rates = ["0", "0", "7.5", "6.0", "-3.5", "-2.0", "9.0", "13.0", "6.5", "5.5", "17.5", "6.0", "-3.0", "1.0", "5.5"];

    [Theory, BothEngines]
    public async Task A_trial_names_its_missing_days_until_all_are_there_and_then_has_seven_criteria_for_both_sizes(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        var address = $"/v1/jobs/{label}/chronometer-trials/spring";
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync(address)).StatusCode);

        for (var day = 1; day <= 15; day++)
        {
            await host.Say(label, "trial-day.recorded", Day(day, day == 12 ? 26 : Sequence[day - 1].Celsius));
        }

        var unlike = await host.Bench.Get(address);
        Assert.Equal([12], unlike.GetProperty("unlikeSequence").EnumerateArray().Select(one => one.GetInt32()));
        Assert.Empty(unlike.GetProperty("categories").EnumerateArray());
        var asked = unlike.GetProperty("days").EnumerateArray().Single(one => one.TryGetProperty("asked", out _)).GetProperty("asked");
        Assert.Equal(("dial-up", 23), (asked.Text("position"), asked.GetProperty("temperatureCelsius").GetInt32()));

        using var refused = await host.TrySay(label, "trial-day.recorded", Day(12, 23));
        Assert.Equal("trial-day-told", (await refused.Problem()).Code);
        var wrong = unlike.GetProperty("days")[11].GetProperty("event");
        await host.Say(label, "trial-day.recorded", Day(12, 23).Replace("{", $$"""{ "insteadOf": { "source": "{{wrong.Text("source")}}", "id": "{{wrong.Text("id")}}" }, """, StringComparison.Ordinal));

        var trial = await host.Bench.Get(address);
        Assert.Equal("computed by the definitions of ISO 3159", trial.Text("computed"));
        Assert.Empty(trial.GetProperty("missingDays").EnumerateArray());
        var categories = trial.GetProperty("categories").EnumerateArray().ToDictionary(one => one.Text("category"));
        Assert.Equal(["variation-with-temperature", "resumption"], NotMet(categories["twenty-millimetres-and-over"]));
        Assert.True(categories["under-twenty-millimetres"].GetProperty("met").GetBoolean());
        var perDegree = categories["twenty-millimetres-and-over"].GetProperty("criteria")[5];
        Assert.Equal((-0.6833m, -0.6m, 0.6m, -0.0833m), (Number(perDegree, "figure"), Number(perDegree, "least"), Number(perDegree, "most"), Number(perDegree, "margin")));
        Assert.Equal("6H", trial.GetProperty("days")[0].Text("symbol"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_rate_set_shows_its_pattern_what_it_cannot_separate_and_the_rate_on_the_wrist()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Say(
            label, "rate-set.recorded",
            """
            { "readings": [ { "position": "crown-up", "ratePerDaySeconds": 9 }, { "position": "crown-left", "ratePerDaySeconds": 6 }, { "position": "crown-down", "ratePerDaySeconds": -3 },
              { "position": "crown-right", "ratePerDaySeconds": 2 }, { "position": "dial-up", "ratePerDaySeconds": 4 } ] }
            """);
        await host.Say(label, "rate-set.recorded", """{ "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4 } ] }""");

        var sets = (await host.Bench.Get($"/v1/jobs/{label}/rate-sets")).GetProperty("items");
        var pattern = sets[0].GetProperty("pattern");

        Assert.Equal((3.5m, 6.32m, 18.43m, -0.5m, 0.5m), (
            Number(pattern, "verticalMeanPerDaySeconds"), Number(pattern, "halfSwingPerDaySeconds"), Number(pattern, "fastestCrownDegrees"), Number(pattern, "residualPerDaySeconds"),
            Number(pattern, "flatLessVerticalPerDaySeconds")));
        Assert.Equal(["imbalance-from-hairspring", "one-amplitude", "one-flat"], pattern.GetProperty("cannotSeparate").EnumerateArray().Select(one => one.Text("limit")));
        Assert.Equal(["dial-down"], sets[0].GetProperty("predicted").Texts("missing"));
        Assert.False(sets[1].TryGetProperty("pattern", out _));
        Assert.Equal(4, Number(sets[1].GetProperty("predicted"), "ratePerDaySeconds"));

        using var german = await host.Bench.Send(HttpMethod.Get, $"/v1/jobs/{label}/rate-sets", null, "application/json", ("Accept-Language", "de"));
        Assert.Contains("am schnellsten 18° von Krone oben gegen Krone links", (await german.Json()).GetProperty("items")[0].GetProperty("pattern").Texts("words")[0]);
    }

    private static string Day(int day, int celsius) => FormattableString.Invariant(
        $$"""{ "trial": "spring", "day": {{day}}, "position": "{{Sequence[day - 1].Position}}", "temperatureCelsius": {{celsius}}, "ratePerDaySeconds": {{Rates[day - 1]}}, "person": "mara" }""");

    private static string[] NotMet(JsonElement category) =>
        [.. category.GetProperty("criteria").EnumerateArray().Where(one => !one.GetProperty("met").GetBoolean()).Select(one => one.Text("criterion"))];

    private static decimal Number(JsonElement element, string member) => element.GetProperty(member).GetDecimal();
}
