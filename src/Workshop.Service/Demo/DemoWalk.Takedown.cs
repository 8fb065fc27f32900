using System.Text.Json.Nodes;
using NodaTime;

namespace Workshop.Service.Demo;

/// <summary>The walk while the movement comes apart: every step in order, one that was forgotten, and the list that is read at the rebuild.</summary>
internal sealed partial class DemoWalk
{
    private async Task TakeApart()
    {
        await TakeOut(1, "dial-side", "hands", "The hands come off, a foil under the lifters.");
        await TakeOut(2, "automatic", "automatic-bridge", "The winding works are eased and come off whole.");
        var early = await teller.Event(Bench, "takedown.step", job, Data(DemoTown.FirstWatchmaker, Out(3, "escapement", "pallets", "The pallets.")), status: 409);
        teller.Expect(early.Text("code") == "takedown-order", "No pallets while the mainspring pulls: the let-down comes first.");
        await Told("takedown.let-down", new JsonObject { ["step"] = 3, ["text"] = "Let down by the click, six teeth." });
        await teller.Wait(Duration.FromMinutes(30));
        await TakeOut(4, "escapement", "pallets", "The pallets, flat into the finest cage.");
        await TakeOut(3.5m, "escapement", "balance", "The balance, told late: it came out before the pallets.");
        await teller.Wait(Duration.FromMinutes(30));
        await Told("finding.recorded", new JsonObject { ["system"] = "chronograph", ["part"] = "hammer spring", ["condition"] = "cracked", ["severity"] = "should", ["asReceived"] = true });
        var list = await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/reverse-list", show: ["sections"]);
        var steps = list.At("sections")!.AsArray().SelectMany(section => section!["steps"]!.AsArray()).Select(step => step!["step"]!.GetValue<decimal>());
        teller.Expect(steps.SequenceEqual([4, 3.5m, 3, 2, 1]), "The reverse list is the takedown backwards, the late step in its place.");
    }

    private Task<WalkAnswer> TakeOut(decimal step, string system, string part, string text) => Told("takedown.step", Out(step, system, part, text));

    private static JsonObject Out(decimal step, string system, string part, string text) => new() { ["step"] = step, ["system"] = system, ["part"] = part, ["text"] = text };
}
