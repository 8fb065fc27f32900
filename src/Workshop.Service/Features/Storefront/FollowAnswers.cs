using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Warranties;
using Workshop.Core.WearReports;
using Workshop.Service.Features.Quotes;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Features.WearReports;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>What a customer says through a storefront about a job goes through the same doors as at the desk; what they refuse is flagged, never lost.</summary>
internal static class FollowAnswers
{
    private const string BySerialSql = """
        select label
        from job
        where site = @site
          and case_serial_key = @key
        order by taken_in_at desc, label
        limit 20
        """;

    public static Followed Follow(Turn turn, StoredStorefront storefront, CloudEvent told, JsonElement data, Instant at) => told.Type switch
    {
        "quote.answered" => FollowTold.Read<QuoteAnswerTold>(data, out var answer, out var wrong) ? Quote(turn, storefront, answer, answer.At ?? at) : wrong,
        "claim.reported" => FollowTold.Read<ClaimTold>(data, out var claim, out var wrong) ? Claim(turn, storefront, claim, at) : wrong,
        _ => FollowTold.Read<WearTold>(data, out var wear, out var wrong) ? Wear(turn, storefront, wear, at) : wrong,
    };

    /// <summary>A job of one of this storefront's orders; null for any other.</summary>
    public static Job? OwnJob(Turn turn, StoredStorefront storefront, string label) =>
        Label.TryRead(label, out var read) && turn.HistoryBehind(read.Value)?.Job is { } job && job.Intake.Ordered?.Storefront == storefront.Source ? job : null;

    /// <summary>A parcel with a watch was delivered.</summary>
    public static Followed Delivered(Turn turn, StoredStorefront storefront, Job job, Instant at, Followed followed) => Settled(
        turn, job, RecordDelivery.Record(turn, job.Label, new DeliveryBody { At = at, How = DeliveryProof.Carrier }, KeepArrivals.Speaks(turn, storefront)).Result, followed);

    private static Followed Quote(Turn turn, StoredStorefront storefront, QuoteAnswerTold told, Instant at)
    {
        if (OwnJob(turn, storefront, told.Job) is not { } job)
        {
            return Unknown();
        }

        var followed = Of(job);
        var body = told.Body(Within(turn, at, job.Quotes.Versions.FirstOrDefault(one => one.Version == told.Quote)?.SentAt));
        var result = AnswerQuote.TakeAnswer(turn, job.Label, told.Quote, body, KeepArrivals.Speaks(turn, storefront)).Result;
        return Settled(turn, job, result, followed, job.Quotes.Newest is { Version: var newest } && newest > told.Quote ? (StorefrontFlag.OldQuote, $"Version {told.Quote} was answered; version {newest} is the newest.") : null);
    }

    private static Followed Claim(Turn turn, StoredStorefront storefront, ClaimTold told, Instant at)
    {
        if (Named(turn, storefront, told.Job, told.Serial) is not { } job)
        {
            return Unknown();
        }

        var body = new ClaimBody { ReportedOn = turn.Rules.Calendar.DateOf(Instant.Min(told.ReportedAt ?? at, turn.Now)), Text = told.Text };
        return Settled(turn, job, ReportClaim.Report(turn, job.Label, body, KeepArrivals.Speaks(turn, storefront)).Result, Of(job));
    }

    private static Followed Wear(Turn turn, StoredStorefront storefront, WearTold told, Instant at)
    {
        if (Named(turn, storefront, told.Job, told.Serial) is not { } job)
        {
            return Unknown();
        }

        var body = new WearReportBody
        {
            ReportedOn = turn.Rules.Calendar.DateOf(Instant.Min(told.ReportedAt ?? at, turn.Now)),
            Amount = told.SecondsGained is { } seconds ? Math.Abs(seconds) : null,
            Unit = told.SecondsGained is null ? null : WearUnit.Seconds,
            Direction = told.SecondsGained is null or 0 ? null : told.SecondsGained > 0 ? WearDirection.Gains : WearDirection.Loses,
            OverDays = told.OverDays,
            Stopped = told.Stopped,
            Text = told.Text,
        };
        return Settled(turn, job, ReportWear.Report(turn, job.Label, body, KeepArrivals.Speaks(turn, storefront)).Result, Of(job));
    }

    // A clock of another house may be a little ahead of ours, or behind the moment at which the quote was sent.
    private static Instant Within(Turn turn, Instant at, Instant? notBefore) => Instant.Max(Instant.Min(at, turn.Now), notBefore ?? Instant.MinValue);

    private static Job? Named(Turn turn, StoredStorefront storefront, string? label, string? serial) =>
        label is not null ? OwnJob(turn, storefront, label)
        : WatchNumber.Key(serial) is { } key ? turn.Query<string>(BySerialSql, new { site = turn.Site, key }).Select(found => OwnJob(turn, storefront, found)).FirstOrDefault(job => job is not null)
        : null;

    private static Followed Of(Job job) => new() { Job = job.Label.ToString(), Order = job.Intake.Ordered?.Order };

    private static Followed Unknown() => new Followed().Flagged(StorefrontFlag.UnknownJob, "No job of this storefront is meant by it.");

    /// <param name="before">The job as it was.</param>
    /// <param name="instead">The flag for a refusal that has a plainer reason.</param>
    private static Followed Settled(Turn turn, Job before, IResult result, Followed followed, (StorefrontFlag Flag, string Detail)? instead = null) =>
        result is not ProblemHttpResult { ProblemDetails: var problem } ? Waits(turn, before) ? followed.Flagged(StorefrontFlag.ForReview, "It is kept in the job, and counts once somebody has looked at it.") : followed
        : instead is var (flag, detail) ? followed.Flagged(flag, detail)
        : followed.Flagged(StorefrontFlag.Refused, Sentences(problem));

    private static bool Waits(Turn turn, Job before) => turn.History(before.Label)!.Job.Reviews.Any(one => before.Reviews.All(other => other.Id != one.Id));

    private static string[] Sentences(ProblemDetails problem) =>
        problem.Extensions.TryGetValue("errors", out var errors) && errors is FieldError[] fields ? [.. fields.Select(field => $"{field.Pointer}: {field.Detail}")]
        : [problem.Detail ?? problem.Title ?? "It was refused."];
}
