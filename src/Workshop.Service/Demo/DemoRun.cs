using System.Text.Json;
using Workshop.Service.Commands;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>Runs a demo as the command line asks for it.</summary>
internal static class DemoRun
{
    /// <exception cref="SettingException">The folder holds something else than a demo, or no demo answers where one should.</exception>
    public static async Task<int> Run(DemoOptions options, MachineSettings settings, CancellationToken cancel)
    {
        if (options is { Walk: true, Url: { } running })
        {
            return await Ask(running, cancel) is { } found
                ? await DemoWalk.Play(found, Console.Out, cancel)
                : throw new SettingException($"--url is '{running}', but no demo answers there.");
        }

        if (options.Walk)
        {
            return await WalkAlone(settings, cancel);
        }

        await using var house = await DemoHouse.Open(options, settings, cancel);
        await Console.Out.WriteLineAsync((options.Json ? LineOf(house.Address) : await DemoGreeting.Write(house, cancel)).AsMemory(), cancel);
        await house.App.WaitForShutdownAsync(cancel);
        return WorkshopCommand.Well;
    }

    public static string LineOf(DemoAddress demo) => JsonSerializer.Serialize(demo, WorkshopJson.Options);

    // On a demo of its own, so that nobody's clock is moved.
    private static async Task<int> WalkAlone(MachineSettings settings, CancellationToken cancel)
    {
        var folder = Directory.CreateTempSubdirectory("workshop-demo-");
        try
        {
            var own = settings.Within(folder.FullName) with { Http = settings.Http with { Port = 0 } };
            await using var house = await DemoHouse.Open(new DemoOptions { Empty = true }, own, cancel);
            return await DemoWalk.Play(house.Address, Console.Out, cancel);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<DemoAddress?> Ask(Uri url, CancellationToken cancel)
    {
        using var client = new HttpClient();
        try
        {
            return await client.GetFromJsonAsync<DemoAddress>(new Uri(url, "/demo"), WorkshopJson.Options, cancel);
        }
        catch (Exception silence) when (silence is HttpRequestException or JsonException)
        {
            return null;
        }
    }
}
