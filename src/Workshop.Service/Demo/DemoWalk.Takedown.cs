using System.Security.Cryptography;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Service.Prints;

namespace Workshop.Service.Demo;

/// <summary>The walk while the movement comes apart: every step in order, one that was forgotten, and the list that is read at the rebuild.</summary>
internal sealed partial class DemoWalk
{
    private async Task TakeApart()
    {
        var picture = Print.Png(48, 32, 12, drawing => drawing.Text("DEMO: hands off", 3, 18, 5, bold: true));
        var photo = Convert.ToHexStringLower(SHA256.HashData(picture));
        var first = Out(1, "dial-side", "hands", "The hands come off, a foil under the lifters.");
        first["photos"] = new JsonArray(photo);
        await Told("takedown.step", first);
        await TakeOut(2, "automatic", "automatic-bridge", "The winding works are eased and come off whole.");
        var early = await teller.Event(Bench, "takedown.step", job, Data(DemoTown.FirstWatchmaker, Out(3, "escapement", "pallets", "The pallets.")), status: 409);
        teller.Expect(early.Text("code") == "takedown-order", "No pallets while the mainspring pulls: the let-down comes first.");
        await Told("takedown.let-down", new JsonObject { ["step"] = 3, ["text"] = "Let down by the click, six teeth." });
        await teller.Wait(Duration.FromMinutes(30));
        await TakeOut(4, "escapement", "pallets", "The pallets, flat into the finest cage.");
        await TakeOut(3.5m, "escapement", "balance", "The balance, told late: it came out before the pallets.");
        await teller.Wait(Duration.FromMinutes(30));
        await Told("finding.recorded", new JsonObject { ["system"] = "chronograph", ["part"] = "hammer spring", ["condition"] = "cracked", ["severity"] = "should", ["asReceived"] = true });
        var waits = await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/reverse-list", show: ["awaited"]);
        teller.Expect(waits.At("awaited")?.GetValue<int>() == 1, "The photo of the first step is still in the tablet.");
        await teller.File(Bench, $"/v1/jobs/{job}/photos/{photo}", picture, Print.PngType);
        var list = await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/reverse-list", show: ["awaited", "takenDownBy"]);
        teller.Expect(list.At("awaited")?.GetValue<int>() == 0, "It has come, and stands at its step.");
        var steps = list.At("sections")!.AsArray().SelectMany(section => section!["steps"]!.AsArray()).Select(step => step!["step"]!.GetValue<decimal>());
        teller.Expect(steps.SequenceEqual([4, 3.5m, 3, 2, 1]), "The reverse list is the takedown backwards, the late step in its place.");
    }

    private Task<WalkAnswer> TakeOut(decimal step, string system, string part, string text) => Told("takedown.step", Out(step, system, part, text));

    private static JsonObject Out(decimal step, string system, string part, string text) => new() { ["step"] = step, ["system"] = system, ["part"] = part, ["text"] = text };
}
