using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Core.Labels;

namespace Workshop.Service.Tests.Simulation;

/// <summary>What goes wrong: on the wire, at a tablet, with the process.</summary>
internal sealed partial class World
{
    /// <summary>A tablet tries again after this long, and longer the less it hears.</summary>
    private static readonly Duration AgainAfter = Duration.FromSeconds(5);

    // ---- the wire ----

    private Task Send(Tablet tablet)
    {
        if (tablet.Waiting.Count == 0 || Now < tablet.OfflineUntil)
        {
            return Task.CompletedTask;
        }

        // Whatever becomes of it: what still waits then is sent again.
        Plan(Now + AgainAfter + Duration.FromMilliseconds(chance.Next(0, 40_000)), () => Send(tablet));
        switch (chance.Next(10))
        {
            case < 5:
                OverTheWire(tablet, [tablet.Waiting[0]], batch: false);
                break;
            case < 8:
                OverTheWire(tablet, [.. tablet.Waiting.Take(chance.Next(1, 120))], batch: true);
                break;
            case 8:
                OverTheWire(tablet, [.. tablet.Waiting.OrderBy(_ => chance.Next()).Take(chance.Next(1, 20))], batch: true);
                break;
            default:
                // One that does not wait for its answers: its posts overtake one another.
                foreach (var said in tablet.Waiting.Take(4).OrderBy(_ => chance.Next()))
                {
                    OverTheWire(tablet, [said], batch: false);
                }

                break;
        }

        return Task.CompletedTask;
    }

    private void OverTheWire(Tablet tablet, IReadOnlyList<Said> post, bool batch)
    {
        var sentAt = tablet.SentAt(Now);
        if (Bad())
        {
            Note(tablet.Name, $"{Named(post)} is lost on the way");
            return;
        }

        Plan(Arrival(), () => Arrive());
        if (Bad())
        {
            Plan(Arrival(), () => Arrive());
        }

        Task Arrive() => Deliver(tablet, post, batch, sentAt, answerIsLost: Bad());

        bool Bad() => chance.NextDouble() < tablet.BadLine;

        Instant Arrival() => Bad() ? InSeconds(3, 90) : InSeconds(0.02, 0.8);
    }

    private async Task Deliver(Tablet tablet, IReadOnlyList<Said> post, bool batch, Instant? sentAt, bool answerIsLost)
    {
        var answers = await house.Post(tablet.Caller, [.. post.Select(said => said.Text)], batch, sentAt);
        foreach (var (said, answer) in post.Zip(answers))
        {
            var isDone = Told.Hear(said.Id, answer);
            Note(tablet.Name, $"  {said.Id.Id} -> {Short(answer)}{(answerIsLost ? " (the answer is lost)" : "")}");
            if (!isDone)
            {
                Plan(Now + Duration.FromSeconds(10) + Duration.FromMilliseconds(chance.Next(0, 4000)), Release);
            }
            else if (!answerIsLost && tablet.Waiting.Contains(said))
            {
                tablet.Forget(said.Id.Id);
                Read(tablet, said, answer);
            }
        }
    }

    /// <summary>The person at the bench reads what stands against it: taps and goes on, or leaves it to the manager.</summary>
    private void Read(Tablet tablet, Said said, JsonElement answer)
    {
        var problem = answer.TryGetProperty("problem", out var inner) ? inner : answer;
        if (!problem.TryGetProperty("against", out var against))
        {
            return;
        }

        var all = against.EnumerateArray().ToArray();
        if (all.All(one => one.GetProperty("strength").GetString() == "ask") && !said.Data.Contains("despite", StringComparison.Ordinal) && chance.Next(2) == 0)
        {
            var gates = string.Join(',', all.Select(one => $"\"{one.GetProperty("gate").GetString()}\""));
            Say(tablet, said.Subject, said.Type, With(said.Data, "despite", $"[{gates}]"));
        }

        foreach (var one in all.Where(one => one.GetProperty("waivable").GetBoolean() && Label.TryRead(said.Subject, out _)))
        {
            stops.Add((Label.Read(said.Subject), one.GetProperty("gate").GetString()!));
        }
    }

    // What took something's place may be taken back itself.
    private static string With(string data, string member, string value)
    {
        var told = JsonNode.Parse(data)!.AsObject();
        told[member] = JsonNode.Parse(value);
        return told.ToJsonString();
    }

    private static string Named(IReadOnlyList<Said> post) => string.Join(", ", post.Select(said => said.Id.Id));

    private static string Short(JsonElement answer)
    {
        var outcome = answer.TryGetProperty("outcome", out var told) ? told.GetString() : "refused";
        var line = answer.TryGetProperty("say", out var say) ? say.GetProperty("line").GetString() : answer.GetProperty("title").GetString();
        return $"{outcome}: {line}";
    }

    // ---- tablets ----

