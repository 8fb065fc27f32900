using NodaTime;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Trial;

/// <summary>No answer, a lost one, somebody else's, or "not now".</summary>
internal static class SilenceSituations
{
    private const string SignIn = "<!doctype html><title>Guest network</title><p>Please sign in to go on.</p>";

    public static IReadOnlyList<Situation> All { get; } =
    [
        new("nobody-there", "The connection breaks before anything arrived: everything stays, and goes out with the same ids when the service is back.", async play =>
        {
            play.Service.Once(Answers.Cut, Answers.Cut, Answers.Cut);
            await play.PressAndWake(3);
            await play.Waits(1, 2, 3);
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("the-answer-is-lost", "The service has kept it, the answer never came: the same is sent again under the same id and leaves the queue as replayed.", async play =>
        {
            play.Service.Once(Answers.Lost);
            await play.PressAndWake(3);
            await play.Deliver();
            await play.EverythingArrived();
            await play.Showed("ok", "Number 1 is accepted");
        }),
        new("the-answer-is-lost-again-and-again", "However often the answer is lost, the event stays one event.", async play =>
        {
            play.Service.Once(Answers.Lost, Answers.Lost, Answers.Lost, Answers.Lost);
            await play.PressAndWake();
            await play.Press();
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("a-lost-refusal", "A refusal that was lost is given again and treated as if it came for the first time.", async play =>
        {
            play.Service.Verdict = one => Results.Gate(one, "Rebuild is not done", "whoever does it");
            play.Service.Once(Answers.Lost);
            await play.PressAndWake();
            await play.Deliver();
            await play.LiesAside();
            await play.Showed("stop", "Rebuild is not done", "whoever does it");
        }),
        new("no-answer-in-time", "A request that nobody answers is given up; the event stays and is sent again under its id.", async play =>
        {
            await play.Begin(answerWithin: Duration.FromSeconds(2));
            using var letGo = new CancellationTokenSource(TimeSpan.FromSeconds(8));
            play.Service.Once(Answers.Late(Task.Delay(Timeout.Infinite, letGo.Token), Answers.Cut));
            await play.PressAndWake();
            play.Expect(!letGo.IsCancellationRequested, "it waited for more than 8 s although it was told to give up after 2 s");
            await play.Waits(1);
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("an-answer-after-the-time", "The service had kept it and answered when the client had given up already: sent again, it is replayed and shown once.", async play =>
        {
            await play.Begin(answerWithin: Duration.FromSeconds(2));
            using var letGo = new CancellationTokenSource(TimeSpan.FromSeconds(8));
            play.Service.Once(Answers.Late(Task.Delay(Timeout.Infinite, letGo.Token), Answers.Lost));
            await play.PressAndWake();
            await play.Deliver();
            await play.EverythingArrived();
            await play.Showed("ok", "Number 1 is accepted");
        }),
        new("not-now-for-an-hour", "503 for an hour: the pauses grow, none is longer than ten minutes, nothing is sent within one, and all arrives when the service is back.", async play =>
        {
            play.Service.Always = Answers.Refused(ProblemCatalogue.StorageUnavailable);
            await play.PressAndWake(3);
            var pauses = new List<Duration>();
            for (var end = play.Now + Duration.FromHours(1); play.Now < end;)
            {
                pauses.Add(await play.SitsOutItsPause());
                play.Expect(pauses.Count < 100, "in an hour it tried more than a hundred times");
            }

            play.Expect(pauses[0] >= Duration.FromMilliseconds(500), $"its first pause was {pauses[0].TotalMilliseconds:0} ms");
            play.Expect(pauses[0] <= Duration.FromMinutes(1), $"its first pause was {pauses[0].TotalSeconds:0} s");
            play.Expect(pauses.Max() >= 4 * pauses[0], $"its pauses do not grow: the first was {pauses[0].TotalSeconds:0.0} s, the longest {pauses.Max().TotalSeconds:0.0} s");
            await play.Waits(1, 2, 3);
            play.Service.Always = Answers.Judged;
            await play.SitsOutItsPause();
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("not-all-at-the-same-moment", "The pauses have a part left to chance, so that benches that lost the service together do not come back together.", async play =>
        {
            var first = await SixPauses(play);
            await play.Begin();
            var second = await SixPauses(play);
            play.Expect(!first.SequenceEqual(second), "two times six failures gave the same six pauses");
        }),
        new("pauses-begin-anew", "After an answer the next failure begins with a short pause again.", async play =>
        {
            await SixPauses(play);
            play.Service.Always = Answers.Judged;
            await play.Deliver();
            play.Service.Once(Answers.Cut);
            await play.PressAndWake();
            var pause = await play.SitsOutItsPause();
            play.Expect(pause <= Duration.FromMinutes(1), $"it pauses for {pause.TotalSeconds:0} s after its first failure");
            await play.EverythingArrived();
        }),
        new("something-unexpected", "500: everything stays, with growing pauses, under the same ids.", async play =>
        {
            play.Service.Once(Answers.Refused(ProblemCatalogue.Unexpected), Answers.Refused(ProblemCatalogue.Unexpected));
            await play.PressAndWake(2);
            await play.Waits(1, 2);
            await play.LiesAside();
            await play.SitsOutItsPause();
            await play.Deliver();
            await play.EverythingArrived();
        }),
        AsLongAsAsked("too-many-requests", "429", ProblemCatalogue.TooManyRequests),
        AsLongAsAsked("more-than-can-be-taken", "503", ProblemCatalogue.StorageBusy),
        NoAnswerOfOurs("a-sign-in-page", "200 with a page of somebody else's", Answers.Text(200, "text/html", SignIn)),
        NoAnswerOfOurs("half-a-json", "200 with JSON that breaks off", Answers.Text(200, "application/json", "[{\"outcome\":\"accep")),
        NoAnswerOfOurs("another-shape", "200 with JSON that answers nothing", Answers.Text(200, "application/json", "{\"status\":\"ok\"}")),
        NoAnswerOfOurs("results-of-others", "200 with results for other events", Answers.Text(200, "application/json", "[{\"id\":\"a\",\"outcome\":\"accepted\"},{\"id\":\"b\",\"outcome\":\"accepted\"}]")),
        NoAnswerOfOurs("nothing-there", "404 from a proxy", Answers.Text(404, "text/plain", "no such host")),
        new("sent-somewhere-else", "A redirection is not followed: neither key nor events go to another address.", async play =>
        {
            play.Service.Once(Answers.Elsewhere);
            await play.PressAndWake(2);
            play.Expect(play.Service.Astray == 0, "it followed a redirection to another address");
            await play.Waits(1, 2);
            await play.Deliver();
            await play.EverythingArrived();
        }),
    ];

    private static async Task<List<Duration>> SixPauses(Play play)
    {
        play.Service.Always = Answers.Cut;
        await play.PressAndWake();
        var pauses = new List<Duration>();
        while (pauses.Count < 6)
        {
            pauses.Add(await play.SitsOutItsPause());
        }

        return pauses;
    }

    private static Situation AsLongAsAsked(string name, string status, ProblemKind kind) =>
        new(name, $"{status} with Retry-After: it waits at least as long as it is asked to, and not much longer.", async play =>
        {
            play.Service.Once(Answers.Refused(kind, retryAfterSeconds: 120));
            await play.PressAndWake(2);
            await play.Waits(1, 2);
            var pause = await play.SitsOutItsPause();
            play.Expect(pause >= Duration.FromSeconds(120), $"asked to wait for 120 s it waited for {pause.TotalSeconds:0}");
            play.Expect(pause <= Duration.FromSeconds(240), $"asked to wait for 120 s it waited for {pause.TotalSeconds:0}");
            await play.Deliver();
            await play.EverythingArrived();
        });

    private static Situation NoAnswerOfOurs(string name, string what, Answering answer) =>
        new(name, $"{what}: no answer at all, everything stays and is sent again after a pause.", async play =>
        {
            play.Service.Once(answer);
            await play.PressAndWake(2);
            await play.Waits(1, 2);
            await play.LiesAside();
            await play.SitsOutItsPause();
            await play.Deliver();
            await play.EverythingArrived();
        });
}
