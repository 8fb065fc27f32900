using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Demo;

/// <summary>
/// Plays one automatic chronograph's whole life through a running demo, over HTTP as any bench and desk would, and tells each step. Every
/// step says what has to come of it; the first that goes otherwise ends the walk.
/// </summary>
internal sealed partial class DemoWalk
{
    private const string Bench = "bench";
    private const string Desk = "desk";
    private const string Manager = "manager";

    private const string CaseSerial = "DEMO-W 2063-08";
    private const string MovementNumber = "DEMO 300 417";

    private readonly WalkTeller teller;
    private string job = "";
    private LocalDate handedOverOn;

    private DemoWalk(WalkTeller teller) => this.teller = teller;

    /// <returns>The exit code: 0 only when every step went as told.</returns>
    public static async Task<int> Play(DemoAddress demo, TextWriter tell, CancellationToken cancel)
    {
        using var client = new HttpClient();
        try
        {
            await new DemoWalk(new WalkTeller(demo, client, tell, cancel)).Play();
        }
        catch (Exception failure) when (failure is WalkFailedException or HttpRequestException)
        {
            await Console.Error.WriteLineAsync($"The walk ended early: {failure.Message}".AsMemory(), cancel);
            return Commands.WorkshopCommand.NotWell;
        }

        await tell.WriteLineAsync("\nEverything went as told.".AsMemory(), cancel);
        return Commands.WorkshopCommand.Well;
    }

    private async Task Play()
    {
        await teller.Say("One chronograph's life at the DEMO workshop, as bench and desk live it. → is what is asked, ← what is answered.");
        await teller.WaitForMorning();
        await TakeIn();
        await Diagnose();
        await Quote();
        await OrderThePart();
        await TakeDown();
        await LockUp();
        await Rebuild();
        await RegulateAndDoTheCase();
        await PutTogether();
        await WearAndFail();
        await RegulateAgain();
        await WearAndPass();
        await Control();
        await HandOver();
        await ToldByTheCustomer();
        await Claim();
    }

    private async Task TakeIn()
    {
        await teller.Chapter("Over the counter", "Greta brings a chronograph. Timo writes down who she is, which watch it is and what she wishes.");
        var taken = await teller.Ask(Desk, HttpMethod.Post, "/v1/jobs", new JsonObject
        {
            ["customer"] = new JsonObject { ["name"] = "Greta Corvalen (DEMO)", ["telephone"] = "+44 1632 960417", ["language"] = "en", ["consents"] = new JsonArray(new JsonObject { ["kind"] = "messages", ["channels"] = new JsonArray("telephone") }) },
            ["watch"] = new JsonObject
            {
                ["maker"] = "Tirvalle (DEMO)",
                ["model"] = "Regatta Counter",
                ["caseSerial"] = CaseSerial,
                ["movementNumber"] = MovementNumber,
                ["words"] = "steel chronograph, runs slow, the reset sticks",
                ["madeInYear"] = 2011,
                ["luminousPaint"] = true,
                ["calibre"] = new JsonObject { ["name"] = "tirvalle-47c", ["kind"] = "chronograph", ["vibrationsPerHour"] = 28_800, ["liftAngleDegrees"] = 49 },
            },
            ["variant"] = "full-chronograph",
            ["accessories"] = new JsonArray(new JsonObject { ["kind"] = "bracelet" }),
            ["declaredValueMinor"] = 240_000,
            ["currency"] = "CHF",
            ["wishes"] = new JsonObject { ["polish"] = "no", ["oldPartsBack"] = true },
            ["condition"] = "usual marks, crown screws home",
            ["conditionGrid"] = new JsonArray(new JsonObject { ["place"] = "lugs", ["condition"] = "light" }, new JsonObject { ["place"] = "dial", ["condition"] = "none-seen" }),
            ["arrival"] = new JsonObject { ["running"] = "running", ["photosTaken"] = 7 },
            ["terms"] = new JsonObject { ["acceptedOn"] = Iso((await teller.Now()).Date) },
            ["person"] = DemoTown.Desk,
        }, status: 201, "label", "stage", "missing");
        job = taken.Text("label")!;
        await teller.Ask(Desk, HttpMethod.Patch, $"/v1/jobs/{job}/intake", new JsonObject { ["labelScannedBack"] = job }, status: 200, "version");
        var read = await teller.Ask(Desk, HttpMethod.Get, $"/v1/jobs/{job}", show: "missing");
        teller.Expect(read.At("missing") is JsonArray { Count: 0 }, "Everything was said at the counter, and still something is missing.");
        await StageIs("diagnosis");
    }

    private async Task Diagnose()
    {
        await teller.Wait(Duration.FromHours(1));
        await teller.Chapter("Diagnosis", "Runa winds it fully, measures it as it came, and looks inside.");
        await Told("stage.started", new JsonObject { ["stage"] = "diagnosis" });
        await ListenToIt(ratePerDay: -14, amplitude: 231);
        var set = await Told("rate-set.recorded", RateSet(dialUp: -14, dialDown: -12, crownDown: -25, crownLeft: -18, amplitude: 231));
        teller.Expect(set.At("rateSet.meanPerDaySeconds")?.GetValue<decimal>() == -17.3m, "Four rates of -14, -12, -25 and -18 s/d have the mean -17.25, said as -17.3.");
        await Told("note.written", new JsonObject { ["text"] = "Oil dried up, hammer spring tired; nothing broken.", ["audience"] = "house" });
        await Told("stage.finished", new JsonObject { ["stage"] = "diagnosis" });
        await StageIs("quote");
    }

