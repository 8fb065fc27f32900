using System.Text.Json.Nodes;
using Workshop.Core.Notes;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Trial;

/// <summary>The shipped client at the door of the service itself.</summary>
public sealed class ShippedClientTests
{
    [Theory, BothEngines]
    public async Task What_a_bench_presses_stands_in_the_journal_once_although_answers_are_lost_and_the_power_is_cut(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        const string source = "/devices/bench-2/77";
        await using var bench = new ScriptedBench { Clock = host.Clock.GetCurrentInstant };
        await bench.Pair($"{host.Address}", host.AddKey(Role.Bench, source, "bench-2"), source);

        // Heard by the service, and the device does not know.
        bench.AnswersToLose = 1;
        await bench.Say("stage.started", $"{watch.Label}", JsonNode.Parse("""{"stage":"takedown","person":"mara"}""")!);
        await bench.Say("note.written", $"{watch.Label}", JsonNode.Parse("""{"text":"one screw is missing","audience":"house","person":"mara"}""")!);
        await bench.Wake();
        Assert.Equal(2, (await bench.Look())["queue"]!.AsArray().Count);

        await bench.Restart();
        await bench.Say("stage.finished", $"{watch.Label}", JsonNode.Parse("""{"stage":"takedown","person":"mara"}""")!);
        await bench.Say("stage.finished", $"{watch.Label}", JsonNode.Parse("""{"stage":"regulation","person":"mara"}""")!);
        await bench.Say("stage.finished", $"{watch.Label}", JsonNode.Parse("""{"stage":"teardown","person":"mara"}""")!);
        await bench.Wake();

        var left = await bench.Look();
        Assert.Empty(left["queue"]!.AsArray());
        Assert.Equal(["5"], left["setAside"]!.AsArray().Select(one => one!["sequence"]!.GetValue<string>()));
        Assert.Equal(["ok", "ok", "ok", "ask", "stop"], bench.Shown.Select(shown => shown["signal"]!.GetValue<string>()));
        Assert.Equal(StageState.Done, await watch.State(Stage.Takedown));
        var own = (await watch.Entries()).Where(entry => entry.Id.Source == source).ToArray();
        Assert.Equal([typeof(StageStarted), typeof(NoteWritten), typeof(StageFinished)], own.Select(entry => entry.Event.GetType()));
        Assert.Empty(host.Check().Differences);
    }
}
