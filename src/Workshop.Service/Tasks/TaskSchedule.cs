using Hangfire;
using Workshop.Service.Settings;

namespace Workshop.Service.Tasks;

/// <summary>
/// Every recurring task. Hangfire is an alarm clock and no memory: what is due stands in the database, and a task that runs
/// twice, late, or on two machines changes nothing but the delay.
/// </summary>
public static class TaskSchedule
{
    /// <summary>The tasks by name, with their time in Hangfire's notation (seconds first).</summary>
    public static void Register(IRecurringJobManager tasks, MachineSettings settings)
    {
        tasks.AddOrUpdate<SweepDue>("sweep-due", task => task.Run(CancellationToken.None), EverySeconds(settings));
        tasks.AddOrUpdate<SendLetters>("send-letters", task => task.Run(CancellationToken.None), EverySeconds(settings));
        tasks.AddOrUpdate<LookAtTheHouse>("look-at-the-house", task => task.Run(CancellationToken.None), "0 */5 * * * *");
        tasks.AddOrUpdate<ReadStorefront>("read-storefront", task => task.Run(CancellationToken.None), "*/30 * * * * *");
        tasks.AddOrUpdate<BackUp>("back-up", task => task.Run(CancellationToken.None), "0 40 * * * *");
        tasks.AddOrUpdate<ResolveHolidays>("resolve-holidays", task => task.Run(CancellationToken.None), "0 27 2 * * *");
        tasks.AddOrUpdate<ForgetPeople>("forget-people", task => task.Run(CancellationToken.None), "0 47 2 * * *");
        tasks.AddOrUpdate<ForgetRecordings>("forget-recordings", task => task.Run(CancellationToken.None), "0 7 3 * * *");
        tasks.AddOrUpdate<ForgetOldAnswers>("forget-old-answers", task => task.Run(CancellationToken.None), "0 17 3 * * *");
    }

    private static string EverySeconds(MachineSettings settings) => $"*/{(int)settings.Sweep.Every.TotalSeconds} * * * * *";
}
