using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Demo;

/// <summary>The second half of the walk: from the wrist to the end of the warranty.</summary>
internal sealed partial class DemoWalk
{
    private static readonly string[] Checks =
    [
        "looks", "no-fibres", "hands-aligned", "crown", "date", "bracelet-and-bars", "time-set", "accessories-and-old-parts", "report-and-measurements", "water-statement",
        "chronograph", "reset-to-zero",
    ];

    private async Task WearAndFail()
    {
        await teller.Wait(Duration.FromHours(2));
        await teller.Chapter("A day on the winder", "Fully wound, set to the second, offset noted. Due after 24 hours of wear, whatever the clocks do.");
        var started = await StartWearing();
        var due = InstantPattern.ExtendedIso.Parse(started.Text("due")!).Value;
        await teller.Wait(Duration.FromHours(4));
        var interim = await ReadWorn(offsetSeconds: 3);
        teller.Expect(interim.Text("reading.verdict") == "interim", "After four hours a reading is interim.");
        await teller.Wait(due - (await teller.Now()).ToInstant() + Duration.FromMinutes(5));
        var line = await AgendaLine("wear-check");
        teller.Expect(line is not null, "The worn check that is due stands on the agenda.");
        await teller.Say($"The agenda says: {line}. That it is due was announced while the clock went on:");
        teller.Expect((await History()).Contains("due.announced"), "That the worn check is due stands in the job's history.");
        var read = await ReadWorn(offsetSeconds: 18);
        teller.Expect(read.Text("reading.verdict") == "outside", "Eighteen seconds a day are outside -4 to +12.");
        await teller.Drawing(Bench, $"/v1/jobs/{job}/wear-checks/readings.svg?width=720");
        await StageIs("wear-check");
    }

    private async Task RegulateAgain()
    {
        await teller.Chapter("Once more", "Too fast. Runa opens it, moves the index, and measures again; what stood on the closed case is void.");
        await Told("stage.sent-back", new JsonObject { ["stage"] = "wear-check", ["to"] = "regulation", ["reason"] = "gained 18 s a day on the winder" });
        await Told("case.opened", new JsonObject { ["reason"] = "to regulate" });
        await StageIs("regulation");
        await Told("index.touched", []);
        await Told("stage.started", new JsonObject { ["stage"] = "regulation" });
        await teller.Wait(Duration.FromMinutes(30));
        await Told("rate-set.recorded", RateSet(dialUp: 3, dialDown: 4, crownDown: -2, crownLeft: 1, amplitude: 290));
        await Told("stage.finished", new JsonObject { ["stage"] = "regulation" });
        await Close();
        await WaterTest();
        await StageIs("wear-check");
    }

    private async Task WearAndPass()
    {
        await teller.WaitForMorning(withTomorrow: true);
        await teller.Chapter("A full new day", "After a fail the whole 24 hours are owed again; 23 are not enough.");
        await StartWearing();
        await teller.Wait(Duration.FromHours(23));
        var early = await ReadWorn(offsetSeconds: 4);
        teller.Expect(early.Text("reading.verdict") == "interim", "After a fail a reading before 24 hours is interim.");
        await teller.Wait(Duration.FromHours(1) + Duration.FromMinutes(5));
        var read = await ReadWorn(offsetSeconds: 4);
        teller.Expect(read.Text("reading.verdict") == "pass", "Four seconds a day pass.");
        await StageIs("reserve-and-functions");
        await Stage("reserve-and-functions", Duration.FromMinutes(15), DemoTown.SecondEyes);
        await StageIs("final-control");
    }

