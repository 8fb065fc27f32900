using System.CommandLine;
using System.Net;
using Workshop.Service.Trial;
using Workshop.Service.Trial.Storefronts;

namespace Workshop.Service.Commands;

/// <summary><c>trial device</c> and <c>trial storefront</c>: for whoever writes a client; plays what it meets over the years and says what it came through.</summary>
internal static class TrialCommand
{
    public static Command Make() => new("trial", "Tries out what others have written to speak with the service.")
    {
        Device(),
        Storefront(),
    };

    private static Command Storefront()
    {
        var url = Options.Address("--url", "The address at which the connector listens for the trial, for example http://127.0.0.1:7800.");
        url.Required = true;
        var key = new Option<string>("--key") { Description = "The key the connector's control interface asks for.", HelpName = "KEY", Required = true };
        var listen = Listen("Where the trial plays the service; the connector must be able to reach it. Port 0 takes any that is free.");
        var only = new Option<string[]>("--only") { Description = "Play this situation alone; may be given several times.", HelpName = "NAME" };
        only.AcceptOnlyFromAmong([.. StorefrontSituations.All.Select(situation => situation.Name)]);
        var command = new Command("storefront", "Plays customers, network and workshop against a storefront's connector and says which situations it handles.") { url, key, listen, only };
        command.SetAction(async (given, cancel) =>
        {
            var wanted = given.GetValue(only) ?? [];
            StorefrontSituation[] situations = [.. StorefrontSituations.All.Where(situation => wanted.Length == 0 || wanted.Contains(situation.Name))];
            using var shop = new TriedStorefront(given.GetValue(url)!, given.GetRequiredValue(key));
            return await StorefrontTrial.Run(shop, given.GetRequiredValue(listen), situations, Console.Out, cancel) == 0 ? WorkshopCommand.Well : WorkshopCommand.NotWell;
        });
        return command;
    }

    private static Option<IPEndPoint> Listen(string description) => new("--listen")
    {
        Description = description,
        HelpName = "ADDRESS:PORT",
        DefaultValueFactory = _ => new IPEndPoint(IPAddress.Loopback, 0),
        CustomParser = given =>
        {
            if (IPEndPoint.TryParse(given.Tokens.Single().Value, out var at) && !at.Address.Equals(IPAddress.Any) && !at.Address.Equals(IPAddress.IPv6Any))
            {
                return at;
            }

            given.AddError($"--listen is '{given.Tokens.Single().Value}', but must be an address of this machine with a port, such as 192.168.1.20:7701.");
            return null;
        },
    };

    private static Command Device()
    {
        var url = Options.Address("--url", "The address at which the client listens for the trial, for example http://127.0.0.1:7700.");
        url.Required = true;
        var key = new Option<string>("--key") { Description = "The key the client's control interface asks for.", HelpName = "KEY", Required = true };
        var listen = Listen("Where the trial plays the service; the client must be able to reach it. Port 0 takes any that is free.");
        var only = new Option<string[]>("--only") { Description = "Play this situation alone; may be given several times.", HelpName = "NAME" };
        only.AcceptOnlyFromAmong([.. Situation.All.Select(situation => situation.Name)]);
        var command = new Command("device", "Plays tablet, network and clock against a client of the bench door and says which situations it handles.") { url, key, listen, only };
        command.SetAction(async (given, cancel) =>
        {
            var wanted = given.GetValue(only) ?? [];
            Situation[] situations = [.. Situation.All.Where(situation => wanted.Length == 0 || wanted.Contains(situation.Name))];
            using var device = new TriedDevice(given.GetValue(url)!, given.GetRequiredValue(key));
            return await TrialRun.Run(device, given.GetRequiredValue(listen), situations, Console.Out, cancel) == 0 ? WorkshopCommand.Well : WorkshopCommand.NotWell;
        });
        return command;
    }
}
