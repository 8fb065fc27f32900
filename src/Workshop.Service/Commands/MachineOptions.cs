using System.CommandLine;
using Workshop.Service.Settings;

namespace Workshop.Service.Commands;

/// <summary>
/// Where the settings of the machine come from: <c>appsettings.json</c> in the folder the program is started in, then the
/// environment, then the command line; the later wins.
/// </summary>
internal sealed class MachineOptions
{
    private readonly Option<string?> data = new("--data")
    {
        Description = $"The folder for everything that is kept as files; short for --set {KnownSettings.StoragePath.Name}=DIR.",
        HelpName = "DIR",
    };

    private readonly Option<string[]> set = new("--set")
    {
        Description = $"A setting, for example {KnownSettings.EventsLiveWithin.Name}=PT1M; may be given several times.",
        HelpName = "NAME=VALUE",
        AllowMultipleArgumentsPerToken = false,
    };

    /// <summary>Adds the options to a command that needs settings.</summary>
    public static MachineOptions Of(Command command)
    {
        var options = new MachineOptions();
        command.Add(options.data);
        command.Add(options.set);
        return options;
    }

    /// <param name="more">Settings that an option of the command itself stands for; they win.</param>
    /// <exception cref="SettingException">A setting is not allowed.</exception>
    public MachineSettings Read(ParseResult given, params IEnumerable<KeyValuePair<string, string?>> more)
    {
        var written = (given.GetValue(set) ?? []).Select(Split);
        if (given.GetValue(data) is { } folder)
        {
            written = written.Append(KeyValuePair.Create(KnownSettings.StoragePath.Name, (string?)folder));
        }

        return MachineSettings.Read(new ConfigurationBuilder()
            .SetBasePath(Directory.GetCurrentDirectory())
            .AddJsonFile("appsettings.json", optional: true)
            .AddEnvironmentVariables()
            .AddInMemoryCollection(written.Concat(more))
            .Build());
    }

    private static KeyValuePair<string, string?> Split(string nameAndValue) => nameAndValue.IndexOf('=') is > 0 and var at
        ? KeyValuePair.Create(nameAndValue[..at], (string?)nameAndValue[(at + 1)..])
        : throw new SettingException($"--set is '{nameAndValue}', but must be NAME=VALUE.");
}

/// <summary>Options of which several commands have one.</summary>
internal static class Options
{
    /// <summary>The address of a running service.</summary>
    public static Option<Uri?> Address(string name, string description, Uri? usually = null) => new(name)
    {
        Description = description,
        HelpName = "URL",
        DefaultValueFactory = _ => usually,
        CustomParser = given =>
        {
            if (Uri.TryCreate(given.Tokens.Single().Value, UriKind.Absolute, out var address) && address.Scheme is "http" or "https")
            {
                return address;
            }

            given.AddError($"{name} is '{given.Tokens.Single().Value}', but must be an address such as http://127.0.0.1:5080.");
            return null;
        },
    };
}
