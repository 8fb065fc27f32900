using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;

namespace Workshop.Service.Tests.Commands;

/// <summary>The program as its operator meets it: as a process.</summary>
public sealed class ProgramTests : IDisposable
{
    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-test-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task Help_speaks_one_sentence_for_each_command()
    {
        foreach (var command in (string[][])[[], ["demo"], ["serve"], ["migrate"], ["check"], ["listen"], ["sign"], ["keys"], ["keys", "add"], ["keys", "list"], ["keys", "revoke"], ["trial"], ["trial", "device"]])
        {
            var (code, said, complained) = await Run([.. command, "--help"]);

            Assert.Equal((0, ""), (code, complained));
            Assert.Matches(@"Description:\s+[A-Z][^\n]+\.\n", said);
        }
    }

    [Fact]
    public async Task A_wrong_setting_stops_the_start_with_one_sentence_and_code_2()
    {
        var (code, said, complained) = await Run("serve", "--data", folder, "--set", "Events:LiveWithin=5");

        Assert.Equal((2, ""), (code, said));
        Assert.Equal("Events:LiveWithin is '5', but must be a duration from PT1S to PT1H.\n", complained);
    }

    [Fact]
    public async Task The_environment_sets_what_the_command_line_does_not()
    {
        var (code, _, complained) = await Run(["serve", "--data", folder], ("Http__Port", "70000"));

        Assert.Equal(2, code);
        Assert.Equal("Http:Port is '70000', but must be a whole number from 0 to 65535.\n", complained);
    }

    [Fact]
    public async Task A_service_without_a_database_says_which_command_makes_one()
    {
        var (code, said, complained) = await Run("serve", "--data", folder, "--set", "Http:Port=0");

        Assert.Equal((1, ""), (code, said));
        Assert.Contains("migrate", complained);
        Assert.Single(complained.Trim().Split('\n'));
    }

    [Fact]
    public async Task A_database_is_made_keys_are_given_out_and_revoked_and_all_is_checked()
    {
        Assert.Equal(0, (await Run("migrate", "--data", folder)).Code);
        Assert.Equal(0, (await Run("migrate", "--data", folder)).Code);

        var key = (await Run("keys", "add", "--data", folder, "--role", "bench", "--source", "/devices/bench-2/1", "--bench", "bench-2")).Said.Trim();
        var list = (await Run("keys", "list", "--data", folder)).Said;
        Assert.StartsWith("wk_", key);
        Assert.DoesNotContain(key, list);
        Assert.Contains("/devices/bench-2/1", list);

        var id = list.Split(' ')[0];
        Assert.Equal(0, (await Run("keys", "revoke", id, "--data", folder)).Code);
        Assert.Equal(1, (await Run("keys", "revoke", id, "--data", folder)).Code);
        Assert.Contains("revoked", (await Run("keys", "list", "--data", folder)).Said);

        var check = await Run("check", "--replay", "--data", folder);
        Assert.Equal(0, check.Code);
        Assert.StartsWith("All is as it should be", check.Said);
    }

    [Fact]
    public async Task Nobody_can_be_given_a_key_that_speaks_for_the_service_itself()
    {
        await Run("migrate", "--data", folder);

        Assert.Equal(2, (await Run("keys", "add", "--data", folder, "--role", "bench", "--source", "/service")).Code);
        Assert.Equal(2, (await Run("keys", "add", "--data", folder, "--role", "owner", "--source", "/desk/front")).Code);
    }

    [Fact]
    public async Task A_demo_says_where_it_is_keeps_its_keys_and_ends_when_told()
    {
        var first = await WithDemo(async (demo, client) =>
        {
            Assert.Equal(demo.GetRawText(), (await (await client.GetAsync("/demo")).Content.ReadAsStringAsync()));
            Assert.Equal("desk", JsonElement.Parse(await client.GetStringAsync("/v1/me")).GetProperty("role").GetString());
            Assert.Equal(0, (await Run("health", "--url", demo.GetProperty("url").GetString()!)).Code);
        });
        var again = await WithDemo((_, _) => Task.CompletedTask);

        Assert.Equal(["bench", "desk", "manager", "storefront", "wall"], first.GetProperty("keys").EnumerateObject().Select(key => key.Name).Order());
        Assert.Equal(first.GetProperty("keys").GetRawText(), again.GetProperty("keys").GetRawText());
        Assert.NotEqual(first.GetProperty("keys").GetRawText(), (await WithDemo((_, _) => Task.CompletedTask, "--fresh")).GetProperty("keys").GetRawText());
    }

