using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Configuration;
using NodaTime;
using Workshop.Service.Commands;
using Workshop.Service.Demo;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;

namespace Workshop.Service.Tests.Demo;

public sealed class DemoHouseTests : IDisposable
{
    private readonly string folder = ScratchFolder.New();

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task A_demo_tells_where_it_is_and_keys_that_open_what_their_roles_may()
    {
        await using var house = await Open(empty: true);
        using var client = Client(house);

        var told = await client.GetFromJsonAsync<JsonObject>("/demo");

        Assert.Equal(DemoRun.LineOf(house.Address), told!.ToJsonString(WorkshopJson.Options));
        foreach (var role in (string[])["desk", "bench", "manager", "storefront", "wall"])
        {
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", told["keys"]![role]!.GetValue<string>());
            var me = await client.GetFromJsonAsync<JsonObject>("/v1/me");
            Assert.Equal(role, me!["role"]!.GetValue<string>());
            Assert.Equal(told["sources"]![role]!.GetValue<string>(), me["source"]!.GetValue<string>());
        }
    }

    [Fact]
    public async Task A_demo_keeps_its_keys_and_watches_over_a_restart_and_goes_on_from_where_its_clock_was()
    {
        DemoAddress first;
        Instant left;
        await using (var house = await Open(empty: true))
        {
            first = house.Address;
            using var client = Client(house);
            await client.PostAsJsonAsync("/demo/clock/advance", new { by = "PT2400H" });
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", first.Keys["desk"]);
            var taken = await client.PostAsJsonAsync("/v1/jobs", new { customer = new { telephone = "+44 1632 960001" }, watch = new { words = "steel, with a date" } });
            Assert.Equal(HttpStatusCode.Created, taken.StatusCode);
            left = await Now(client);
        }

        await using var again = await Open(empty: true);
        using var later = Client(again);

        Assert.Equal(first.Keys, again.Address.Keys);
        Assert.InRange(await Now(later), left - Duration.FromMinutes(1), left + Duration.FromMinutes(1));
        later.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", first.Keys["desk"]);
        Assert.Single((await later.GetFromJsonAsync<JsonObject>("/v1/jobs"))!["items"]!.AsArray());
    }

    [Fact]
    public async Task Begun_anew_a_demo_forgets_what_was_there_but_only_in_a_demos_folder()
    {
        DemoAddress first;
        await using (var house = await Open(empty: true))
        {
            first = house.Address;
            Assert.Throws<SettingException>(() => DemoFolder.Prepare(folder, fresh: true));
        }

        await using (var anew = await Open(empty: true, fresh: true))
        {
            Assert.NotEqual(first.Keys["desk"], anew.Address.Keys["desk"]);
        }

        var real = Path.Combine(folder, "real");
        var other = Path.Combine(folder, "other.txt");
        await File.WriteAllTextAsync(other, "mine");
        await using (var host = Http.WorkshopApp.Build(Machine(real), SystemClock.Instance, awake: false))
        {
            Http.WorkshopApp.Migrate(host);
        }

        foreach (var fresh in (bool[])[false, true])
        {
            var refused = Assert.Throws<SettingException>(() => DemoFolder.Prepare(real, fresh));
            Assert.Contains("no demo", refused.Message);
            File.Copy(Path.Combine(folder, DemoFolder.MarkName), Path.Combine(real, DemoFolder.MarkName), overwrite: true);
        }

        Assert.True(File.Exists(Path.Combine(real, Database.FileName)));
        Assert.True(File.Exists(other));
    }

    [Fact]
    public async Task A_demo_whose_beginning_was_broken_off_begins_again()
    {
        await using (var house = await Open(empty: true))
        {
            DemoFolder.Complete(folder, house.Address.Keys);
        }

        var mark = Path.Combine(folder, DemoFolder.MarkName);
        await File.WriteAllTextAsync(mark, """{"keys":{},"complete":false}""");

        Assert.Null(DemoFolder.Prepare(folder, fresh: false));
        Assert.False(File.Exists(Path.Combine(folder, Database.FileName)));
    }

    [Fact]
    public async Task While_the_clock_is_moved_ahead_each_thing_is_announced_when_it_falls_due()
    {
        await using var house = await Open(empty: false);
        using var client = Client(house);
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", house.Address.Keys["manager"]);
        var before = await Now(client);

        await client.PostAsJsonAsync("/demo/clock/advance", new { by = "PT240H" });

        var after = await Now(client);
        Assert.InRange(after - before, Duration.FromHours(240), Duration.FromHours(240) + Duration.FromMinutes(1));
        var changes = await Announced(house, before);
        Assert.True(changes.Count > 5, $"Ten days brought {changes.Count} announcements.");
        Assert.All(changes, said => Assert.InRange(said.Received - said.Wake, Duration.Zero, Duration.FromSeconds(30)));
        Assert.Contains(changes, said => said.Received < after - Duration.FromDays(5));

        // A day has its evening list also where nothing else wakes on it.
        var rules = await Rules(house);
        var evenings = Enumerable.Range(0, 12).Select(day => rules.Calendar.DateOf(before).PlusDays(day)).Where(rules.Calendar.IsOpenDay)
            .Select(day => Core.House.EveningList.DueOn(day, rules)).Where(due => due > before && due <= after);
        Assert.Equal(evenings, changes.Where(said => said is { Kind: Core.Agenda.AgendaKind.EveningList, Level: Core.Agenda.AgendaLevel.Due }).Select(said => said.Wake));
    }

