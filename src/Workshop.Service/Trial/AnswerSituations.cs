using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Trial;

/// <summary>What becomes of an event that was answered.</summary>
internal static class AnswerSituations
{
    private const string Line = "Nothing of the kind is known here";

    public static IReadOnlyList<Situation> All { get; } =
    [
        new("accepted", "The event leaves the queue, and the line is shown.", async play =>
        {
            play.Service.Verdict = one => Results.Accepted(one, new Say(Signal.Ok, "Rebuild is finished"));
            await play.PressAndWake();
            await play.EverythingArrived();
            await play.Showed("ok", "Rebuild is finished");
        }),
        new("noted", "A report that was kept for a manager leaves the queue like an accepted one, and its line is shown.", async play =>
        {
            play.Service.Verdict = one => Results.Noted(one, "Noted; a manager looks at it");
            await play.PressAndWake();
            await play.EverythingArrived();
            await play.Showed("ask", "Noted; a manager looks at it");
        }),
        new("the-line-as-it-is", "Signal and line are shown as given: no table of the client's own, nothing cut off, nothing taken for markup.", async play =>
        {
            const string line = "Öl <b>9010</b> & co: «grüner Punkt» – nur 2 Tropfen, 60 Zeichen";
            play.Service.Verdict = one => Results.Accepted(one, new Say(Signal.Ask, line[..Phrase.LineAtMost]));
            await play.PressAndWake();
            await play.Showed("ask", line[..Phrase.LineAtMost]);
        }),
        new("refused-by-a-gate", "409: the event leaves the queue and is not sent again; STOP, the sentence and who could help are shown.", async play =>
        {
            play.Service.Verdict = one => Results.Gate(one, "Rebuild is not done", "whoever does it; a manager may waive it");
            await play.PressAndWake();
            await play.Waits();
            await play.LiesAside();
            await play.Showed("stop", "Rebuild is not done", "whoever does it; a manager may waive it");
            await play.SendsNothing(() => play.PassWaking(NodaTime.Duration.FromMinutes(30)), "it sends a refused event again");
        }),
        NeverAgain("not-right", "422", ProblemCatalogue.BadFields),
        NeverAgain("not-readable", "400", ProblemCatalogue.LabelUnreadable),
        NeverAgain("in-conflict", "409 event-conflict", ProblemCatalogue.EventConflict),
        new("set-aside-outlives-a-restart", "What was set aside lies there after a power cut too, until a person has seen to it.", async play =>
        {
            play.Service.Verdict = one => Play.NoteOf(one) == Play.Note(1) ? Results.Refused(one, ProblemCatalogue.BadFields, Line) : null;
            await play.PressAndWake(2);
            await play.Device.Restart();
            await play.LiesAside(1);
            await play.SendsNothing(() => play.PassWaking(NodaTime.Duration.FromMinutes(5)), "after a restart it sends again what was set aside");
        }),
        new("six-fates-in-one-batch", "One result for each event, in order: each goes its own way, and none takes another with it.", async play =>
        {
            play.Service.Verdict = one => Play.NoteOf(one) switch
            {
                "note 2" => Results.Noted(one, "Noted for a manager"),
                "note 3" => Results.Gate(one, "Held: query", "a manager"),
                "note 4" => Results.Refused(one, ProblemCatalogue.BadFields, "Some fields are not right"),
                "note 5" => Results.Refused(one, ProblemCatalogue.EventConflict, "Known with another content"),
                _ => null,
            };
            await play.Press(6);
            await play.Deliver();
            await play.LiesAside(4, 5);
            play.Expect(play.Kept.SequenceEqual(["note 1", "note 2", "note 6"]), $"kept were {string.Join(", ", play.Kept)} instead of the first, second and sixth");
            foreach (var (signal, line) in ((string, string)[])[("ok", "Number 1 is accepted"), ("ask", "Noted for a manager"), ("stop", "Held: query"), ("stop", "Some fields are not right"), ("stop", "Known with another content"), ("ok", "Number 6 is accepted")])
            {
                await play.Showed(signal, line);
            }
        }),
        new("members-nobody-knows", "Answers grow: what the client does not know it leaves alone.", async play =>
        {
            play.Service.Edited = result =>
            {
                result["forecast"] = new System.Text.Json.Nodes.JsonObject { ["on"] = "2026-03-20" };
                result["say"]!["colour"] = "green";
                result["cautions"] = 7;
                return result;
            };
            await play.PressAndWake(3);
            await play.EverythingArrived();
            await play.Showed("ok", "Number 2 is accepted");
        }),
        new("an-outcome-nobody-knows", "A word of a later version: the event is neither removed nor set aside, its line is shown, the others go on, and it is asked about again.", async play =>
        {
            var later = true;
            play.Service.Verdict = one => Play.NoteOf(one) == Play.Note(1) && later ? Results.Held(one, "Somebody is asked about it") : null;
            play.Service.Edited = result =>
            {
                if (result["outcome"]!.GetValue<string>() == "held")
                {
                    result["outcome"] = "pondered";
                }

                return result;
            };
            await play.Press(2);
            await play.PassWaking(NodaTime.Duration.FromMinutes(5));
            await play.Waits(1);
            await play.LiesAside();
            await play.Showed("ask", "Somebody is asked about it");
            play.Expect(play.Kept.SequenceEqual(["note 2"]), "the event behind it did not arrive");
            later = false;
            await play.Deliver();
            play.Expect(play.Kept.SequenceEqual(["note 2", "note 1"]), "it was not asked about again");
        }),
    ];

    private static Situation NeverAgain(string name, string status, ProblemKind kind) =>
        new(name, $"{status}: the event is set aside where a person sees it, never sent again, never deleted; those behind it go on.", async play =>
        {
            play.Service.Verdict = one => Play.NoteOf(one) == Play.Note(2) ? Results.Refused(one, kind, Line) : null;
            foreach (var _ in Enumerable.Range(1, 3))
            {
                await play.PressAndWake();
            }

            await play.LiesAside(2);
            await play.Waits();
            await play.Showed("stop", Line);
            play.Expect(play.Kept.SequenceEqual(["note 1", "note 3"]), "the event behind it did not arrive");
            await play.SendsNothing(() => play.PassWaking(NodaTime.Duration.FromMinutes(30)), $"it sends an event again that was answered {status}");
            await play.LiesAside(2);
        });
}
