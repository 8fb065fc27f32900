using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Jobs;

/// <summary>Something that falls due in a job.</summary>
/// <param name="Due">The physical moment; absent while a check is paused.</param>
/// <param name="Task">When somebody is there to do it: the next opening.</param>
public sealed record NextCheck(AgendaKind Kind, string Ref, Instant? Due, Instant? Task, bool Overdue, string Line);

/// <summary>When a check that the job could begin now or next is of use.</summary>
/// <param name="OwedHours">Lying or wear owed by it.</param>
/// <param name="LatestToday">The last useful start today; absent where today has none left.</param>
/// <param name="NextUseful">The first useful start from now on; absent while it waits for something without a date.</param>
/// <param name="DependsOn">What it waits for.</param>
/// <param name="WinderPlace">A free place on a winder, where the shop has written some down.</param>
/// <param name="Line">In one sentence.</param>
public sealed record StartByView(
    WearCheckKind Kind, decimal OwedHours, Instant? LatestToday, Instant? NextUseful, ImmutableArray<StartDependsOn> DependsOn, string? WinderPlace, string Line)
{
    public static StartByView Of(StartBy one, Language language) => new(
        one.Kind, CheckView.Hours(one.Owed), one.LatestToday, one.NextUseful, one.DependsOn, one.WinderPlace, one.Line.In(language));
}

/// <summary>What falls due in this job, the earliest first; what waits without a moment comes last.</summary>
/// <param name="StartBy">Checks that could begin now or next; none while one is running.</param>
public sealed record NextChecks(Label Job, ImmutableArray<NextCheck> Items, ImmutableArray<StartByView> StartBy);

public static class ReadNextChecks
{
    public static async Task<Results<Seen<NextChecks>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, HttpResponse response, JobStore store, Reader reader, ShopRulesSource source, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        var now = clock.GetCurrentInstant();
        var rules = await source.Read(caller.Site, cancel);
        var rows = AgendaPlan.For(job, rules);
        var startBy = StartPlan.For(job, rules, now, await Places(reader, caller.Site, cancel), await Taken(reader, store, caller.Site, rules, cancel));
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);
        return Answer.Seen(job.Version, new NextChecks(
            job.Label,
            [
                .. rows.OrderBy(row => row.Task ?? Instant.MaxValue).ThenBy(row => row.Kind).ThenBy(row => row.Ref, StringComparer.Ordinal)
                    .Select(row => new NextCheck(row.Kind, row.Ref, row.Due, row.Task, row.Task < now, row.Line)),
            ],
            [.. startBy.Select(one => StartByView.Of(one, language.Best))]));
    }

    private static async Task<ImmutableArray<string>> Places(Reader reader, string site, CancellationToken cancel) =>
    [
        .. (await reader.Read(connection => ShopDocuments.AllOfKind(connection, site, ShopKinds.Of<WinderPlaceDocument>().Name), cancel))
            .Where(place => !JsonSerializer.Deserialize<WinderPlaceDocument>(place.Document, WorkshopJson.Options)!.OutOfUse)
            .Select(place => place.Id),
    ];

    private static async Task<IReadOnlyCollection<WornAtPlace>> Taken(Reader reader, JobStore store, string site, ShopRules rules, CancellationToken cancel)
    {
        var taken = new List<WornAtPlace>();
        foreach (var label in await RunningChecks.Of(reader, site, cancel))
        {
            if (await store.Find(site, label, cancel) is { Job: var other } && RunningChecks.PlaceOf(other, rules.Calendar) is { } place)
            {
                taken.Add(place);
            }
        }

        return taken;
    }
}
