using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

public sealed record PublicLinkBody
{
    /// <summary>How much the page shows; with <c>decide</c> the customer can also answer a quote there.</summary>
    public required PublicView View { get; init; }
}

/// <summary>A link to a job's page.</summary>
/// <param name="Address">With its token, shown this once: below the address of this service.</param>
/// <param name="Letter">The letter it stands in; absent for one that was made by itself.</param>
public sealed record PublicLinkView(string Id, PublicView View, Instant CreatedAt, Instant? RevokedAt, string? Address, string? Letter)
{
    internal static PublicLinkView Of(StoredLink link) => new(link.Id, link.Shows, Microseconds.Read(link.Created), Microseconds.Read(link.Revoked), null, link.Letter);
}

public sealed record PublicLinksView(Label Job, ImmutableArray<PublicLinkView> Items);

/// <summary>
/// Addresses under which whoever knows them sees one job: made and revoked by the desk. A token is shown once; of a link that is lost
/// another one is made.
/// </summary>
public static class EditPublicLinks
{
    public static async Task<Once<Results<Made<PublicLinkView>, ProblemHttpResult>>> Make(
        string label, JsonBody<PublicLinkBody> body, Once once, Caller caller, HttpContext context, Writer writer)
    {
        context.Response.Headers.CacheControl = "no-store";
        return PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => MakeIn(turn, job, body.Value.View, caller.Source), WithoutAddress)
            : new Once<Results<Made<PublicLinkView>, ProblemHttpResult>>(refusal);
    }

    public static async Task<Results<Seen<PublicLinksView>, ProblemHttpResult>> All(string label, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        var links = await reader.Read(
            connection => Reader.Entries(connection, caller.Site, job).IsEmpty ? null : PublicLinkStore.OfJob(connection, caller.Site, job), cancel);
        return links is null ? PathLabel.NoJob() : Answer.Seen(links.Count, new PublicLinksView(job, [.. links.Select(PublicLinkView.Of)]));
    }

    /// <summary>From now on nothing is at its address. Again: it is so already.</summary>
    public static async Task<Results<NoContent, ProblemHttpResult>> Revoke(string label, string id, Caller caller, Writer writer, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await writer.Turn(caller.Site, turn => PublicLinkStore.Revoke(turn, job, id) || PublicLinkStore.OfId(turn, id)?.Label == job, cancel) ? TypedResults.NoContent()
        : Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no such link.");

    /// <summary>Makes a link in a turn, for whoever writes to the customer.</summary>
    /// <param name="source">Who makes it.</param>
    /// <returns>Its address below that of this service; it is known to nobody afterwards.</returns>
    public static string AddressIn(Turn turn, Label job, PublicView view, string source) => Add(turn, job, view, source).Address!;

    /// <summary>
    /// The token of the page that a letter leads to. Its link is added with the first of them, and not again: one that was revoked stays so,
    /// also where the letter is sent once more.
    /// </summary>
    public static string TokenInLetter(Turn turn, Label job, PublicView view, string letter)
    {
        var token = PublicToken.Derive(PublicLinkStore.LetterKey(turn), job, view, letter);
        PublicLinkStore.Add(turn, DeskCommand.NewId(turn), PublicToken.HashOf(token), job, view, EventId.Service, letter);
        return token;
    }

    private static Results<Made<PublicLinkView>, ProblemHttpResult> MakeIn(Turn turn, Label job, PublicView view, string source)
    {
        if (turn.History(job) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var link = Add(turn, job, view, source);
        return Answer.Made($"/v1/jobs/{job}/public-links/{link.Id}", history.Job.Version, link);
    }

    private static PublicLinkView Add(Turn turn, Label job, PublicView view, string source)
    {
        var (id, token) = (DeskCommand.NewId(turn), PublicToken.Draw());
        PublicLinkStore.Add(turn, id, PublicToken.HashOf(token), job, view, source);
        return new PublicLinkView(id, view, turn.Now, null, PublicToken.AddressOf(token), null);
    }

    private static IResult WithoutAddress(IResult answer) =>
        answer is INestedHttpResult { Result: Made<PublicLinkView> made } ? Answer.Made(made.AsText().Headers["Location"], 0, made.Value with { Address = null }) : answer;
}
