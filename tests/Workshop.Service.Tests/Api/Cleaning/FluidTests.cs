using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;
using static Workshop.Service.Tests.Api.Cleaning.CageTests;

namespace Workshop.Service.Tests.Api.Cleaning;

/// <summary>How long a fluid is good: by runs, by days, once more by name, and never a second time. Figures of the shop, common practice.</summary>
public class FluidTests
{
    private const string FewRuns = """{ "cleaning": { "fluidRuns": { "clean": { "warnRuns": 2, "lastRun": 3 } } } }""";

    [Theory, BothEngines]
    public async Task The_last_run_starts_and_the_next_is_refused_and_let_through_once_by_name(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        await house.Host.Change("/v1/rules", FewRuns);
        await house.Fill();
        for (var run = 1; run <= 3; run++)
        {
            CleaningHouse.Accepted(await house.Run());
        }

        var refused = await house.Run();
        Assert.Equal(("fluid-used-up", "fluid-fresh/clean", "ask"), (refused.Code, refused.Gate, refused.Problem.GetProperty("strength").GetString()));
        Assert.Equal(("b1-clean", "clean (ammoniated)", "3", "3"), (Name(refused, "batch"), Name(refused, "jar"), Name(refused, "runs"), Name(refused, "lastRun")));

        var (nobody, somebody) = (CleaningHouse.NewRun(), CleaningHouse.NewRun());
        const string Despite = """, "despite": ["run-loaded", "fluid-fresh/clean"]""";
        var unnamed = await house.Second.Say(nobody, "run.started", """{ "machine": "machine-1", "programme": "standard", "despite": ["run-loaded", "fluid-fresh/clean"] }""");
        Assert.Equal("person-named", unnamed.Code);
        CleaningHouse.Accepted(await house.Start(somebody, "machine-1", "standard", more: Despite));
        CleaningHouse.Accepted(await house.Finish(somebody));
        var run4 = await house.RunOf(somebody);
        Assert.Equal(("b1-clean", "mara"), (run4.Texts("overridden").Single(), run4.Text("startedBy")));

        // A second override of the same filling is refused, also by a manager.
        foreach (var by in new[] { house.Second, house.Manager })
        {
            var second = await house.Start(CleaningHouse.NewRun(), "machine-1", "standard", by, more: Despite);
            Assert.Equal(("fluid-used-up", "stop", "yes"), (second.Code, second.Problem.GetProperty("strength").GetString(), Name(second, "overrideUsed")));
        }

        // A new filling begins anew, and the old runs stay with the old one.
        CleaningHouse.Accepted(await house.First.Say("machine-1", "fluid.filled", """{ "batch": "b2-clean", "jar": "clean", "litres": 1.0, "person": "jonas" }"""));
        CleaningHouse.Accepted(await house.Run());
        var (old, fresh) = (await house.Host.Bench.Get("/v1/fluid-batches/b1-clean/runs"), await house.Host.Bench.Get("/v1/fluid-batches/b2-clean/runs"));
        Assert.Equal((4, 1), (old.GetProperty("runs").GetArrayLength(), fresh.GetProperty("runs").GetArrayLength()));
        Assert.True(old.GetProperty("runs")[3].GetProperty("overridden").GetBoolean());
        Assert.Equal(1.2m, old.GetProperty("wasteLitres").GetDecimal());
        Assert.True((await house.Host.Bench.Get("/v1/fluid-batches/b1-clean")).TryGetProperty("discardedOn", out _));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_filling_is_good_through_its_last_day_and_not_on_the_next(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        house.Host.SetTo(2026, 3, 2, 10);
        await house.Fill();

        // Filled on 2 March: 28 days after it is 30 March, through which a run may start.
        house.Host.SetTo(2026, 3, 30, 17);
        CleaningHouse.Accepted(await house.Run());
        house.Host.SetTo(2026, 3, 31, 9);
        var refused = await house.Run();

        Assert.Equal(("fluid-used-up", "2026-03-30"), (refused.Code, Name(refused, "goodThrough")));
        Assert.Equal(["fluid-fresh/clean", "fluid-fresh/rinse-1"], refused.Against.Order());
        await house.Host.Sweep();
        Assert.Contains(await house.Agenda(), row => row.Text("kind") == "fluid-old");
    }

    [Theory, BothEngines]
    public async Task A_warning_comes_ahead_and_what_to_change_is_said(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        await house.Host.Change("/v1/rules", """{ "cleaning": { "fluidRuns": { "rinse-1": { "warnRuns": 2, "lastRun": 5 } } } }""");
        await house.Fill();
        CleaningHouse.Accepted(await house.Run());
        Assert.DoesNotContain(await house.Agenda(), row => row.Text("kind") == "fluid-runs");
        CleaningHouse.Accepted(await house.Run());

        Assert.Contains(await house.Agenda(), row => row.Text("kind") == "fluid-runs" && row.Text("line") == "machine-1, rinse-1: 2 of 5 runs");
        var fluids = await house.Host.Bench.Get("/v1/cleaning-machines/machine-1/fluids");
        Assert.Equal(["Throw rinse-1 away, move rinse-2 up into it, fill rinse-2 afresh"], fluids.Texts("next"));

        // As it says: the second rinse moves up and begins anew in its jar, in all it does not.
        CleaningHouse.Accepted(await house.First.Say("machine-1", "fluid.discarded", """{ "batch": "b1-rinse-1", "jar": "rinse-1", "litres": 1.1, "person": "mara" }"""));
        CleaningHouse.Accepted(await house.First.Say("machine-1", "fluid.moved", """{ "batch": "b1-rinse-2", "fromJar": "rinse-2", "toJar": "rinse-1", "person": "mara" }"""));
        CleaningHouse.Accepted(await house.First.Say("machine-1", "fluid.filled", """{ "batch": "b2-rinse-2", "jar": "rinse-2", "litres": 1.2, "person": "mara" }"""));
        CleaningHouse.Accepted(await house.Run());
        fluids = await house.Host.Bench.Get("/v1/cleaning-machines/machine-1/fluids");
        var jars = fluids.GetProperty("jars").EnumerateArray().ToDictionary(jar => jar.Text("jar"), jar => (jar.Text("batch"), jar.GetProperty("runs").GetInt32(), jar.GetProperty("runsInAll").GetInt32()));
        Assert.Equal((("b1-rinse-2", 1, 3), ("b2-rinse-2", 1, 1), ("b1-clean", 3, 3)), (jars["rinse-1"], jars["rinse-2"], jars["clean"]));
        Assert.Equal(1.1m, fluids.GetProperty("wasteLitres").GetDecimal());
        Assert.DoesNotContain(await house.Agenda(), row => row.Text("kind") == "fluid-runs");
    }

    [Theory, BothEngines]
    public async Task A_dirty_group_counts_three_times_and_a_lot_leads_to_every_watch_it_has_touched(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        await house.Fill();
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels", "old-grease"])), await house.Watch("OF 12", ("bridges", [])));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(one, "train", "cage-01", run));
        CleaningHouse.Accepted(await house.Load(other, "bridges", "cage-02", run, house.Second));
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        CleaningHouse.Accepted(await house.Finish(run));

        var recall = await house.Host.Bench.Get("/v1/fluid-batches/b1-rinse-3/runs");
        Assert.Equal((3, 3), (recall.GetProperty("runsInJar").GetInt32(), recall.GetProperty("runs")[0].GetProperty("countsAs").GetInt32()));
        Assert.Equal(new[] { one, other }.Order(StringComparer.Ordinal), recall.Texts("jobs"));
    }

    [Fact]
    public async Task What_cannot_be_of_a_fluid_is_said_and_a_machine_that_stands_still_is_shown()
    {
        await using var house = await CleaningHouse.Open();
        await house.Fill();
        async Task<string[]> Wrong(string subject, string type, string data) => [.. (await house.First.Say(subject, type, data)).Pointers];

        Assert.Equal(["/subject"], await Wrong("machine-9", "machine.stopped", """{ "reason": "smoke" }"""));
        Assert.Equal(["/data/jar"], await Wrong("machine-1", "fluid.filled", """{ "batch": "b9", "jar": "rinse-4" }"""));
        Assert.Equal(["/data/batch"], await Wrong("machine-1", "fluid.filled", """{ "batch": "b1-clean", "jar": "clean" }"""));
        Assert.Equal(["/data/batch"], await Wrong("machine-1", "fluid.discarded", """{ "batch": "b9" }"""));
        Assert.Equal(["/data/litres"], await Wrong("machine-1", "fluid.filled", """{ "batch": "b9", "jar": "clean", "litres": 0 }"""));
        Assert.Equal(["/data/reason"], await Wrong("machine-1", "machine.stopped", """{ "reason": " " }"""));

        CleaningHouse.Accepted(await house.First.Say("machines/machine-1", "machine.stopped", """{ "reason": "smells of smoke", "person": "mara" }"""));
        Assert.Equal("smells of smoke", (await house.Host.Bench.Get("/v1/cleaning-machines/machine-1/fluids")).Text("stopReason"));
    }
}
