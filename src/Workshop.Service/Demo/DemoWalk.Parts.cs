using System.Text.Json.Nodes;
using NodaTime;

namespace Workshop.Service.Demo;

/// <summary>The hammer spring that is ordered, and the safe at the end of the day.</summary>
internal sealed partial class DemoWalk
{
    // A part of its own for each walk, so that a demo can be walked through twice.
    private string Spring => $"hammer-spring-{job.ToLowerInvariant()}";

    private string Order => $"po-{job.ToLowerInvariant()}";

    private async Task OrderThePart()
    {
        await teller.Chapter("A part is ordered", "The hammer spring is not in the house. It is marked as essential: the watch stays shut until it is here.");
        await teller.Ask(Desk, HttpMethod.Put, $"/v1/parts/{Spring}", new JsonObject { ["name"] = "Hammer spring", ["essential"] = true }, status: 201, "onShelf", "free");
        var today = (await teller.Now()).Date;
        await teller.Ask(Desk, HttpMethod.Put, $"/v1/part-orders/{Order}", OrderOf(today, today.PlusDays(3)), status: 201, "version");
        var asked = await teller.Event(Bench, "stage.started", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["stage"] = "takedown" }), status: 409);
        teller.Expect(Against(asked).Contains("essential-parts"), "Taking it down without the spring is asked about by the gate essential-parts.");

        await teller.Say("The supplier writes that it takes until next month: the forecast moves, the promise stays.");
        var before = await teller.Ask(Desk, HttpMethod.Get, $"/v1/jobs/{job}", show: ["promise.on", "promise.forecast"]);
        await teller.Change(Desk, $"/v1/part-orders/{Order}", OrderOf(today, today.PlusDays(60)), "version");
        var after = await teller.Ask(Desk, HttpMethod.Get, $"/v1/jobs/{job}", show: ["promise.on", "promise.forecast", "promise.atRisk.why"]);
        teller.Expect(after.Text("promise.on") == before.Text("promise.on"), "A part that is late moves no promise by itself.");
        teller.Expect(string.CompareOrdinal(after.Text("promise.forecast"), before.Text("promise.forecast")) > 0, "A part that is late moves the forecast.");
        teller.Expect(after.Text("promise.atRisk.why") == "part", "What puts the promise at risk is the part.");

        await teller.WaitForMorning();
        await teller.Say("And then it lies in the letter box all the same: first a wrong one, then the right one, which is held against the old.");
        await Told("part.received", new JsonObject { ["part"] = Spring, ["order"] = Order, ["fits"] = false });
        await Told("part.received", new JsonObject { ["part"] = Spring, ["order"] = Order });
        await Told("part.checked", new JsonObject { ["part"] = Spring, ["fits"] = true });
    }

    private async Task LockUp()
    {
        await teller.Chapter("Before the shop is locked", "The bracelet goes into the safe; then the safe is counted, and held against what is said to lie there.");
        await Told("piece.put", new JsonObject { ["kind"] = "bracelet", ["to"] = "places/safe" });
        var list = await teller.Ask(Bench, HttpMethod.Get, "/v1/evening-list", show: ["day", "dueAt"]);
        teller.Expect(list.At("values") is null, "The bench reads where everything is, and no value.");
        var safe = Pieces(list).Where(one => one.IsSafe).Select(one => one.Piece).ToArray();
        teller.Expect(safe.Contains($"{job}/bracelet"), "The bracelet is in the safe.");
        var forgotten = await teller.Event(
            Bench, "safe.counted", null, Data(DemoTown.FirstWatchmaker, new JsonObject { ["pieces"] = new JsonArray([.. safe.Where(one => one != $"{job}/bracelet").Select(one => (JsonNode)one)]) }));
        teller.Expect(forgotten.Text("say.signal") == "stop" && forgotten.Text("say.more") == $"{job}/bracelet", "What was not counted is named, before anybody locks.");
        var whole = await teller.Event(Bench, "safe.counted", null, Data(DemoTown.FirstWatchmaker, new JsonObject { ["pieces"] = new JsonArray([.. safe.Select(one => (JsonNode)one)]) }));
        teller.Expect(whole.Text("say.signal") == "ok", "It was found, and nothing is missing.");
        var desk = await teller.Ask(Desk, HttpMethod.Get, "/v1/evening-list", show: ["safe.counted", "values.warnings"]);
        teller.Expect(desk.At("values.sums") is JsonArray { Count: > 0 }, "The desk reads what all of it was declared to be worth, against the policy.");
    }

    private JsonObject OrderOf(LocalDate today, LocalDate expectedOn) => new()
    {
        ["orderedOn"] = Iso(today),
        ["lines"] = new JsonArray(new JsonObject { ["part"] = Spring, ["count"] = 1, ["job"] = job, ["expectedOn"] = Iso(expectedOn) }),
    };

    private static IEnumerable<(bool IsSafe, string Piece)> Pieces(WalkAnswer list) =>
        from place in list.At("places")!.AsArray()
        from piece in place!["pieces"]!.AsArray()
        select (place["isSafe"]!.GetValue<bool>(), $"{piece!["job"]}/{piece["piece"]}");
}
