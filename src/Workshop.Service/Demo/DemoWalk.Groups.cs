using System.Text.Json.Nodes;
using NodaTime;

namespace Workshop.Service.Demo;

/// <summary>The walk between takedown and rebuild: groups of parts, how each is cleaned, and every count of them.</summary>
internal sealed partial class DemoWalk
{
    private static readonly (string Group, int Count, string[] Flags)[] Apart =
    [
        ("balance-on-plate", 2, ["hairspring", "shellac"]), ("bridges", 5, []), ("chronograph", 21, []), ("automatic", 8, ["reverser"]), ("keyless", 7, []), ("pallets-and-settings", 5, ["shellac"]),
    ];

    private async Task ComeApart()
    {
        await Told("stage.started", new JsonObject { ["stage"] = "takedown" });
        await TakeApart();
        await Declare("train", 11, "wheels", "barrel");
        var early = await teller.Event(Bench, "stage.finished", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["stage"] = "takedown" }), status: 409);
        teller.Expect(Against(early).Contains("groups-declared"), "A takedown does not end while groups of the movement are not declared.");
        foreach (var (group, count, flags) in Apart)
        {
            await Declare(group, count, flags);
        }

        await Told("group.not-washed", new JsonObject { ["group"] = "calendar", ["reason"] = "not-fitted" });
        await teller.Wait(Duration.FromMinutes(30));
        await Told("stage.finished", new JsonObject { ["stage"] = "takedown" });
    }

    private async Task CleanTheRestByHand()
    {
        var early = await teller.Event(Bench, "stage.finished", job, Data(DemoTown.FirstWatchmaker, new JsonObject { ["stage"] = "cleaning" }), status: 409);
        teller.Expect(early.Text("gate") == "groups-ended", "Cleaning does not end while groups are in none of the four ends.");
        await teller.Say($"Still open: {early.Text("missing")}. Runa does these by hand, and signs for each.");
        foreach (var (group, _, _) in Apart.Where(one => one.Group != "pallets-and-settings"))
        {
            await Told("group.hand-cleaned", new JsonObject { ["group"] = group });
        }
    }

    private async Task InspectAndCount()
    {
        await teller.Wait(Duration.FromMinutes(65));
        await Told("count.recorded", new JsonObject { ["group"] = "train", ["at"] = "inspection", ["count"] = 11 });
        await Told("group.replaced", new JsonObject { ["group"] = "chronograph", ["part"] = "hammer spring" });
        await Told("part.fitted", new JsonObject { ["group"] = "chronograph", ["part"] = "hammer spring, new", ["replaces"] = "hammer spring" });
        await Told("stage.finished", new JsonObject { ["stage"] = "inspection" });
        var ledger = await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/groups", show: ["open", "words"]);
        teller.Expect(ledger.At("open") is JsonArray { Count: 0 }, "Every group has ended in one of the four ways.");
        var chronograph = ledger.At("groups")!.AsArray().Single(group => group!["group"]!.GetValue<string>() == "chronograph")!;
        teller.Expect(chronograph["owed"]?.GetValue<int>() == 21, "A spring out and a spring in leave the chronograph with the parts it was declared with.");
    }
}
