using NodaTime;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Trial;

/// <summary>Keys that are withdrawn, and devices that are paired anew.</summary>
internal static class PairingSituations
{
    private const string SecondKey = "wk_trial-second-key";
    private const string SecondSource = "/devices/bench-2/2";

    public static IReadOnlyList<Situation> All { get; } =
    [
        Stops("key-withdrawn", "401", ProblemCatalogue.KeyNeeded),
        Stops("source-not-its-own", "403", ProblemCatalogue.SourceNotYours),
        new("one-it-may-not-say", "403 for one event of a batch: the others have their verdicts; that one stays, and the device asks to be paired again.", async play =>
        {
            play.Service.Verdict = one => Play.NoteOf(one) == Play.Note(2) ? Results.Refused(one, ProblemCatalogue.NotForThisRole, "This key may not do that") : null;
            await play.PressAndWake(2);
            await play.Waits(2);
            await play.LiesAside();
            play.Expect(play.Kept.SequenceEqual(["note 1"]), "the event before it did not arrive");
            play.Expect(!(await play.State()).Paired, "it does not ask to be paired again");
            await play.SendsNothing(() => play.PassWaking(Duration.FromMinutes(10)), "it goes on sending");
        }),
        new("unpaired-it-still-listens", "Without a valid key it keeps what is pressed, over a restart too.", async play =>
        {
            play.Service.Always = Answers.Refused(ProblemCatalogue.KeyNeeded);
            await play.PressAndWake();
            await play.Press();
            await play.Device.Restart();
            await play.Press();
            var state = await play.State();
            play.Expect(state.Queue.Length == 3, $"of 3 events {state.Queue.Length} wait in its queue");
            play.Expect(!state.Paired, "after the restart it has forgotten that its key was withdrawn");
        }),
        new("paired-anew", "A new source begins at 1; what waited goes out under it first, in its old order, with its own ids and times, and what is pressed afterwards follows.", async play =>
        {
            await play.PressAndWake(2);
            play.Service.Always = Answers.Refused(ProblemCatalogue.KeyNeeded);
            await play.Press();
            await play.Pass(Duration.FromMinutes(1));
            await play.PressAndWake(2);
            var waiting = Play.Ids(await play.State());
            await play.Pass(Duration.FromMinutes(30));
            Pair(play, SecondKey, SecondSource);
            await play.Device.Pair(play.Service.Address, SecondKey, SecondSource);
            await play.Press();
            await play.Deliver();
            await play.EverythingArrived();
            var anew = play.Service.Kept.Where(one => one.Source == SecondSource).ToArray();
            var numbers = anew.Select(one => one.Sequence!.Value).ToArray();
            play.Expect(numbers.SequenceEqual([1, 2, 3, 4]), $"under the new source its numbers were {string.Join(", ", numbers)}");
            play.Expect(anew.Take(3).Select(one => one.Id).SequenceEqual(waiting), "what had waited has other ids now");
        }),
        new("another-key-for-the-same-source", "Numbers go on where they were, and what waits goes out as it is.", async play =>
        {
            await play.PressAndWake();
            play.Service.Always = Answers.Refused(ProblemCatalogue.KeyNeeded);
            await play.PressAndWake(2);
            var waiting = Play.Ids(await play.State());
            Pair(play, SecondKey, Play.Source);
            await play.Device.Pair(play.Service.Address, SecondKey, Play.Source);
            await play.Press();
            await play.Deliver();
            await play.EverythingArrived();
            play.Expect(play.Service.Kept.Skip(1).Take(2).Select(one => one.Id).SequenceEqual(waiting), "what had waited has other ids now");
            play.Expect(play.Service.Kept.Select(one => one.Sequence!.Value).SequenceEqual([1, 2, 3, 4]), "its numbers did not go on");
        }),
    ];

    private static void Pair(Play play, string key, string source) => (play.Service.Key, play.Service.Source, play.Service.Always) = (key, source, Answers.Judged);

    private static Situation Stops(string name, string status, ProblemKind kind) =>
        new(name, $"{status}: everything stays, nothing more is sent, and the device asks to be paired again.", async play =>
        {
            play.Service.Always = Answers.Refused(kind);
            await play.PressAndWake(3);
            await play.SendsNothing(() => play.PassWaking(Duration.FromMinutes(30)), $"it goes on sending after a {status}");
            await play.SendsNothing(() => play.PressAndWake(), $"it sends what is pressed after a {status}");
            var state = await play.State();
            play.Expect(!state.Paired, "it does not ask to be paired again");
            play.Expect(state.Queue.Length == 4, $"of 4 events {state.Queue.Length} wait in its queue");
            await play.LiesAside();
        });
}
