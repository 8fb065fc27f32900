using System.CommandLine;
using Workshop.Service.Demo;
using Workshop.Service.Settings;

namespace Workshop.Service.Commands;

/// <summary><c>demo</c>: an invented workshop to look at, on this machine only.</summary>
internal static class DemoCommand
{
    private const string UsualFolder = "data/demo";

    public static Command Make()
    {
        var port = new Option<int?>("--port") { Description = "The port on the loopback address; 0 takes any that is free.", HelpName = "PORT" };
        var data = new Option<string>("--data") { Description = "The folder in which the demo keeps its workshop.", HelpName = "DIR", DefaultValueFactory = _ => UsualFolder };
        var fresh = new Option<bool>("--fresh") { Description = "Throw the demo's earlier workshop away and begin anew." };
        var empty = new Option<bool>("--empty") { Description = "Begin without any job." };
        var json = new Option<bool>("--json") { Description = "Print one line of JSON with address and keys first, for scripts." };
        var walk = new Option<bool>("--walk") { Description = "Play one watch's whole life over HTTP and tell each step, then end." };
        var url = Options.Address("--url", "With --walk: the address of a demo that is running already.");
        var command = new Command("demo", "Shows you an invented workshop with watches in every stage, on this machine only, to try everything out.")
        {
            port, data, fresh, empty, json, walk, url,
        };
        command.SetAction((given, cancel) =>
        {
            var options = new DemoOptions
            {
                Fresh = given.GetValue(fresh),
                Empty = given.GetValue(empty),
                Json = given.GetValue(json),
                Walk = given.GetValue(walk),
                Url = given.GetValue(url),
            };
            return DemoRun.Run(options, Settings(given.GetRequiredValue(data), given.GetValue(port)), cancel);
        });
        return command;
    }

    // The machine's settings for the real workshop have no say here: a demo must never touch its database.
    private static MachineSettings Settings(string folder, int? port)
    {
        var set = new Dictionary<string, string?> { [KnownSettings.StoragePath.Name] = folder };
        if (port is not null)
        {
            set[KnownSettings.HttpPort.Name] = $"{port}";
        }

        return MachineSettings.Read(new ConfigurationBuilder().AddInMemoryCollection(set).Build());
    }
}
