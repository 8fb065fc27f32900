using System.Net;

namespace Workshop.Service.Trial;

/// <summary>Plays the situations one after another against a client and tells which it came through.</summary>
internal static class TrialRun
{
    /// <param name="device">The client under trial.</param>
    /// <param name="listen">Where the stand-in for the service listens; the client must be able to reach it.</param>
    /// <param name="situations">Those that are played.</param>
    /// <returns>How many were not handled.</returns>
    public static async Task<int> Run(TriedDevice device, IPEndPoint listen, IReadOnlyList<Situation> situations, TextWriter tell, CancellationToken cancel)
    {
        await using var service = await StandIn.Listen(listen);
        await tell.WriteLineAsync($"The service is played at {service.Address}.");
        var play = new Play(device, service);
        return await Recital.Tell([.. situations.Select(one => new Recited(one.Name, one.Asks, () => WhyNot(play, one)))], tell, cancel);
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
