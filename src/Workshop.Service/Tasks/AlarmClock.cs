using Hangfire;
using Hangfire.AspNetCore;
using Hangfire.Common;
using Hangfire.InMemory;
using Hangfire.PostgreSql;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>Hangfire, which wakes the tasks: in memory beside SQLite, in the database with PostgreSQL.</summary>
public static class AlarmClock
{
    private const int Workers = 2;

    private static readonly TimeSpan PollEvery = TimeSpan.FromSeconds(1);

    // A task that is still running says so again and again; one whose machine died is taken up by another after this time.
    private static readonly TimeSpan TakenOverAfter = TimeSpan.FromMinutes(2);

    private static readonly TimeSpan LockTakenOverAfter = TimeSpan.FromSeconds(30);

    private static readonly TimeSpan DoneIsShownFor = TimeSpan.FromHours(1);

    /// <param name="awake">False where tasks are run by hand, as tests do.</param>
    public static void AddAlarmClock(this IServiceCollection services, MachineSettings settings, bool awake)
    {
        services.AddSingleton<SweepDue>();
        services.AddSingleton<LookAtTheHouse>();
        services.AddSingleton<SendLetters>();
        services.AddSingleton<BackUp>();
        services.AddSingleton<ForgetOldAnswers>();
        services.AddSingleton<ResolveHolidays>();
        services.AddSingleton<ForgetPeople>();
        services.AddSingleton<ForgetRecordings>();

        // Registered before Hangfire's own, which would be one for the whole process.
        services.AddSingleton(_ => Memory(settings));
        services.AddSingleton<IJobFilterProvider, CountTasks>();
        services.AddSingleton<JobActivator>(provider => new AspNetCoreJobActivator(provider.GetRequiredService<IServiceScopeFactory>()));
        services.AddHangfire(hangfire => hangfire
            .UseSimpleAssemblyNameTypeSerializer()
            .UseRecommendedSerializerSettings()
            .UseFilter(new AutomaticRetryAttribute { Attempts = 0, OnAttemptsExceeded = AttemptsExceededAction.Delete }));
        if (awake)
        {
            services.AddHangfireServer(server =>
            {
                server.WorkerCount = Workers;
                server.SchedulePollingInterval = PollEvery;
            });
            services.AddHostedService<ScheduleAtStart>();
            services.AddHostedService<WakeTheSweep>();
        }

        // Without it the dashboard would take a form that another site sends with the browser's credentials.
        services.AddAntiforgery();
    }

    /// <summary>The dashboard, for managers.</summary>
    public static void MapAlarmClock(this IEndpointRouteBuilder routes) =>
        routes.MapHangfireDashboard("/hangfire", new DashboardOptions { Authorization = [], DashboardTitle = "Workshop tasks", DisplayStorageConnectionString = false, AppPath = "/docs" })
            .RequireOperation(Operation.LookAtTasks);

    private static JobStorage Memory(MachineSettings settings) => settings.Storage.Engine == StorageEngine.Sqlite
        ? new InMemoryStorage(new InMemoryStorageOptions { MaxExpirationTime = DoneIsShownFor })
        : new PostgreSqlStorage(
            new Hangfire.PostgreSql.Factories.NpgsqlConnectionFactory(settings.Storage.Postgres!, Postgres()),
            Postgres());

    private static PostgreSqlStorageOptions Postgres() => new()
    {
        QueuePollInterval = PollEvery,
        UseSlidingInvisibilityTimeout = true,
        InvisibilityTimeout = TakenOverAfter,

        // What an instance that was killed still holds is free again after this time; ten minutes, the default, would be an age.
        DistributedLockTimeout = LockTakenOverAfter,
    };
}
