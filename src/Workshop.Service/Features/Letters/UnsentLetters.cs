using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>Something that such a letter was to say.</summary>
/// <param name="About">The label of a job, or of a watch that is expected.</param>
/// <param name="Occasion">Which of several of its kind.</param>
public sealed record UnsentPart(Label About, LetterMoment Moment, string Occasion);

/// <summary>A letter that could not be sent: somebody is to be told otherwise.</summary>
/// <param name="Customer">The customer's id.</param>
/// <param name="Attempts">How often it was tried.</param>
public sealed record UnsentLetterView(string Letter, string Customer, Instant GivenUpAt, long Attempts, ImmutableArray<UnsentPart> Says);

public sealed record UnsentLettersView(ImmutableArray<UnsentLetterView> Items);

public sealed record ToldOtherwiseBody
{
    /// <summary>The letter's id, as the list and the agenda name it.</summary>
    [StringLength(300, MinimumLength = 1)]
    public required string Letter { get; init; }

    /// <summary><c>telephone</c>, <c>post</c> or <c>in-person</c>.</summary>
    public required LetterChannel Channel { get; init; }

    /// <summary>The badge of whoever told them.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>
/// Letters that were given up after their last attempt, for as long as somebody is still to be told what they say: until the desk has told
/// them, or the reason has passed.
/// </summary>
public static class UnsentLetters
{
    public static async Task<Done<UnsentLettersView>> All(Caller caller, Reader reader, CancellationToken cancel)
    {
        var parts = await reader.Read(connection => LetterStore.GivenUp(connection, caller.Site), cancel);
        return Answer.Done(new UnsentLettersView([.. parts.GroupBy(part => part.Letter, StringComparer.Ordinal).Select(letter => Shown([.. letter])).OrderBy(letter => letter.GivenUpAt)]));
    }

    /// <summary>They were told by another way. Again: it is so already.</summary>
    public static async Task<Results<NoContent, ProblemHttpResult>> Told(JsonBody<ToldOtherwiseBody> body, Caller caller, Writer writer, CancellationToken cancel) =>
        body.Value.Channel is LetterChannel.Email or LetterChannel.Storefront
            ? Problems.BadFields([new Fault("/channel", "By e-mail it could not be said; it is telephone, post or in-person")])
            : await writer.Turn(caller.Site, turn => ToldIn(turn, body.Value, caller), cancel);

    private static Results<NoContent, ProblemHttpResult> ToldIn(Turn turn, ToldOtherwiseBody body, Caller caller)
    {
        var parts = LetterStore.Together(turn, body.Letter);
        if (parts.Count == 0)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such letter.");
        }

        foreach (var part in parts.Where(part => part.GivenUp is not null))
        {
            if (Label.Read(part.Job) is { Kind: LabelKind.Job } job && turn.History(job) is { } history
                && Write(turn, history, part, body, caller) is { Outcome: Outcome.Refused } refused)
            {
                return TypedResults.Problem(DeskCommand.Refusal(refused));
            }

            LetterStore.Move(turn, part, LetterState.Said, turn.Rules.Calendar.DateOf(turn.Now));
        }

        HouseAgenda.Refresh(turn);
        return TypedResults.NoContent();
    }

    private static Decision? Write(Turn turn, JobHistory history, StoredLetter part, ToldOtherwiseBody body, Caller caller)
    {
        var moment = Word.Read<LetterMoment>(part.Moment)!.Value;
        return history.Job.Letters.Has(moment, part.Occasion, part.Customer) ? null : DeskCommand.Say(
            turn, history, caller,
            new CustomerTold { Moment = moment, Occasion = part.Occasion, Customer = part.Customer, Channel = body.Channel, Letter = part.Letter }, body.Person);
    }

    private static UnsentLetterView Shown(IReadOnlyList<StoredLetter> parts) => new(
        parts[0].Letter, parts[0].Customer, Microseconds.Read(parts.Min(part => part.GivenUp!.Value)), parts.Max(part => part.Attempts),
        [.. parts.Select(part => new UnsentPart(Label.Read(part.Job), Word.Read<LetterMoment>(part.Moment)!.Value, part.Occasion))]);
}
