using System.Net;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>Plays the situations one after another against a storefront's connector and tells which it came through.</summary>
internal static class StorefrontTrial
{
    private const int NameWidth = 36;

    /// <param name="listen">Where the stand-in for the service listens; the connector must be able to reach it.</param>
    /// <returns>How many were not handled.</returns>
    public static async Task<int> Run(TriedStorefront shop, IPEndPoint listen, IReadOnlyList<StorefrontSituation> situations, TextWriter tell, CancellationToken cancel)
    {
        await using var service = await StorefrontStandIn.Listen(listen);
        await tell.WriteLineAsync($"The service is played at {service.Address}.");
        var play = new StorefrontPlay(shop, service);
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

    private static async Task<string?> WhyNot(StorefrontPlay play, StorefrontSituation situation)
    {
        try
        {
            await play.Begin();
            await situation.Plays(play);
            return null;
        }
        catch (NotHandledException did)
        {
            return did.Message;
        }
    }
}
