using Hangfire.Common;
using Hangfire.Server;
using Workshop.Service.Meters;

namespace Workshop.Service.Tasks;

/// <summary>Counts what Hangfire wakes, and what failed of it. Of this host alone: Hangfire's own list of filters is one for the whole process.</summary>
internal sealed class CountTasks(WorkshopMeters meters) : IJobFilterProvider, IServerFilter
{
    public IEnumerable<JobFilter> GetFilters(Job job) => JobFilterProviders.Providers.GetFilters(job).Append(new JobFilter(this, JobFilterScope.Global, null));

    public void OnPerforming(PerformingContext context)
    {
        // Counted when it is over.
    }

    public void OnPerformed(PerformedContext context) =>
        meters.TaskRan(context.BackgroundJob.Job.Type.Name, failed: context.Exception is not null && !context.ExceptionHandled);
}
