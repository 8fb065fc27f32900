using System.CommandLine;
using NodaTime;
using Workshop.Service.Http;

namespace Workshop.Service.Commands;

/// <summary><c>serve</c>: runs the service.</summary>
internal static partial class ServeCommand
{
    public static Command Make()
    {
        var migrate = new Option<bool>("--migrate") { Description = "Bring the database up to date first, as 'migrate' does." };
        var command = new Command("serve", "Runs your workshop's service until it is stopped; the database has to be up to date.") { migrate };
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, cancel) =>
        {
            var settings = machine.Read(given);
            await using var app = WorkshopApp.Build(settings, SystemClock.Instance);
            if (given.GetValue(migrate))
            {
                app.Migrate();
            }

            await app.StartAsync(cancel);
            Listening(app.Logger, app.Address());
            await app.WaitForShutdownAsync(cancel);
            return WorkshopCommand.Well;
        });
        return command;
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "The workshop's service listens at {Address}")]
    private static partial void Listening(ILogger log, Uri address);
}
