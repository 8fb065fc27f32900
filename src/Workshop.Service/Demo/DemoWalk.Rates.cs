using System.Text.Json.Nodes;

namespace Workshop.Service.Demo;

/// <summary>What the service makes of rates.</summary>
internal sealed partial class DemoWalk
{
    /// <summary>Four of six positions are no verdict; all six are one, in plain words.</summary>
    private async Task MeasureTheRest()
    {
        var four = await Verdict();
        teller.Expect(four["outcome"]?.GetValue<string>() == "incomplete", "Four of six positions cannot pass, however good they look.");
        await teller.Say("Runa measures the other two as well, and tells all six by the marks that are uppermost.");
        var six = RateSet(dialUp: 6, dialDown: 7, crownDown: 1, crownLeft: 4, amplitude: 288);
        six["readings"] = new JsonArray(
            Reading("CH", 6, 288), Reading("FH", 7, 286), Reading("3H", 8, 262), Reading("6H", 4, 258), Reading("9H", 1, 260), Reading("12H", 3, 256));
        await Told("rate-set.recorded", six);
        var verdict = await Verdict();
        teller.Expect(verdict["outcome"]?.GetValue<string>() == "passes", "Mean +4.8 and spread 7 over six positions pass a modern chronograph.");
        foreach (var words in verdict["words"]!.AsArray())
        {
            await teller.Say(words!.GetValue<string>());
        }
    }

    private async Task<JsonObject> Verdict() =>
        Items(await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/rate-sets"), "items").Last()["verdict"]!.AsObject();
}
