using NodaTime;

namespace Workshop.Service.Trial;

/// <summary>An event waits at the service for a number that has not come.</summary>
internal static class HeldSituations
{
    public static IReadOnlyList<Situation> All { get; } =
    [
        new("held-then-accepted", "A held event stays in the queue until its verdict is fetched, by posting the same again; the verdict is shown once.", async play =>
        {
            var held = true;
            play.Service.Verdict = one => held ? Results.Held(one, "Waits for an earlier number") : null;
            await play.PressAndWake();
            await play.Waits(1);
            await play.Showed("ask", "Waits for an earlier number");
            held = false;
            await play.Deliver();
            await play.EverythingArrived();
            await play.Showed("ok", "Number 1 is accepted");
        }),
        new("held-then-refused", "The verdict on a held event may be a refusal: it leaves the queue, and STOP is shown.", async play =>
        {
            var held = true;
            play.Service.Verdict = one => held ? Results.Held(one, "Waits for an earlier number") : Results.Gate(one, "Casing is not done", "whoever does it");
            await play.PressAndWake();
            await play.Waits(1);
            held = false;
            await play.Deliver();
            await play.LiesAside();
            await play.Showed("stop", "Casing is not done", "whoever does it");
        }),
        new("held-holds-up-nobody", "While one event is held the others are sent, and it is asked about now and then, not all the time.", async play =>
        {
            play.Service.Verdict = one => Play.NoteOf(one) == Play.Note(1) ? Results.Held(one, "Waits for an earlier number") : null;
            await play.PressAndWake();
            await play.PressAndWake(2);
            await play.Waits(1);
            play.Expect(play.Kept.SequenceEqual(["note 2", "note 3"]), "those behind it did not arrive");
            var before = play.Service.Posts.Count;
            await play.PassWaking(Duration.FromMinutes(2));
            var asked = play.Service.Posts.Count - before;
            play.Expect(asked is >= 1 and <= 60, $"it was asked about {asked} times in two minutes");
        }),
    ];
}