    [Fact]
    public async Task A_real_workshop_has_no_clock_to_set_and_tells_nobody_its_keys()
    {
        await using var host = await WorkshopHost.Start();
        foreach (var (method, path) in new[] { ("GET", "/demo"), ("GET", "/demo/clock"), ("PUT", "/demo/clock"), ("POST", "/demo/clock/advance") })
        {
            using var request = new HttpRequestMessage(new HttpMethod(method), path) { Content = JsonContent.Create(new { now = "2031-05-06T07:08:00Z", by = "PT1H" }) };

            var answer = await host.Manager.SendAsync(request);

            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Equal("no-such-address", (await answer.Problem()).Code);
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task The_commands_worth_trying_work_as_they_are_printed(bool empty)
    {
        await using var house = await Open(empty);

        var greeting = await DemoGreeting.Write(house, CancellationToken.None);

        var commands = greeting.Split('\n').Select(line => line.Trim()).Where(line => line.StartsWith("curl ", StringComparison.Ordinal)).ToArray();
        Assert.Equal(empty ? 3 : 4, commands.Length);
        foreach (var command in commands)
        {
            var answer = JsonNode.Parse(await Shell(command))!.AsObject();
            Assert.False(answer.ContainsKey("code"), $"{command} was answered {answer}");
        }
    }

    [Fact]
    public async Task A_walk_by_itself_has_a_house_of_its_own_and_leaves_nothing_behind()
    {
        var before = Directory.GetDirectories(Path.GetTempPath(), "workshop-demo-*");

        var code = await DemoRun.Run(new DemoOptions { Walk = true }, Machine(folder), CancellationToken.None);

        Assert.Equal(WorkshopCommand.Well, code);
        Assert.False(Directory.Exists(folder));
        Assert.Empty(Directory.GetDirectories(Path.GetTempPath(), "workshop-demo-*").Except(before));
    }

    [Fact]
    public async Task For_a_script_the_first_line_of_a_demo_is_its_address_and_its_keys()
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "Workshop.Service.dll"), "demo", "--json", "--empty", "--data", folder, "--port", "0"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var demo = Process.Start(start)!;
        try
        {
            using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
            var line = JsonSerializer.Deserialize<DemoAddress>((await demo.StandardOutput.ReadLineAsync(patience.Token))!, WorkshopJson.Options)!;

            Assert.Equal(["bench", "desk", "manager", "storefront", "wall"], line.Keys.Keys.Order());
            Assert.Equal(Path.GetFullPath(folder), line.Data);
            using var client = new HttpClient { BaseAddress = line.Url };
            Assert.Equal(DemoRun.LineOf(line), await client.GetStringAsync("/demo"));
        }
        finally
        {
            demo.Kill();
            await demo.WaitForExitAsync();
        }
    }

    private Task<DemoHouse> Open(bool empty, bool fresh = false) => DemoHouse.Open(new DemoOptions { Empty = empty, Fresh = fresh }, Machine(folder), CancellationToken.None);

    private static MachineSettings Machine(string folder) => MachineSettings.Read(new ConfigurationBuilder()
        .AddInMemoryCollection(new Dictionary<string, string?> { [KnownSettings.StoragePath.Name] = folder, [KnownSettings.HttpPort.Name] = "0" })
        .Build());

    private static HttpClient Client(DemoHouse house) => new() { BaseAddress = house.Address.Url };

    private static Task<Instant> Now(HttpClient client) => DemoClockTests.Now(client);

    private static Task<Core.Shop.ShopRules> Rules(DemoHouse house) => ((ShopRulesSource)house.App.Services.GetService(typeof(ShopRulesSource))!).Read(Migrations.FirstSite);

    /// <summary>Announcements received after a moment, each with the moment at which there was something to say.</summary>
    private static async Task<IReadOnlyList<(Core.Agenda.AgendaKind Kind, Core.Agenda.AgendaLevel Level, Instant Received, Instant Wake)>> Announced(DemoHouse house, Instant after)
    {
        var reader = (Reader)house.App.Services.GetService(typeof(Reader))!;
        var calendar = (await Rules(house)).Calendar;
        var rows = await reader.Query<SaidRow>(
            "select received, data from journal where type = 'due.announced' and received > @after order by position", new { after = Microseconds.Of(after) });
        return
        [
            // An old filling is spoken of a week before it is due.
            .. rows.Select(row => (row.Received, Said: (Core.Agenda.DueAnnounced)EventCodec.ReadKept("due.announced", row.Data))).Where(row => row.Said.Kind != Core.Agenda.AgendaKind.FluidOld).Select(row =>
            {
                var said = row.Said;
                var wake = said.Level switch
                {
                    // Risk is a manager's from the first moment.
                    _ when said.Kind == Core.Agenda.AgendaKind.PromiseAtRisk => said.Due,

                    // A safe that nobody counted is a manager's when the shop closes, not the day after.
                    Core.Agenda.AgendaLevel.Manager when said.Kind == Core.Agenda.AgendaKind.EveningList => Core.House.EveningList.ClosingOn(calendar.DateOf(said.Due), calendar),
                    Core.Agenda.AgendaLevel.Due => said.Due,
                    Core.Agenda.AgendaLevel.Overdue => calendar.AfterWorkingHours(said.Due, Core.Agenda.AgendaPlan.OverdueAfter),
                    _ => calendar.NextWorkingDay(said.Due),
                };
                return (said.Kind, said.Level, Microseconds.Read(row.Received), wake);
            }),
        ];
    }

    private static async Task<string> Shell(string command)
    {
        using var shell = Process.Start(new ProcessStartInfo("sh", ["-c", command]) { RedirectStandardOutput = true })!;
        var answer = await shell.StandardOutput.ReadToEndAsync();
        await shell.WaitForExitAsync();
        return answer;
    }

    private sealed record SaidRow
    {
        public required long Received { get; init; }

        public required string Data { get; init; }
    }
}