    [Fact]
    public async Task A_demo_tells_its_keys_to_nobody_who_calls_it_by_another_name()
    {
        await WithDemo(async (_, client) =>
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/demo");
            request.Headers.Host = "rebound.example";
            Assert.Equal(HttpStatusCode.NotFound, (await client.SendAsync(request)).StatusCode);
        });
    }

    [Fact]
    public async Task A_demo_touches_no_workshop_that_is_none()
    {
        await Run("migrate", "--data", folder);

        var (code, _, complained) = await Run("demo", "--data", folder, "--port", "0", "--fresh");

        Assert.Equal(2, code);
        Assert.Contains("no demo", complained);
        Assert.Equal(0, (await Run("check", "--data", folder)).Code);
    }

    [Fact]
    public async Task A_second_service_on_the_same_folder_is_kept_out()
    {
        await WithDemo(async (_, _) =>
        {
            var (code, _, complained) = await Run("serve", "--data", folder, "--set", "Http:Port=0");
            Assert.Equal(1, code);
            Assert.Contains("Another workshop process", complained);
            Assert.Single(complained.Trim().Split('\n'));
        });
    }

    [Fact]
    public async Task What_stands_in_an_address_never_reaches_the_log()
    {
        var log = "";
        await WithDemo(
            async (_, client) =>
            {
                await client.GetAsync("/v1/me?name=Winterhalder");
                await client.GetAsync("/v1/Winterhalder");
                client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", "wk_Winterhalder");
                await client.GetAsync("/v1/me?name=Winterhalder");
            },
            read: complained => log = complained);

        Assert.Contains("The database has had the script", log);
        Assert.DoesNotContain("Winterhalder", log);
    }

    /// <summary>Runs a demo for as long as the work lasts and ends it as an operator would.</summary>
    private async Task<JsonElement> WithDemo(Func<JsonElement, HttpClient, Task> work, string? more = null, Action<string>? read = null)
    {
        string[] arguments = ["demo", "--json", "--port", "0", "--data", folder, .. more is null ? (string[])[] : [more]];
        using var process = Start(arguments);
        var complained = process.StandardError.ReadToEndAsync();
        var line = await process.StandardOutput.ReadLineAsync();
        Assert.True(line is not null, await Task.WhenAny(complained, Task.Delay(1000)) == complained ? await complained : "The demo said nothing.");
        var demo = JsonElement.Parse(line);
        using (var client = new HttpClient { BaseAddress = new Uri(demo.GetProperty("url").GetString()!) })
        {
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", demo.GetProperty("keys").GetProperty("desk").GetString());
            await work(demo, client);
        }

        using var kill = Process.Start("kill", ["-TERM", $"{process.Id}"]);
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        await process.WaitForExitAsync(patience.Token);
        read?.Invoke(await complained);
        Assert.Equal(0, process.ExitCode);
        return demo;
    }

    [Fact]
    public async Task The_holidays_of_a_region_are_listed_for_people_and_for_scripts()
    {
        var lines = await Run("holidays", "--region", "GB-ENG", "--from", "2027");
        var json = await Run("holidays", "--region", "DE-BW", "--from", "2026", "--through", "2027", "--json");
        var unknown = await Run("holidays", "--region", "XX");

        Assert.Equal(8, lines.Said.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.StartsWith("2027-01-01 ", lines.Said, StringComparison.Ordinal);
        Assert.Equal(24, System.Text.Json.JsonElement.Parse(json.Said).GetProperty("dates").GetArrayLength());
        Assert.Equal(2, unknown.Code);
        Assert.Contains("DE-BW", unknown.Complained, StringComparison.Ordinal);
    }

    private static Task<(int Code, string Said, string Complained)> Run(params string[] arguments) => Run(arguments, []);

    private static async Task<(int Code, string Said, string Complained)> Run(string[] arguments, params (string Name, string Value)[] environment)
    {
        using var process = Start(arguments, environment);
        var said = process.StandardOutput.ReadToEndAsync();
        var complained = process.StandardError.ReadToEndAsync();
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        await process.WaitForExitAsync(patience.Token);
        return (process.ExitCode, await said, await complained);
    }

    private static Process Start(string[] arguments, params (string Name, string Value)[] environment)
    {
        var program = typeof(Workshop.Service.Storage.Writer).Assembly.Location;
        var start = new ProcessStartInfo("dotnet", [program, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Path.GetTempPath(),
        };
        foreach (var (name, value) in environment)
        {
            start.Environment[name] = value;
        }

        return Process.Start(start) ?? throw new InvalidOperationException("The program did not start.");
    }
}
