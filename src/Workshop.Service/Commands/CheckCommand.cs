using System.CommandLine;
using NodaTime;
using Workshop.Service.Http;
using Workshop.Service.Storage;

namespace Workshop.Service.Commands;

/// <summary><c>check</c>: reads the whole journal again and says whether it is whole; also beside a running service.</summary>
internal static class CheckCommand
{
    public static Command Make()
    {
        var replay = new Option<bool>("--replay") { Description = "Also fold every job anew from what happened and compare the result with what is kept." };
        var command = new Command("check", "Checks that nothing in your workshop's journal was lost or changed; it only reads and may run beside the service.") { replay };
        var machine = MachineOptions.Of(command);
        command.SetAction(async (given, _) =>
        {
            await using var app = WorkshopApp.Build(machine.Read(given), SystemClock.Instance, serve: false);
            Migrations.MustBeUpToDate(app.Services.GetRequiredService<Database>());
            var report = app.Services.GetRequiredService<CheckJournal>().Run(given.GetValue(replay));
            foreach (var difference in report.Differences)
            {
                Console.WriteLine(difference);
            }

            var looked = given.GetValue(replay) ? $"{report.Entries} entries read, {report.Jobs} jobs folded anew" : $"{report.Entries} entries read";
            Console.WriteLine(report.Clean ? $"All is as it should be: {looked}." : $"{report.Differences.Count} differences: {looked}.");
            return report.Clean ? WorkshopCommand.Well : WorkshopCommand.NotWell;
        });
        return command;
    }
}
