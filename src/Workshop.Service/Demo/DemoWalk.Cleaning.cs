using System.Text.Json.Nodes;
using NodaTime;

namespace Workshop.Service.Demo;

/// <content>The cleaning room: what comes apart goes into numbered cages, and the service says what no machine may do to it.</content>
internal sealed partial class DemoWalk
{
    private const string Machine = "machine-1";

    private async Task Clean()
    {
        await teller.Chapter("The cleaning room", "Runa puts the train and the pallets into numbered cages. The pallets are set with shellac, and alcohol dissolves it.");
        await Told("stage.started", new JsonObject { ["stage"] = "cleaning" });
        await teller.Say("The fluids have grown old meanwhile: every jar that the programme goes through is filled afresh.");
        foreach (var jar in new[] { "clean", "rinse-1", "rinse-2" })
        {
            await teller.Event(Bench, "fluid.filled", Machine, Data(DemoTown.FirstWatchmaker, new JsonObject { ["batch"] = $"m1-{jar}-{job.ToLowerInvariant()}", ["jar"] = jar, ["litres"] = 1.2m }));
        }

        var run = Guid.CreateVersion7((await teller.Now()).ToDateTimeOffset()).ToString();
        await Load("train", "cage-11", run, 11);
        var dial = await teller.Event(Bench, "cage.loaded", job, Data(DemoTown.FirstWatchmaker, Cage("never-washed", "cage-12", run, 3)), status: 409);
        teller.Expect(dial.Text("code") == "never-washed", "Dial and hands are washed in no machine, whoever asks.");
        var taken = await teller.Event(Bench, "cage.loaded", job, Data(DemoTown.FirstWatchmaker, Cage("pallets-and-settings", "cage-11", run, 5)), status: 409);
        teller.Expect(taken.Text("code") == "cage-not-free", "A cage holds one group until it is scanned empty.");
        await Load("pallets-and-settings", "cage-12", run, 5);

        var standard = await teller.Event(Bench, "run.started", run, Data(DemoTown.FirstWatchmaker, Programme("standard")), status: 409);
        teller.Expect(standard.Text("code") == "never-in-jar" && standard.Text("jar") == "rinse-3 (alcohol)", "The standard programme ends in alcohol: refused, and the jar is named.");
        await teller.Say($"What would do instead: {standard.Text("instead")}.");
        await teller.Event(Bench, "run.started", run, Data(DemoTown.FirstWatchmaker, Programme("gentle")));
        await teller.Wait(Duration.FromMinutes(20));
        await teller.Event(Bench, "run.finished", run, Data(DemoTown.FirstWatchmaker, []));
        await Told("cage.emptied", new JsonObject { ["cage"] = "cage-11", ["count"] = 11 });
        await Told("cage.emptied", new JsonObject { ["cage"] = "cage-12", ["count"] = 5 });

        var read = await teller.Ask(Bench, HttpMethod.Get, $"/v1/cleaning-runs/{run}", show: ["state", "programme", "machine"]);
        teller.Expect(read.Text("state") == "finished" && Items(read, "cages").All(cage => cage["emptiedAt"] is not null), "The run is finished, and every cage was scanned empty.");
        var history = await History();
        teller.Expect(history.Count(type => type == "group.washed") == 2, "What became of the run stands in the job: two groups are washed.");
        await teller.Wait(Duration.FromMinutes(15));
        await CleanTheRestByHand();
        await Told("stage.finished", new JsonObject { ["stage"] = "cleaning" });
    }

    private Task<WalkAnswer> Declare(string group, int count, params string[] flags) => Told("group.declared", new JsonObject
    {
        ["group"] = group,
        ["count"] = count,
        ["flags"] = new JsonArray([.. flags.Select(flag => JsonValue.Create(flag))]),
    });

    private Task<WalkAnswer> Load(string group, string cage, string run, int count) => Told("cage.loaded", Cage(group, cage, run, count));

    private static JsonObject Cage(string group, string cage, string run, int count) => new() { ["cage"] = cage, ["group"] = group, ["run"] = run, ["count"] = count };

    private static JsonObject Programme(string programme) => new() { ["machine"] = Machine, ["programme"] = programme };
}
