using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Promises;

public static class ReadPromise
{
    public static async Task<Results<Done<PromiseHistory>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        return await store.Find(caller.Site, name, cancel) is { Job: var job }
            ? Answer.Done(PromiseHistory.Of(job, await rules.Read(caller.Site, cancel), clock.GetCurrentInstant(), caller.Role, language.Best))
            : PathLabel.NoJob();
    }
}
