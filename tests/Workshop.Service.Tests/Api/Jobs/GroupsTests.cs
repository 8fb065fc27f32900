using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Cleaning;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

/// <summary>The ledger of a movement that came apart, through the doors of the bench.</summary>
public class GroupsTests
{
    private static readonly string[] Washed = ["balance-on-plate", "train", "bridges", "automatic", "pallets-and-settings"];

    [Theory, BothEngines]
    public async Task Of_seven_groups_five_washed_one_aborted_and_one_never_washed_the_refusal_names_exactly_the_aborted_one(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", [.. Washed.Append("keyless").Select(group => (group, Array.Empty<string>()))]);
        CleaningHouse.Accepted(await Say("group.not-washed", """{ "group": "calendar", "reason": "not-fitted", "person": "mara" }"""));
        CleaningHouse.Accepted(await house.Declare(job, "never-washed", "dial-or-hands", "gasket-or-glued"));
        var (first, second, aborted) = (CleaningHouse.NewRun(), CleaningHouse.NewRun(), CleaningHouse.NewRun());
        foreach (var (group, i) in Washed.Select((group, i) => (group, i)))
        {
            CleaningHouse.Accepted(await house.Load(job, group, $"cage-{i + 1:00}", i < 3 ? first : second));
        }

        CleaningHouse.Accepted(await house.Load(job, "keyless", "cage-06", aborted));
        foreach (var run in new[] { first, second, aborted })
        {
            CleaningHouse.Accepted(await house.Start(run, "machine-1", "gentle"));
            CleaningHouse.Accepted(run == aborted ? await house.Abort(run) : await house.Finish(run));
        }

        for (var cage = 1; cage <= 6; cage++)
        {
            CleaningHouse.Accepted(await house.Empty(job, $"cage-{cage:00}"));
        }

        var refused = await Finish("cleaning", "needs/takedown");
        Assert.Equal(("groups-ended", "keyless"), (refused.Code, CageTests.Name(refused, "missing")));

        var ledger = await house.Host.Bench.Get($"/v1/jobs/{job}/groups");
        Assert.Equal(["keyless"], ledger.GetProperty("open").EnumerateArray().Select(one => one.GetString()));
        var groups = ledger.GetProperty("groups").EnumerateArray().ToDictionary(group => group.Text("group")!, group => group);
        Assert.All(Washed, group => Assert.Equal("washed", groups[group].Text("state")));
        Assert.Equal(("unknown", "power cut"), (groups["keyless"].Text("state"), groups["keyless"].Text("reason")));
        Assert.Equal(("not-washed", "never-washed"), (groups["never-washed"].Text("state"), groups["never-washed"].Text("reason")));
        Assert.Equal((first, "machine-1", "gentle"), (groups["train"].GetProperty("loads")[0].Text("run"), groups["train"].GetProperty("loads")[0].Text("machine"), groups["train"].GetProperty("loads")[0].Text("programme")));
        Assert.Equal(["declared", "loaded", "unloaded"], groups["train"].GetProperty("counts").EnumerateArray().Select(count => count.Text("at")));
        Assert.Empty(house.Host.Check().Differences);

        Task<Told> Say(string type, string data) => house.First.Say(job, type, data);

        Task<Told> Finish(string stage, params string[] despite) =>
            Say("stage.finished", JsonSerializer.Serialize(new { stage, person = "mara", despite }));
    }

    [Theory, BothEngines]
    public async Task A_cage_that_comes_out_with_a_part_less_is_a_loss_that_names_the_watch_in_the_same_run(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (job, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12", ("train", ["wheels"])));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(job, "train", "cage-01", run));
        CleaningHouse.Accepted(await house.Load(other, "train", "cage-02", run));
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        house.Host.Clock.Advance(Duration.FromMinutes(25));
        CleaningHouse.Accepted(await house.Finish(run));

        var told = await house.First.Say(job, "cage.emptied", """{ "cage": "cage-01", "count": 2, "person": "mara" }""");
        CleaningHouse.Accepted(told);

        Assert.Equal("STOP: train has 2 of 3", told.Line);
        var history = (await house.Host.Manager.Get($"/v1/jobs/{job}/history?limit=500")).GetProperty("items").EnumerateArray().ToArray();
        var loss = Assert.Single(history, entry => entry.Text("type") == "loss.reported").GetProperty("data");
        Assert.Equal(("loaded", "mara"), (loss.Text("seenAt"), loss.Text("seenBy")));
        Assert.Contains(loss.GetProperty("candidates").EnumerateArray(), one => one.Text("job") == other && one.Text("near") == "same-run" && one.Text("where") == run);
        Assert.Contains(await house.Agenda(), row => row.Text("job") == job && row.Text("line")!.Contains("2 of 3", StringComparison.Ordinal));

        var difference = (await house.Host.Bench.Get($"/v1/jobs/{job}/groups")).GetProperty("groups").EnumerateArray().Single(group => group.Text("group") == "train").GetProperty("differences")[0];
        Assert.Equal((3, 2, true), (difference.GetProperty("expected").GetInt32(), difference.GetProperty("counted").GetInt32(), difference.GetProperty("loss").GetBoolean()));
        Assert.Empty(house.Host.Check().Differences);
    }
}
