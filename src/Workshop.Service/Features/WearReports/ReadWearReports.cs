using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.WearReports;

public static class ReadWearReports
{
    public static async Task<Results<Seen<WearReportsView>, ProblemHttpResult>> All(
        string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var today = (await rules.Read(caller.Site, cancel)).Calendar.DateOf(clock.GetCurrentInstant());
        return Answer.Seen(read.Job.Version, new WearReportsView(job, [.. read.Job.WearReports.Reports.Select(report => WearReportView.Of(report, read.Entries, today, caller, language.Best))]));
    }

    public static async Task<Results<Seen<WearReportView>, ProblemHttpResult>> One(
        string label, int report, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var today = (await rules.Read(caller.Site, cancel)).Calendar.DateOf(clock.GetCurrentInstant());
        return read.Job.WearReports.Find(report) is { } found ? Answer.Seen(read.Job.Version, WearReportView.Of(found, read.Entries, today, caller, language.Best)) : NoReport();
    }

    internal static ProblemHttpResult NoReport() => Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no report with this number.");
}