    private async Task Control()
    {
        await teller.WaitForMorning();
        await teller.Chapter("Final control", "Runa would sign for herself; the service wants a second pair of eyes.");
        var checks = new JsonArray([.. Checks.Select(check => (JsonNode)new JsonObject { ["check"] = check, ["result"] = "ok" })]);
        var refused = await teller.Event(Bench, "final-control.passed", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["checks"] = checks.DeepClone() }), status: 409);
        teller.Expect(refused.Text("gate") == "second-person", "Whoever rebuilt it is stopped by the gate second-person.");
        await ToldBy(DemoTown.SecondEyes, "final-control.passed", new JsonObject { ["checks"] = checks });
        await StageIs("settlement");
    }

    private async Task HandOver()
    {
        await teller.WaitForMorning();
        await teller.Chapter("Paid, and given back", "Money is kept elsewhere here, so the desk ticks it as settled; before that the watch stays.");
        var collected = new JsonObject { ["how"] = "collected", ["identitySeen"] = true, ["to"] = "customer" };
        var held = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/hand-over", collected, status: 409);
        teller.Expect(held.Text("gate") == "needs/settlement", "Without settlement the hand-over is stopped by the gate needs/settlement.");
        await teller.Event(Desk, "stage.finished", job, new JsonObject { ["stage"] = "settlement", ["person"] = DemoTown.Desk });
        var over = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/hand-over", collected, show: ["on", "pieces"]);
        handedOverOn = Day(over.Text("on"));
        teller.Expect(handedOverOn == (await teller.Now()).Date, "It was handed over today.");
        await WarrantyIs(("movement", handedOverOn.PlusMonths(24)), ("water-resistance", handedOverOn.PlusMonths(12)));
    }

    private async Task Claim()
    {
        await teller.Wait(Duration.FromDays(52));
        await teller.WaitForMorning();
        await teller.Chapter("A claim, two months later", "The reset sticks again. It is covered: Edda decides, and the days in the house come on top.");
        var received = (await teller.Now()).Date;
        var claim = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/claims", new JsonObject
        {
            ["reportedOn"] = Iso(received),
            ["receivedOn"] = Iso(received),
            ["text"] = "The reset sticks, one time in five.",
            ["person"] = DemoTown.Desk,
        }, status: 201, "claim", "reportedOn", "receivedOn");
        teller.Expect(claim.At("claim")?.GetValue<int>() == 1, "It is the first claim of this job.");
        await teller.Ask(Manager, HttpMethod.Post, $"/v1/jobs/{job}/claims/1/decision", new JsonObject
        {
            ["covered"] = true,
            ["lines"] = new JsonArray("movement"),
            ["reason"] = "the new hammer spring had set",
            ["person"] = DemoTown.Manager,
        }, show: ["covered", "lines", "reason"]);
        await teller.Wait(Duration.FromDays(9));
        await teller.WaitForMorning();
        var returned = (await teller.Now()).Date;
        await teller.Ask(Desk, HttpMethod.Put, $"/v1/jobs/{job}/claims/1/stay", new JsonObject { ["receivedOn"] = Iso(received), ["returnedOn"] = Iso(returned) }, show: ["receivedOn", "returnedOn"]);
        var days = Period.DaysBetween(received, returned);
        await teller.Say($"It was here for {days} days: the movement's warranty ends {days} days later, that of the water resistance does not.");
        await WarrantyIs(("movement", handedOverOn.PlusMonths(24).PlusDays(days)), ("water-resistance", handedOverOn.PlusMonths(12)));
    }

    private async Task Close()
    {
        await Told("case.closed", new JsonObject { ["jobLabel"] = job, ["caseSerial"] = CaseSerial, ["movementNumber"] = MovementNumber });
        await StageIs("water-test");
    }

    private async Task WaterTest()
    {
        await teller.Wait(Duration.FromMinutes(30));
        await ToldBy(DemoTown.SecondEyes, "water-test.recorded", new JsonObject
        {
            ["method"] = "dry",
            ["pressureBar"] = 10,
            ["holdSeconds"] = 120,
            ["deformationMicrometres"] = 6,
            ["passed"] = true,
        });
    }

    private Task<WalkAnswer> StartWearing() => ToldBy(DemoTown.SecondEyes, "wear-check.started", new JsonObject
    {
        ["kind"] = "worn",
        ["offsetSeconds"] = 0,
        ["fullyWound"] = true,
        ["place"] = "winder",
        ["winderPlace"] = "winder-2-4",
        ["reference"] = "server",
        ["readBy"] = "eye",
    });

    private Task<WalkAnswer> ReadWorn(decimal offsetSeconds) => ToldBy(DemoTown.SecondEyes, "wear-check.read", new JsonObject
    {
        ["kind"] = "worn",
        ["offsetSeconds"] = offsetSeconds,
        ["place"] = "winder",
        ["reference"] = "server",
        ["readBy"] = "eye",
    });

    private async Task Stage(string stage, Duration work, string person = DemoTown.FirstWatchmaker)
    {
        await ToldBy(person, "stage.started", new JsonObject { ["stage"] = stage });
        await teller.Wait(work);
        await ToldBy(person, "stage.finished", new JsonObject { ["stage"] = stage });
    }

    private Task<WalkAnswer> Told(string type, JsonObject data) => ToldBy(DemoTown.FirstWatchmaker, type, data);

    private Task<WalkAnswer> ToldBy(string person, string type, JsonObject data) => teller.Event(Bench, type, job, Data(person, data));

    private async Task StageIs(string stage)
    {
        var now = await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}", show: ["stage", "version"]);
        teller.Expect(now.Text("stage") == stage, $"The job should stand at {stage}, but stands at {now.Text("stage")}.");
    }

    private async Task WarrantyIs(params (string Line, LocalDate LastDay)[] expected)
    {
        var warranty = await teller.Ask(Desk, HttpMethod.Get, $"/v1/jobs/{job}/warranty", show: ["on", "handedOverOn"]);
        foreach (var (line, lastDay) in expected)
        {
            var found = Items(warranty, "lines").FirstOrDefault(one => one["line"]?.GetValue<string>() == line);
            teller.Expect(found?["lastDay"]?.GetValue<string>() == Iso(lastDay), $"The last day of the line {line} should be {Iso(lastDay)}, but is {found?["lastDay"]}.");
            await teller.Say($"  {line}: {found!["words"]}");
        }
    }

    private async Task<string?> AgendaLine(string kind)
    {
        var agenda = await teller.Ask(Bench, HttpMethod.Get, "/v1/agenda?due=all&limit=500");
        return Items(agenda, "items").FirstOrDefault(one => one["job"]?.GetValue<string>() == job && one["kind"]?.GetValue<string>() == kind)?["line"]?.GetValue<string>();
    }

    /// <summary>The types of everything in the job's history.</summary>
    private async Task<IReadOnlyList<string?>> History() =>
        [.. Items(await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/history?limit=500"), "items").Select(one => one["type"]?.GetValue<string>())];

    private static IEnumerable<JsonObject> Items(WalkAnswer answer, string list) => (answer.At(list) as JsonArray ?? []).OfType<JsonObject>();

    private static IEnumerable<string?> Against(WalkAnswer answer) =>
        Items(answer, "against").Select(one => one["gate"]?.GetValue<string>());

    private static JsonObject Data(string person, JsonObject data)
    {
        data["person"] = person;
        return data;
    }

    private static JsonObject RateSet(decimal dialUp, decimal dialDown, decimal crownDown, decimal crownLeft, decimal amplitude) => new()
    {
        ["windState"] = "full",
        ["hoursSinceFullWind"] = 0.5m,
        ["liftAngleDegrees"] = 49,
        ["vibrationsPerHour"] = 28_800,
        ["readings"] = new JsonArray(
            Reading("dial-up", dialUp, amplitude), Reading("dial-down", dialDown, amplitude - 2),
            Reading("crown-down", crownDown, amplitude - 28), Reading("crown-left", crownLeft, amplitude - 30)),
    };

    private static JsonObject Reading(string position, decimal rate, decimal amplitude) =>
        new() { ["position"] = position, ["ratePerDaySeconds"] = rate, ["amplitudeDegrees"] = amplitude, ["beatErrorMilliseconds"] = 0.2m };

    private static LocalDate Day(string? text) => LocalDatePattern.Iso.Parse(text ?? "").GetValueOrThrow();
}
