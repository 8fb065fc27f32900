using System.Net;

namespace Workshop.Service.Trial;

/// <summary>Plays the situations one after another against a client and tells which it came through.</summary>
internal static class TrialRun
{
    private const int NameWidth = 36;

    /// <param name="device">The client under trial.</param>
    /// <param name="listen">Where the stand-in for the service listens; the client must be able to reach it.</param>
    /// <param name="situations">Those that are played.</param>
    /// <returns>How many were not handled.</returns>
    public static async Task<int> Run(TriedDevice device, IPEndPoint listen, IReadOnlyList<Situation> situations, TextWriter tell, CancellationToken cancel)
    {
        await using var service = await StandIn.Listen(listen);
        await tell.WriteLineAsync($"The service is played at {service.Address}.");
        var play = new Play(device, service);
        var failed = 0;
        foreach (var situation in situations)
        {
            cancel.ThrowIfCancellationRequested();
            var why = await WhyNot(play, situation);
            failed += why is null ? 0 : 1;
            await tell.WriteLineAsync($"{situation.Name.PadRight(NameWidth)} {(why is null ? "handled" : $"not handled: {why}")}");
            if (why is not null)
            {
                await tell.WriteLineAsync($"{"",NameWidth} asked is: {situation.Asks}");
            }
        }

        await tell.WriteLineAsync($"{situations.Count} situations: {situations.Count - failed} handled, {failed} not handled");
        return failed;
    }

    private static async Task<string?> WhyNot(Play play, Situation situation)
    {
        try
        {
            await play.Begin();
            await situation.Plays(play);
        }
        catch (NotHandledException did)
        {
            return play.Service.Manners.Wrong is [var first, ..] ? $"{first}; {did.Message}" : did.Message;
        }
        catch (TimeoutException)
        {
            return $"nothing was sent within {TriedDevice.Patience.TotalSeconds:0} s";
        }

        return play.Service.Manners.Wrong.FirstOrDefault();
    }
}