    private async Task Quote()
    {
        await teller.Chapter("The quote, and the answer", "Timo sends the quote; nothing may be taken apart before Greta has answered.");
        var quote = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/quotes", new JsonObject
        {
            ["lines"] = new JsonArray(
                new JsonObject { ["text"] = "Complete service of a chronograph", ["amountMinor"] = 94_000, ["taxMinor"] = 7_044 },
                new JsonObject { ["text"] = "Hammer spring", ["amountMinor"] = 4_600, ["taxMinor"] = 345 }),
            ["currency"] = "CHF",
            ["person"] = DemoTown.Desk,
        }, status: 201, "version", "totalMinor", "currency", "validThrough");
        teller.Expect(quote.At("totalMinor")?.GetValue<long>() == 98_600, "The two lines come to 986.00.");
        var early = await teller.Event(Bench, "stage.started", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["stage"] = "takedown" }), status: 409);
        teller.Expect(early.Text("gate") == "needs/quote", "Taking it down before the answer is asked for by the gate needs/quote.");
        await teller.WaitForMorning();
        var answer = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/quotes/1/answer", new JsonObject
        {
            ["accepted"] = true,
            ["channel"] = "telephone",
            ["witness"] = DemoTown.Desk,
        }, show: ["accepted", "promise.on", "promise.workingDays"]);
        var promised = LocalDatePattern.Iso.Parse(answer.Text("promise.on") ?? "");
        teller.Expect(promised.Success && answer.At("promise.workingDays")?.GetValue<int>() == 35, "A chronograph is promised for the 35th open day.");
        await teller.Say($"Promised for {answer.Text("promise.on")}; the shop's own target, which nobody is told, is {answer.Text("promise.target")}.");
        await StageIs("queue");
    }

    private async Task TakeDown()
    {
        await teller.WaitForMorning();
        await teller.Chapter("Takedown, cleaning, inspection", "Runa takes the whole watch to her bench and takes it down; Pell gets the case.");
        await Told("piece.taken", []);
        await ComeApart();
        await Told("piece.given", new JsonObject { ["kind"] = "case", ["to"] = $"people/{DemoTown.Polisher}" });
        await ToldBy(DemoTown.Polisher, "piece.taken", new JsonObject { ["kind"] = "case" });
        await Clean();
        await InspectAndCount();
        await StageIs("rebuild");
    }

    private async Task Rebuild()
    {
        await teller.WaitForMorning();
        await teller.Chapter("Rebuild", "From the reverse list, with new oil and a new hammer spring. Who rebuilds it will not control it.");
        await Told("part.fitted", new JsonObject { ["part"] = Spring, ["replaces"] = "hammer spring" });
        var part = await teller.Ask(Desk, HttpMethod.Get, $"/v1/parts/{Spring}", show: ["onShelf", "reserved", "free"]);
        teller.Expect(part.At("onShelf")?.GetValue<int>() == 0, "What is in the watch is off the shelf.");
        await Told("count.recorded", new JsonObject { ["group"] = "train", ["at"] = "rebuild", ["count"] = 11 });
        await Stage("rebuild", Duration.FromMinutes(270));
        await StageIs("regulation");
    }

    private async Task RegulateAndDoTheCase()
    {
        await teller.WaitForMorning();
        await teller.Chapter("Regulation, and the case meanwhile", "Without a rate set the regulation is not done: the service asks for one.");
        await Told("stage.started", new JsonObject { ["stage"] = "regulation" });
        var asked = await teller.Event(Bench, "stage.finished", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["stage"] = "regulation" }), status: 409);
        teller.Expect(asked.Text("gate") == "rate-set-since-touch", "Finishing the regulation without a rate set is asked about by the gate rate-set-since-touch.");
        await Told("rate-set.recorded", RateSet(dialUp: 6, dialDown: 7, crownDown: 1, crownLeft: 4, amplitude: 288));
        await MeasureTheRest();
        await Told("stage.finished", new JsonObject { ["stage"] = "regulation" });
        await teller.Say("Pell has the case on his own bench; case and movement go side by side.");
        await Stage("case-strip", Duration.FromMinutes(15), DemoTown.Polisher);
        await Stage("case-work", Duration.FromMinutes(60), DemoTown.Polisher);
        await Stage("gaskets", Duration.FromMinutes(15), DemoTown.Polisher);
        await ToldBy(DemoTown.Polisher, "piece.given", new JsonObject { ["kind"] = "case", ["to"] = $"people/{DemoTown.FirstWatchmaker}" });
        await Told("piece.taken", new JsonObject { ["kind"] = "case" });
        await StageIs("dial-and-hands");
    }

    private async Task PutTogether()
    {
        await teller.WaitForMorning(withTomorrow: true);
        await teller.Chapter("Dial and hands, casing, water test", "Together again. At casing three numbers are read: the label, the case and the movement.");
        await Stage("dial-and-hands", Duration.FromMinutes(65));
        await Close();
        var early = await teller.Event(
            Bench, "wear-check.started", job, Data(DemoTown.SecondEyes, new JsonObject { ["kind"] = "worn", ["offsetSeconds"] = 0, ["place"] = "winder" }), status: 409);
        teller.Expect(Against(early).Contains("fully-wound"), "A worn check does not start on a watch nobody has said to be fully wound.");
        await WaterTest();
        await StageIs("wear-check");
    }

    private static string Iso(LocalDate day) => LocalDatePattern.Iso.Format(day);
}
