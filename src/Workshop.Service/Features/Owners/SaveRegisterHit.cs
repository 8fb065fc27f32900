using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Owners;

public sealed record RegisterHitBody
{
    /// <summary>True: a register names the watch. False: it is cleared.</summary>
    public required bool Hit { get; init; }

    /// <summary>Which register says so; needed with a hit.</summary>
    [StringLength(200, MinimumLength = 1)]
    public string? Register { get; init; }

    /// <summary>What it says.</summary>
    [StringLength(2_000, MinimumLength = 1)]
    public string? Text { get; init; }

    /// <summary>Why it is cleared; needed then.</summary>
    [StringLength(2_000, MinimumLength = 1)]
    public string? Reason { get; init; }

    /// <summary>The manager's badge.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>
/// A register of stolen watches names this one, or no longer. Every open job of it is held (<c>legal</c>) without a word to anybody but the
/// managers: others see a query, and no letter goes out. What is to be done follows local rules and the police; the house accuses nobody.
/// </summary>
public static class SaveRegisterHit
{
    public static async Task<Results<Done<RegisterHitView>, ProblemHttpResult>> Handle(string id, JsonBody<RegisterHitBody> body, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Save(turn, id, body.Value, caller), cancel);

    private static Results<Done<RegisterHitView>, ProblemHttpResult> Save(Turn turn, string id, RegisterHitBody body, Caller caller)
    {
        if (WatchStore.Find(turn, id) is null)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no watch with this id.");
        }

        var known = RegisterHitStore.Find(turn, id);
        if (Faults(body, known).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var stands = known is { ClearedAt: null };
        if (body.Hit && (!stands || known!.Register != body.Register || known.Text != body.Text))
        {
            RegisterHitStore.Put(turn, id, body.Register!, body.Text, caller.Source);
        }
        else if (!body.Hit && stands)
        {
            RegisterHitStore.Clear(turn, id, body.Reason);
        }

        foreach (var job in WatchStore.Jobs(turn, id).Where(one => one.InHouse == 1))
        {
            var history = turn.History(Label.Read(job.Label))!;
            var held = history.Job.Holds.Standing.Any(hold => hold.Reason == HoldReason.Legal && hold.Text == RegisterHitStore.HoldReason);
            if (body.Hit && !held)
            {
                DeskCommand.Say(turn, history, caller, new HoldPlaced { Hold = HoldReason.Legal, Reason = RegisterHitStore.HoldReason }, body.Person);
            }
            else if (!body.Hit && held && history.Job.Holds.Standing.Count(hold => hold.Reason == HoldReason.Legal) == 1)
            {
                DeskCommand.Say(turn, history, caller, new HoldLifted { Hold = HoldReason.Legal, Reason = body.Reason }, body.Person);
            }
        }

        return Answer.Done(RegisterHitView.Of(RegisterHitStore.Find(turn, id))!);
    }

    private static IEnumerable<Fault> Faults(RegisterHitBody body, StoredRegisterHit? known)
    {
        if (body.Hit && string.IsNullOrWhiteSpace(body.Register))
        {
            yield return new Fault("/register", "A hit names the register");
        }

        if (!body.Hit && string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "A hit is cleared with a reason");
        }

        if (!body.Hit && known is null)
        {
            yield return new Fault("/hit", "No register has named this watch");
        }
    }
}
