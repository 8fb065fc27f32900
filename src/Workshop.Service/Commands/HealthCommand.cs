using System.CommandLine;

namespace Workshop.Service.Commands;

/// <summary><c>health</c>: asks a running service whether it lives; for containers, whose image has no other program to ask with.</summary>
internal static class HealthCommand
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    public static Command Make()
    {
        var url = Options.Address("--url", "The service's address.", new Uri("http://127.0.0.1:5080/health/live"));
        var command = new Command("health", "Asks a running service whether it lives and ends with 0 if it does.") { url };
        command.Hidden = true;
        command.SetAction((given, cancel) => Ask(given.GetValue(url)!, cancel));
        return command;
    }

    private static async Task<int> Ask(Uri url, CancellationToken cancel)
    {
        // An address without a path means the service as a whole.
        var asked = url.AbsolutePath == "/" ? new Uri(url, "/health/live") : url;
        using var client = new HttpClient { Timeout = Patience };
        try
        {
            using var answer = await client.GetAsync(asked, cancel);
            Console.WriteLine($"{asked} answers {(int)answer.StatusCode}.");
            return answer.IsSuccessStatusCode ? WorkshopCommand.Well : WorkshopCommand.NotWell;
        }
        catch (Exception silence) when (silence is HttpRequestException or TaskCanceledException)
        {
            Console.WriteLine($"{asked} does not answer.");
            return WorkshopCommand.NotWell;
        }
    }
}
