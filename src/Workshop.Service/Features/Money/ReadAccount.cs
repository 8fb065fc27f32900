using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Money;

/// <summary>What was agreed, paid and paid back, line by line.</summary>
public static class ReadAccount
{
    public static async Task<Results<Seen<AccountView>, ProblemHttpResult>> Handle(string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await store.Find(caller.Site, job, cancel) is { } read ? Answer.Seen(read.Job.Version, AccountView.Of(read.Job, read.Entries, await rules.Read(caller.Site, cancel), language.Best))
        : PathLabel.NoJob();
}
