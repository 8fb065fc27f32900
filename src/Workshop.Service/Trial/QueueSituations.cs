using NodaTime;

namespace Workshop.Service.Trial;

/// <summary>Long queues, and power cuts in the midst of everything.</summary>
internal static class QueueSituations
{
    public static IReadOnlyList<Situation> All { get; } =
    [
        new("a-day-offline", "Forty posts of a day without a network arrive in order, without a hole in their numbers, with the times at which they were pressed.", async play =>
        {
            play.Service.Always = Answers.Cut;
            for (var i = 0; i < 40; i++)
            {
                await play.PressAndWake();
                await play.Pass(Duration.FromMinutes(12));
            }

            await play.LiesAside();
            play.Service.Always = Answers.Judged;
            await play.Deliver();
            await play.EverythingArrived();
            play.Expect(
                play.Service.Kept.Select(one => one.Sequence!.Value).SequenceEqual(Enumerable.Range(1, 40).Select(number => (long)number)),
                "the numbers of the day are not 1 to 40 without a hole");
        }),
        new("more-than-a-batch-holds", "More than 500 that wait go out in several requests of at most 500, in order.", async play =>
        {
            await play.Press(520);
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("a-restart-with-a-queue", "What was pressed outlives a power cut with its ids and numbers, and the numbers go on behind it.", async play =>
        {
            play.Service.Always = Answers.Cut;
            await play.PressAndWake(3);
            var before = Play.Ids(await play.State());
            await play.Device.Restart();
            play.Expect(Play.Ids(await play.State()).SequenceEqual(before), "after the restart its queue is another one");
            await play.Press(2);
            play.Service.Always = Answers.Judged;
            await play.Deliver();
            await play.EverythingArrived();
            play.Expect(play.Service.Kept.Select(one => one.Sequence!.Value).SequenceEqual([1, 2, 3, 4, 5]), "its numbers do not go on behind those before the restart");
        }),
        new("a-restart-with-nothing-waiting", "Numbers and ids are used once, also when everything was sent before the power was cut.", async play =>
        {
            await play.PressAndWake(2);
            await play.Device.Restart();
            await play.PressAndWake(2);
            await play.Deliver();
            await play.EverythingArrived();
            play.Expect(play.Service.Kept.Select(one => one.Sequence!.Value).SequenceEqual([1, 2, 3, 4]), "its numbers do not go on behind those before the restart");
        }),
        PowerCut("power-cut-before-the-answer", "nothing had been kept", Answers.Cut),
        PowerCut("power-cut-after-it-was-kept", "the service had kept everything", Answers.Lost),
        new("pressed-while-it-sends", "A press is kept although an answer is still awaited; it goes out afterwards.", async play =>
        {
            var release = new TaskCompletionSource();
            play.Service.Once(Answers.Late(release.Task, Answers.Judged));
            await play.Press();
            var waking = play.Wake();
            try
            {
                await play.Service.Arrived.WaitAsync(TriedDevice.Patience);
                await play.Press();
                play.Expect(!waking.IsCompleted, "it did not wait for the answer");
            }
            finally
            {
                release.SetResult();
                await waking;
            }

            await play.Deliver();
            await play.EverythingArrived();
        }),
    ];

    private static Situation PowerCut(string name, string what, Answering answer) =>
        new(name, $"The power is cut while an answer is awaited, and {what}: afterwards the same ids are sent again, and no number is used twice.", async play =>
        {
            var release = new TaskCompletionSource();
            play.Service.Once(Answers.Late(release.Task, answer));
            await play.Press(2);
            var waking = play.Wake();
            try
            {
                await play.Service.Arrived.WaitAsync(TriedDevice.Patience);
                await play.Device.Restart();
            }
            finally
            {
                release.SetResult();
                await waking.ContinueWith(_ => { }, TaskScheduler.Default);
            }

            await play.Press();
            await play.Deliver();
            await play.EverythingArrived();
        });
}