    private Task SomethingHappensToATablet()
    {
        Plan(WhenOpen(After(20, 200)), SomethingHappensToATablet);
        var tablet = BenchWork.Pick(chance, [.. tablets.Where(one => one != manager)]);
        switch (chance.Next(7))
        {
            case 0 or 1:
                tablet.OfflineUntil = After(20, 400);
                Note(tablet.Name, "is in the cellar");
                Plan(tablet.OfflineUntil, () => Send(tablet));
                break;
            case 2 or 3:
                tablet.ClockAhead = WrongClock();
                Note(tablet.Name, $"has its clock set anew, ahead by {tablet.ClockAhead}");
                break;
            case 4:
                DeclareAGap(tablet);
                break;
            case 5:
                TakeBack(tablet);
                break;
            default:
                Replace(tablet);
                break;
        }

        return Task.CompletedTask;
    }

    // It knows which of its numbers are lost: those that it neither keeps nor has had an answer to.
    private void DeclareAGap(Tablet tablet)
    {
        var lost = tablet.LoseOne();
        Note(tablet.Name, $"has lost its number {lost}, and says so");
        var said = tablet.Say(Now, "device.gap-declared", tablet.Caller.Source, $$"""{"from":{{lost}},"to":{{lost}}}""");
        Told.Say(said);
        Plan(InSeconds(0, 4), () => Send(tablet));
    }

    // The last thing it said was wrong: it is taken back, or said anew in its place.
    private void TakeBack(Tablet tablet)
    {
        if (Told.Said.Values.LastOrDefault(said => said.Id.Source == tablet.Caller.Source && Label.TryRead(said.Subject, out _)) is { } wrong)
        {
            var of = $$"""{"source":"{{wrong.Id.Source}}","id":"{{wrong.Id.Id}}"}""";
            if (chance.Next(2) == 0)
            {
                Say(tablet, Label.Read(wrong.Subject), "correction.made", $$"""{"of":{{of}},"reason":"the wrong card","person":"{{tablet.Person}}"}""");
            }
            else
            {
                Say(tablet, Label.Read(wrong.Subject), wrong.Type, With(wrong.Data, "insteadOf", of));
            }
        }
    }

    // The old one is found again now and then and says what it still had to say.
    private void Replace(Tablet tablet)
    {
        var bench = tablet.Name.Split('/');
        var pairing = int.Parse(bench[1], System.Globalization.CultureInfo.InvariantCulture) + 1;
        tablets.Remove(tablet);
        if (chance.Next(2) == 0)
        {
            tablet.Waiting.Clear();
        }

        var next = NewTablet(bench[0], pairing, tablet.Person);
        tablets.Add(next);
        Note(next.Name, $"replaces {tablet.Name}, with which {tablet.Waiting.Count} events are still to be found");
        Plan(WhenOpen(After(3, 60)), () => Work(next));
        retired.Add(tablet);
        Plan(After(60, 900), () => Send(tablet));
    }

    // ---- the process ----

    private Task SomethingHappensToTheProcess()
    {
        Plan(After(200, 1500), SomethingHappensToTheProcess);
        var death = chance.Next(2) == 0 ? Death.BeforeCommit : Death.AfterCommit;
        Note("the process", $"is to die {(death == Death.BeforeCommit ? "before its next commit" : "after its next commit")}");
        house.LetDie(death);
        return Task.CompletedTask;
    }

    private async Task StartAgain()
    {
        house = await house.Succeed();
        Deaths++;
        Note("the process", "starts again");
        Check(isTheEnd: false);

        // As at every start: what fell due or waited meanwhile is looked at.
        Plan(InSeconds(0, 2), () => house.Sweep());
        Plan(InSeconds(0, 2), Release);
    }

    // ---- the end ----

    /// <summary>All lines are good again, everybody says what is left, everything waits as long as it has to, and is swept once more.</summary>
    private async Task BringHome()
    {
        Note("the world", "comes to its end");
        plan.Clear();
        house.LetLive();
        foreach (var tablet in tablets.Concat(retired))
        {
            foreach (var said in tablet.Waiting.ToArray())
            {
                Told.Hear(said.Id, (await house.Post(tablet.Caller, [said.Text], batch: false, tablet.SentAt(Now)))[0]);
            }
        }

        clock.AdvanceMinutes(1);
        await house.Release();
        foreach (var said in Told.Waiting.Where(id => !Told.Verdicts.ContainsKey(id)).Select(id => Told.Said[id]).ToArray())
        {
            var tablet = tablets.Concat(retired).Single(one => one.Caller.Source == said.Id.Source);
            Told.Hear(said.Id, (await house.Post(tablet.Caller, [said.Text], batch: false, tablet.SentAt(Now)))[0]);
        }

        await house.Sweep();
    }

    private void Check(bool isTheEnd)
    {
        using var evidence = Evidence(isTheEnd);

        // What was found once is there until the end.
        foreach (var fault in Checkers.Checkers.FaultsIn(evidence).Where(known.Add))
        {
            Faults.Add($"{Now.InZone(Zone).LocalDateTime:ddd HH:mm:ss}: {fault}");
        }
    }
}
