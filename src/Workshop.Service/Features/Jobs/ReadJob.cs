using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// A job as it stands. Its ETag carries the version of the intake part, the one thing here that a person edits, so that it serves as
/// If-Match for a change of it however much benches have said meanwhile.
/// </summary>
public static class ReadJob
{
    public static async Task<Results<Seen<JobView>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        // A storefront sees jobs of its own orders, and no order has come in from one yet.
        if (caller.Role == Role.Storefront || await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        return Answer.Seen(read.Intake.Version, JobShowing.Of(read, await rules.Read(caller.Site, cancel), clock.GetCurrentInstant(), caller, language.Best));
    }
}
