using System.Collections.Immutable;
using System.Text.Json;
using Dapper;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PersonalData;

/// <summary>Everything that is kept of one customer and in what they said and agreed to, as one document to be handed to them.</summary>
public sealed record CustomerExport(Instant At, CustomerView Customer, ImmutableArray<ExportedJob> Jobs);

/// <summary>A job of theirs.</summary>
/// <param name="Intake">As it was written down at the counter.</param>
/// <param name="Entries">What was asked, agreed, paid, promised, handed over, claimed and told, in its order. What the house says among itself is not of them.</param>
public sealed record ExportedJob(Label Job, ExtractOfWatch Watch, JsonElement Intake, ImmutableArray<ExportedEntry> Entries);

public sealed record ExtractOfWatch(string? Maker, string? Model, string? Reference, string? CaseSerial, string? MovementNumber);

public sealed record ExportedEntry(string Type, Instant At, JsonElement Data);

/// <summary>One customer's data, on request.</summary>
public static class ExportCustomer
{
    private const string JobsSql = """
        select label
        from job
        where site = @site
          and customer_id = @customer
        order by taken_in_at, label
        """;

    // What passed between the house and the customer; nobody's work, and no word that was not meant for them.
    private static readonly ImmutableArray<string> Families = ["job.", "quote.", "payment.", "account.", "promise.", "delivery.", "claim.", "dispute.", "wear.", "customer.", "parties.", "shipment."];

    public static async Task<Results<Done<CustomerExport>, ProblemHttpResult>> Handle(string id, Caller caller, HttpResponse response, Reader reader, JobStore store, IClock clock, CancellationToken cancel)
    {
        response.Headers.CacheControl = "no-store";
        if (await reader.Read(connection => CustomerStore.Find(connection, caller.Site, id), cancel) is not { } customer)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no customer with this id.");
        }

        var jobs = ImmutableArray.CreateBuilder<ExportedJob>();
        foreach (var label in await reader.Read(connection => connection.Query<string>(JobsSql, new { site = caller.Site, customer = id }).AsList(), cancel))
        {
            jobs.Add(await Job(caller.Site, Label.Read(label), store, cancel));
        }

        return Answer.Done(new CustomerExport(clock.GetCurrentInstant(), CustomerView.Of(customer), jobs.ToImmutable()));
    }

    private static async Task<ExportedJob> Job(string site, Label label, JobStore store, CancellationToken cancel)
    {
        var read = await store.Find(site, label, cancel) ?? throw new InvalidOperationException($"There is no job {label}.");
        var entries = ImmutableArray.CreateBuilder<ExportedEntry>();
        var after = (Effective: long.MinValue, Source: "", Sequence: long.MinValue, Position: 0L);
        while (await store.History(site, label, after, Reader.LongestPage, cancel) is [.., var last] page)
        {
            entries.AddRange(page.Where(row => Families.Any(family => row.Type.StartsWith(family, StringComparison.Ordinal)) || IsForTheCustomer(row))
                .Select(row => new ExportedEntry(row.Type, Microseconds.Read(row.Effective), JsonElement.Parse(row.Data))));
            after = (last.Effective, last.OrderSource, last.OrderSequence, last.Position);
        }

        return new ExportedJob(
            label, new ExtractOfWatch(read.Watch?.Maker, read.Watch?.Model, read.Watch?.Reference, read.Watch?.CaseSerial, read.Watch?.MovementNumber),
            JsonElement.Parse(read.Intake.Text), entries.ToImmutable());
    }

    private static bool IsForTheCustomer(HistoryRow row) =>
        row.Type == "note.written" && JsonElement.Parse(row.Data) is var note && note.TryGetProperty("audience", out var audience) && audience.GetString() == "customer";
}
