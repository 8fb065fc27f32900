using System.CommandLine;
using System.Globalization;
using System.Text.RegularExpressions;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Words;
using Workshop.Service.Http;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Commands;

/// <summary><c>keys</c>: gives out, lists and revokes the keys with which benches, desks and storefronts speak; also beside a running service.</summary>
internal static partial class KeysCommand
{
    private static readonly InstantPattern Seconds = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm:ss'Z'");

    public static Command Make() => new("keys", "Gives out, lists and revokes the keys with which your benches, desks and storefronts speak to the service.")
    {
        Add(),
        List(),
        Revoke(),
    };

    private static Command Add()
    {
        var role = new Option<string>("--role") { Description = "What the place may do.", Required = true };
        role.AcceptOnlyFromAmong([.. Word.All<Role>()]);
        var source = new Option<string>("--source")
        {
            Description = "What it speaks for, for example /devices/bench-2/1 or /desk/front; it can speak for nothing else.",
            HelpName = "/PATH",
            Required = true,
        };
        source.Validators.Add(given =>
        {
            if (!SourcePath().IsMatch(given.GetValueOrDefault<string>() ?? ""))
            {
                given.AddError("--source has to be a path such as /devices/bench-2/1: lower-case letters, digits, '-', '_' and '.' between slashes, at most 100 characters; /service is the service's own.");
            }
        });
        var bench = new Option<string?>("--bench") { Description = "The bench it stands at, where it stands at one.", HelpName = "BENCH" };
        var command = new Command("add", "Gives out a new key and shows it this once; keep it where the device keeps its secrets.") { role, source, bench };
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, _) =>
        {
            await using var app = Looking(machine, given);
            var (key, secret) = app.Services.GetRequiredService<ApiKeys>().Add(
                Migrations.FirstSite, given.GetRequiredValue(source), given.GetRequiredValue(role), given.GetValue(bench), SystemClock.Instance.GetCurrentInstant());
            Console.WriteLine(secret);
            await Console.Error.WriteLineAsync($"Key {key.Id} for {key.Role} {key.Source}; it is shown this once.");
            return WorkshopCommand.Well;
        });
        return command;
    }

    private static Command List()
    {
        var command = new Command("list", "Lists the keys that were given out, with when each was last used; the keys themselves are known to their holders alone.");
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, cancel) =>
        {
            await using var app = Looking(machine, given);
            foreach (var key in await app.Services.GetRequiredService<ApiKeys>().List(Migrations.FirstSite, cancel))
            {
                var standing = key.Revoked is { } revoked ? $"revoked {Written(revoked)}" : key.LastUsed is { } used ? $"last used {Written(used)}" : "not used yet";
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{key.Id}  {key.Prefix}…  {key.Role,-10}  {key.Source,-24}  given out {Written(key.Created)}, {standing}"));
            }

            return WorkshopCommand.Well;
        });
        return command;
    }

    private static Command Revoke()
    {
        var id = new Argument<string>("id") { Description = "The key's id as 'keys list' shows it." };
        var command = new Command("revoke", "Makes a key worthless within seconds, for example when a tablet is lost.") { id };
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, _) =>
        {
            await using var app = Looking(machine, given);
            var revoked = app.Services.GetRequiredService<ApiKeys>().Revoke(Migrations.FirstSite, given.GetRequiredValue(id), SystemClock.Instance.GetCurrentInstant());
            Console.WriteLine(revoked ? $"Key {given.GetValue(id)} is revoked." : $"There is no key {given.GetValue(id)} that could be revoked.");
            return revoked ? WorkshopCommand.Well : WorkshopCommand.NotWell;
        });
        return command;
    }

    private static WebApplication Looking(MachineOptions machine, ParseResult given)
    {
        var app = WorkshopApp.Build(machine.Read(given), SystemClock.Instance, serve: false);
        Migrations.MustBeUpToDate(app.Services.GetRequiredService<Database>());
        return app;
    }

    private static string Written(long microseconds) => Seconds.Format(Microseconds.Read(microseconds));

    [GeneratedRegex(@"\A(?!/service\z)(?=.{1,100}\z)(/[a-z0-9._-]+)+\z")]
    private static partial Regex SourcePath();
}
