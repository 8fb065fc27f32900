using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Route;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;
using Workshop.Service.Tasks;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Shop;

/// <summary>When the shop is open, and what a change of that moves.</summary>
public class CalendarTests
{
    private const string Week =
        """ "week": { "monday": [ { "opens": "09:00", "closes": "18:00" } ], "tuesday": [ { "opens": "09:00", "closes": "18:00" } ], "wednesday": [ { "opens": "09:00", "closes": "18:00" } ], "thursday": [ { "opens": "09:00", "closes": "18:00" } ], "friday": [ { "opens": "09:00", "closes": "18:00" } ] } """;

    [Theory]
    [BothEngines]
    public async Task The_holidays_of_a_region_are_kept_with_the_calendar_and_the_shops_own_list_wins(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2026, 3, 2, 10);

        var saved = await Save(host, $$"""{ {{Week}}, "publicHolidays": { "region": "DE-BW", "own": [ { "date": "2026-07-20", "name": "Town fair" }, { "date": "2026-01-06", "name": "Kings" } ], "without": [ "2026-06-04" ] } }""");
        var calendar = await host.Bench.Get("/v1/calendar");
        var days = calendar.GetProperty("holidays").EnumerateArray().ToDictionary(day => day.Text("date"), day => day.Text("name"));

