using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Service.Features.Recordings;

namespace Workshop.Service.Demo;

/// <summary>What the service makes of rates.</summary>
internal sealed partial class DemoWalk
{
    /// <summary>Dial up on the microphone: each figure with its interval, and what it rests on as a drawing.</summary>
    private async Task ListenToIt(double ratePerDay, double amplitude)
    {
        await teller.Say("Dial up on the microphone: ten seconds are sent as they are, and the service listens.");
        var sound = DemoSound.Of(vibrationsPerHour: 28_800, liftAngleDegrees: 49, ratePerDay, amplitude, beatError: 0.4);
        var recording = $"/v1/jobs/{job}/recordings/{Convert.ToHexStringLower(SHA256.HashData(sound))}";
        var heard = await teller.File(Bench, $"{recording}?position=dial-up&windState=full", sound, ReadRecordings.Wav, "reading.class", "reading.vibrationsPerHour");
        foreach (var (figure, unit, set) in new[] { ("rate", "PerDaySeconds", ratePerDay), ("amplitude", "Degrees", amplitude), ("beatError", "Milliseconds", 0.4) })
        {
            double? End(string name) => heard.At($"reading.{figure}{unit}.{name}")?.GetValue<double>();
            teller.Expect(End("low") <= set && set <= End("high"), $"The {figure} is {set}, and was heard between {End("low")} and {End("high")}.");
            await teller.Say(string.Create(
                CultureInfo.InvariantCulture, $"{figure}{unit} {End("value")}, with 95 % between {End("low")} and {End("high")}: {heard.Text($"reading.{figure}{unit}.confidence")}"));
        }

        await teller.Say(heard.Text("clock.words")!);
        await teller.Drawing(Bench, $"{recording}.svg");
    }

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

        await teller.Drawing(Bench, $"/v1/jobs/{job}/rate-sets/ladder.svg?width=720");
    }

    /// <summary>A customer rarely says fast or slow: it is asked, not guessed.</summary>
    private async Task ToldByTheCustomer()
    {
        await teller.Wait(Duration.FromDays(8));
        await teller.WaitForMorning();
        await teller.Chapter("A week on the wrist", "The customer telephones: it goes out by twenty seconds a week. Fast or slow was not said, so nothing is computed.");
        var told = new JsonObject { ["amount"] = 20, ["unit"] = "seconds", ["overDays"] = 7, ["channel"] = "telephone", ["person"] = DemoTown.Desk };
        var first = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/wear-reports", told, status: 201, "verdict");
        teller.Expect(first.Text("verdict") == "asked-back", "What was not said is asked back.");
        teller.Expect(await AgendaLine("wear-report") is not null, "The question stands on the agenda.");
        told["direction"] = "gains";
        var second = await teller.Ask(Desk, HttpMethod.Post, $"/v1/jobs/{job}/wear-reports", told.DeepClone(), status: 201, "ratePerDaySeconds", "plusMinusSeconds", "verdict");
        teller.Expect(second.Text("verdict") == "within", "It gains, and stays within the limits it left the house by.");
        foreach (var words in second.At("words")!.AsArray())
        {
            await teller.Say(words!.GetValue<string>());
        }
    }

    private async Task<JsonObject> Verdict() =>
        Items(await teller.Ask(Bench, HttpMethod.Get, $"/v1/jobs/{job}/rate-sets"), "items").Last()["verdict"]!.AsObject();
}
