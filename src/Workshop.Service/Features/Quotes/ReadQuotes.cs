using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Quotes;

/// <summary>Every version of a job's quote, the first one first.</summary>
public sealed record QuotesView(Label Job, ImmutableArray<QuoteView> Items);

/// <summary>What was offered, and what became of it.</summary>
public static class ReadQuotes
{
    public static async Task<Results<Seen<QuotesView>, ProblemHttpResult>> All(
        string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await Read(job, caller, language.Best, store, rules, clock, cancel) is { } quotes ? Answer.Seen(quotes.Items.Length, quotes)
        : PathLabel.NoJob();

    public static async Task<Results<Seen<QuoteView>, ProblemHttpResult>> One(
        string label, int version, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : (await Read(job, caller, language.Best, store, rules, clock, cancel))?.Items.FirstOrDefault(one => one.Version == version) is { } quote ? Answer.Seen(quote.Version, quote)
        : Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such quote.");

    private static async Task<QuotesView?> Read(Label label, Caller caller, Language language, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel) =>
        await store.Find(caller.Site, label, cancel) is { } read
            ? new QuotesView(label, QuoteView.AllOf(read.Job, read.Entries, (await rules.Read(caller.Site, cancel)).Calendar, clock.GetCurrentInstant(), language))
            : null;
}
