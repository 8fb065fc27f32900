using System.Net;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>Plays the situations one after another against a storefront's connector and tells which it came through.</summary>
internal static class StorefrontTrial
{
    /// <param name="listen">Where the stand-in for the service listens; the connector must be able to reach it.</param>
    /// <returns>How many were not handled.</returns>
    public static async Task<int> Run(TriedStorefront shop, IPEndPoint listen, IReadOnlyList<StorefrontSituation> situations, TextWriter tell, CancellationToken cancel)
    {
        await using var service = await StorefrontStandIn.Listen(listen);
        await tell.WriteLineAsync($"The service is played at {service.Address}.");
        var play = new StorefrontPlay(shop, service);
        return await Recital.Tell([.. situations.Select(one => new Recited(one.Name, one.Asks, () => WhyNot(play, one)))], tell, cancel);
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