        Assert.Equal("Europe/Zurich", calendar.Text("timeZone"));
        Assert.Equal("2024-01-01", calendar.Text("resolvedFrom"));
        Assert.Equal("2036-12-31", calendar.Text("resolvedThrough"));
        Assert.Equal("Town fair", days["2026-07-20"]);
        Assert.Equal("Kings", days["2026-01-06"]);
        Assert.DoesNotContain("2026-06-04", days.Keys);
        Assert.Equal(["2026-01-01", "2026-01-06", "2026-04-03", "2026-04-06", "2026-05-01", "2026-05-14", "2026-05-25", "2026-07-20", "2026-10-03", "2026-11-01", "2026-12-25", "2026-12-26"],
            days.Keys.Where(day => day.StartsWith("2026", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        Assert.Contains("2036-12-31", Assert.Single(saved.Texts("remarks")), StringComparison.Ordinal);
        Assert.False(saved.GetProperty("asked").GetBoolean());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_is_in_doubt_about_a_region_is_said_when_it_is_chosen()
    {
        await using var host = await Counter.Open();

        var saved = await Save(host, $$"""{ {{Week}}, "publicHolidays": { "region": "CH-ZH" } }""");

        Assert.Contains(saved.Texts("remarks"), remark => remark.Contains("2 January", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_a_region_the_shops_own_days_are_all()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);

        var saved = await Save(host, $$"""{ {{Week}}, "publicHolidays": { "own": [ { "date": "2026-07-20", "name": "Town fair" } ] } }""");

        Assert.Equal("2026-07-20", Assert.Single(saved.GetProperty("document").GetProperty("holidays").EnumerateArray()).Text("date"));
        Assert.Empty(saved.Texts("remarks"));
    }

    [Fact]
    public async Task A_calendar_that_was_read_is_sent_back_and_its_days_are_computed_anew()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);
        await Save(host, $$"""{ {{Week}}, "publicHolidays": { "region": "FR" } }""");
        using var read = await host.Manager.GetAsync("/v1/calendar");
        var text = await read.Content.ReadAsStringAsync();

        host.SetTo(2027, 1, 4, 10);
        using var saved = await host.Manager.Put("/v1/calendar", text.Replace("2026-07-14", "2026-07-15", StringComparison.Ordinal), read.Headers.ETag!.Tag);
        var document = (await saved.Json()).GetProperty("document");

        Assert.Equal("2037-12-31", document.Text("resolvedThrough"));
        Assert.Contains(document.GetProperty("holidays").EnumerateArray(), day => day.Text("date") == "2026-07-14");
        Assert.DoesNotContain(document.GetProperty("holidays").EnumerateArray(), day => day.Text("date") == "2026-07-15");
    }

    [Fact]
    public async Task Every_fault_of_a_calendar_is_named_with_its_pointer()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);

        var problem = await (await host.Manager.Put(
            "/v1/calendar",
            """
            { "timeZone": "Europe/Vennlowe",
              "week": { "monday": [ { "opens": "09:00", "closes": "08:00" } ], "tuesday": [ { "opens": "09:00", "closes": "13:00" }, { "opens": "12:00", "closes": "18:00" } ] },
              "closures": [ { "from": "2026-08-01", "through": "2026-07-01" }, { "from": "1726-08-01", "through": "2026-08-10" } ],
              "extraOpenDays": { "2026-12-19": [] },
              "publicHolidays": { "region": "XX-1", "own": [ { "date": "2099-01-01", "name": "Far" }, { "date": "2026-01-02", "name": "A" }, { "date": "2026-01-02", "name": "B" } ], "without": [ "2026-01-02" ] } }
            """,
            await Tag(host))).Problem();

        Assert.Equal("bad-fields", problem.Code);
        Assert.Equal(
            ["/closures/0/through", "/closures/1/from", "/extraOpenDays/2026-12-19", "/publicHolidays/own/0/date", "/publicHolidays/own/2/date", "/publicHolidays/region", "/publicHolidays/without/0",
                "/timeZone", "/week/monday/0/closes", "/week/tuesday/1"],
            problem.Pointers.Order(StringComparer.Ordinal));
        Assert.Contains("DE-BW", problem.Whole.GetRawText(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "week": {} }""", "/week")]
    [InlineData("""{ "week": { "monday": [ { "opens": "09:00" } ] } }""", "/week/monday/0/closes")]
    [InlineData("""{ "week": { "monday": [ { "opens": "09:00", "closes": "18:00" } ] }, "closures": [ { "from": "2026-01-01", "through": "2036-06-01" } ] }""", "/closures/0")]
    public async Task A_shop_that_would_never_open_is_no_shop(string calendar, string pointer)
    {
        await using var host = await Counter.Open();

        Assert.Equal([pointer], (await (await host.Manager.Put("/v1/calendar", calendar, await Tag(host))).Problem()).Pointers);
    }

    [Theory]
    [BothEngines]
    public async Task A_closure_added_later_leaves_the_promise_and_moves_the_forecast_and_asking_stores_nothing(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2026, 3, 2, 10);
        var job = await Diagnosed(host);
        await host.SendQuote(job, """, "workingDays": 10""");
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
        var before = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise");
        var withClosure = $$"""{ {{Week}}, "closures": [ { "from": "2026-03-03", "through": "2026-03-20", "reason": "flood" } ] }""";

        var asked = await Put(host, "/v1/calendar?ask=true", withClosure);
        var unchanged = await host.Desk.Get($"/v1/jobs/{job}");
        await Save(host, withClosure);
        var after = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise");

        var moves = asked.GetProperty("moves");
        var promise = Assert.Single(moves.GetProperty("promises").EnumerateArray());
        var forecast = Assert.Single(moves.GetProperty("forecasts").EnumerateArray());
        Assert.True(asked.GetProperty("asked").GetBoolean());
        Assert.False(asked.TryGetProperty("version", out _));
        Assert.Equal((job, "2026-03-16", "2026-03-16", "2026-04-03"), (promise.Text("job"), promise.Text("promisedOn"), promise.Text("from"), promise.Text("to")));
        Assert.True(forecast.GetProperty("atRisk").GetBoolean());
        Assert.False(forecast.GetProperty("wasAtRisk").GetBoolean());
        Assert.Equal(1, moves.GetProperty("counts").GetProperty("atRisk").GetInt32());
        Assert.Equal(before.GetRawText(), unchanged.GetProperty("promise").GetRawText());
        Assert.Equal("2026-03-16", after.Text("on"));
        Assert.Equal(before.Text("forecast"), forecast.Text("from"));
        Assert.Equal(after.Text("forecast"), forecast.Text("to"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_worn_check_is_due_when_it_was_and_its_task_moves()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 3, 10);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        host.SetTo(2026, 3, 3, 15);
        await watch.StartWear();

        var moves = (await Put(host, "/v1/calendar?ask=true", $$"""{ {{Week}}, "closures": [ { "from": "2026-03-04", "through": "2026-03-05" } ] }""")).GetProperty("moves");

        var check = Assert.Single(moves.GetProperty("checks").EnumerateArray());
        Assert.Equal("2026-03-04T14:00:00Z", check.Text("from")[..19] + "Z");
        Assert.Equal(check.Text("from"), check.Text("due"));
        Assert.Equal("2026-03-06T08:00:00Z", check.Text("to"));
        Assert.Equal("wear-check", check.Text("kind"));
    }

    [Fact]
    public async Task Another_zone_moves_the_end_of_the_promised_day()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);
        var job = await host.TakeIn();
        await host.Approve(job);

        var moves = (await Put(host, "/v1/calendar?ask=true", $$"""{ "timeZone": "Asia/Tokyo", {{Week}} }""")).GetProperty("moves");
        await Save(host, $$"""{ "timeZone": "Asia/Tokyo", {{Week}} }""");
        var kept = await Save(host, $$"""{ {{Week}} }""");

        Assert.Contains(moves.GetProperty("tasks").EnumerateArray(), task => task.Text("kind") == "promise" && task.Text("job") == job);
        Assert.Equal("Asia/Tokyo", kept.GetProperty("document").Text("timeZone"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Once_a_year_another_year_is_computed_however_often_it_is_asked(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2026, 3, 2, 10);
        await Save(host, $$"""{ {{Week}}, "publicHolidays": { "region": "DE-BW", "own": [ { "date": "2026-07-20", "name": "Town fair" } ] } }""");
        var task = host.Services.GetRequiredService<ResolveHolidays>();

        await task.Run(host.Clock.GetCurrentInstant(), CancellationToken.None);
        var sameYear = await Versions(host);
        host.SetTo(2027, 1, 1, 3);
        var now = host.Clock.GetCurrentInstant();
        await Task.WhenAll(task.Run(now, CancellationToken.None), task.Run(now, CancellationToken.None));
        await task.Run(now, CancellationToken.None);

        var calendar = await host.Bench.Get("/v1/calendar");
        var versions = await Versions(host);
        Assert.Equal(2, sameYear.Length);
        Assert.Equal(["/service", "/desk/office", "/service"], versions.Select(one => one.Text("source")));
        Assert.Equal("2037-12-31", calendar.Text("resolvedThrough"));
        Assert.Contains(calendar.GetProperty("holidays").EnumerateArray(), day => day.Text("date") == "2037-01-06");
        Assert.Contains(calendar.GetProperty("holidays").EnumerateArray(), day => day.Text("name") == "Town fair");
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_shop_without_a_region_needs_no_other_year()
    {
        await using var host = await Counter.Open();
        await Save(host, $$"""{ {{Week}} }""");

        await host.Services.GetRequiredService<ResolveHolidays>().Run(Instant.FromUtc(2040, 1, 1, 3, 0), CancellationToken.None);

        Assert.Equal(2, (await Versions(host)).Length);
    }

    [Fact]
    public async Task A_promise_beyond_the_years_that_are_known_says_so()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);
        await host.Save("calendar", "main", $$"""{ {{Week}}, "publicHolidays": { "region": "DE" }, "resolvedFrom": "2024-01-01", "resolvedThrough": "2026-03-31", "holidays": [] }""");
        var (near, far) = (await Diagnosed(host), await Diagnosed(host));
        foreach (var (job, days) in new[] { (near, 5), (far, 40) })
        {
            await host.SendQuote(job, $$""", "workingDays": {{days}}""");
            await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
        }

        Assert.Empty(await FlagsOfPromise(host, near));
        Assert.Equal(["beyond-calendar"], await FlagsOfPromise(host, far));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_calendar_of_an_older_release_has_the_zone_its_site_was_set_up_with()
    {
        await using var host = await Counter.Open();
        await host.Save("calendar", "main", $$"""{ {{Week}} }""");

        var rules = await host.Services.GetRequiredService<ShopRulesSource>().Read(WorkshopHost.Site);

        Assert.Equal("Europe/Zurich", rules.Calendar.Zone.Id);
        Assert.Null(rules.Calendar.HolidaysThrough);
    }

    [Fact]
    public async Task Regions_are_listed_with_what_is_in_doubt_and_their_dates()
    {
        await using var host = await Counter.Open();

        var regions = (await host.Bench.Get("/v1/calendar/regions")).GetProperty("regions").EnumerateArray().ToDictionary(one => one.Text("id"));
        var dates = await host.Bench.Get("/v1/calendar/regions/GB-ENG?from=2027&through=2028");
        using var unknown = await host.Bench.GetAsync("/v1/calendar/regions/XX");
        using var backwards = await host.Bench.GetAsync("/v1/calendar/regions/DE?from=2027&through=2026");
        using var tooMany = await host.Bench.GetAsync("/v1/calendar/regions/DE?from=2010&through=2030");

        Assert.Equal(HolidayRegions.All.Length, regions.Count);
        Assert.Contains("2 January", regions["CH-ZH"].Text("disagreement"), StringComparison.Ordinal);
        Assert.False(regions["DE-BW"].TryGetProperty("disagreement", out _));
        Assert.Equal(16, dates.GetProperty("dates").GetArrayLength());
        Assert.Equal("2027-12-28", dates.GetProperty("dates")[7].Text("date"));
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
        Assert.Equal(["through"], (await backwards.Problem()).Whole.GetProperty("errors").EnumerateArray().Select(one => one.Text("parameter")));
        Assert.Equal((HttpStatusCode)422, tooMany.StatusCode);
    }

    [Fact]
    public async Task Saving_moves_what_is_due_in_two_hundred_open_jobs_at_once()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);
        for (var i = 0; i < 200; i++)
        {
            var job = await host.TakeIn(Counter.LeastIntake);
            await host.Say(job, "hold.placed", """{ "hold": "parts", "until": "2026-03-09" }""");
        }

        var before = await Tasks(host);
        var withClosure = $$"""{ {{Week}}, "closures": [ { "from": "2026-03-09", "through": "2026-03-13" } ] }""";
        var tag = await Tag(host);
        var asking = System.Diagnostics.Stopwatch.StartNew();
        var counts = (await (await host.Manager.Put("/v1/calendar?ask=true", withClosure, tag)).Json()).GetProperty("moves").GetProperty("counts");
        asking.Stop();
        var saving = System.Diagnostics.Stopwatch.StartNew();
        await (await host.Manager.Put("/v1/calendar", withClosure, tag)).Json();
        saving.Stop();
        Console.WriteLine($"200 open jobs: asked in {asking.ElapsedMilliseconds} ms, saved in {saving.ElapsedMilliseconds} ms");

        Assert.Equal(200, counts.GetProperty("jobsLookedAt").GetInt32());
        Assert.Equal(200, counts.GetProperty("tasks").GetInt32());
        Assert.Equal(200, before.Count);
        Assert.All(before, task => Assert.Equal(Instant.FromUtc(2026, 3, 9, 8, 0), Microseconds.Read(task)));
        Assert.All(await Tasks(host), task => Assert.Equal(Instant.FromUtc(2026, 3, 16, 8, 0), Microseconds.Read(task)));
        Assert.Empty(host.Check().Differences);
    }

    private static Task<IReadOnlyList<long>> Tasks(WorkshopHost host) =>
        host.Services.GetRequiredService<Reader>().Query<long>("select task from agenda where kind = 'hold-until' order by stream");

    private static async Task<string[]> FlagsOfPromise(WorkshopHost host, string job) =>
    [
        .. (await host.Desk.Get($"/v1/jobs/{job}/history?limit=500")).GetProperty("items").EnumerateArray().Single(one => one.Text("type") == "promise.given")
            .GetProperty("flags").EnumerateArray().Select(flag => flag.GetString()!),
    ];

    private static async Task<JsonElement[]> Versions(WorkshopHost host) => [.. (await host.Manager.Get("/v1/calendar/versions")).GetProperty("items").EnumerateArray()];

    private static Task<JsonElement> Save(WorkshopHost host, string calendar) => Put(host, "/v1/calendar", calendar);

    private static async Task<JsonElement> Put(WorkshopHost host, string address, string calendar) => await (await host.Manager.Put(address, calendar, await Tag(host))).Json();

    private static async Task<string> Tag(WorkshopHost host)
    {
        using var read = await host.Manager.GetAsync("/v1/calendar");
        return read.Headers.ETag!.Tag;
    }

    private static async Task<string> Diagnosed(WorkshopHost host)
    {
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        return job;
    }
}
