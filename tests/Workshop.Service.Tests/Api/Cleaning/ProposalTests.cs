using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Cleaning;

public class ProposalTests
{
    [Theory, BothEngines]
    public async Task The_next_runs_are_proposed_with_their_reasons_and_what_fluid_would_be_left(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        await house.Fill();
        var one = await house.Watch("OF 9", ("balance-on-plate", ["hairspring", "shellac"]), ("train", ["wheels"]), ("calendar", ["plastic"]), ("never-washed", ["dial-or-hands"]));
        var other = await house.Watch("OF 12", ("train", ["wheels"]));
        var twin = await house.Watch("OF 9", ("train", ["wheels"]));

        var proposal = await house.Host.Bench.Get("/v1/cleaning-machines/machine-1/proposal");
        var runs = proposal.GetProperty("runs").EnumerateArray().Select(run => run.GetProperty("groups").EnumerateArray().Select(group => (group.Text("job"), group.Text("group"))).ToArray()).ToArray();
        var left = Assert.Single(proposal.GetProperty("leftOut").EnumerateArray());

        Assert.Equal(2, runs.Length);
        Assert.All(runs, run => Assert.False(run.Any(group => group.Item1 == one) && run.Any(group => group.Item1 == twin)));
        Assert.Equal(4, runs.Sum(run => run.Length));
        Assert.Equal(("calendar", "by hand"), (left.Text("group"), left.Texts("instead").Single()));
        Assert.All(proposal.GetProperty("runs").EnumerateArray(), run => Assert.Equal("gentle", run.GetProperty("groups").EnumerateArray().Any(group => group.Text("group") == "balance-on-plate") ? run.Text("programme") : "gentle"));
        var fluids = proposal.GetProperty("runs")[1].GetProperty("fluids").EnumerateArray().Single(fluid => fluid.Text("jar") == "clean");
        Assert.Equal((38, false), (fluids.GetProperty("runsLeft").GetInt32(), fluids.GetProperty("changeBefore").GetBoolean()));

        // What is in a cage waits no longer.
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(other, "train", "cage-01", run));
        var after = await house.Host.Bench.Get("/v1/cleaning-machines/machine-1/proposal");
        Assert.DoesNotContain(after.GetProperty("runs").EnumerateArray().SelectMany(one => one.GetProperty("groups").EnumerateArray()), group => group.Text("job") == other);
        Assert.Equal("no-such-thing", (await (await house.Host.Bench.GetAsync("/v1/cleaning-machines/machine-9/proposal")).Problem()).Code);
    }
}
