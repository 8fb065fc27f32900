using System.CommandLine;
using NodaTime;
using Workshop.Service.Http;

namespace Workshop.Service.Commands;

/// <summary><c>migrate</c>: makes the database, or brings it up to date.</summary>
internal static class MigrateCommand
{
    public static Command Make()
    {
        var command = new Command("migrate", "Makes your workshop's database, or brings it up to date after an update; what happened is never rewritten.");
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, _) =>
        {
            await using var app = WorkshopApp.Build(machine.Read(given), SystemClock.Instance, serve: false);
            app.Migrate();
            Console.WriteLine("The database is up to date.");
            return WorkshopCommand.Well;
        });
        return command;
    }
}
