using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Cleaning;

/// <summary>One cage, one watch, one group: from the moment it is loaded until it is scanned empty.</summary>
public class CageTests
{
    [Theory, BothEngines]
    public async Task A_cage_with_another_watchs_parts_is_refused_naming_watch_and_run_and_free_once_it_was_scanned_empty(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12", ("bridges", [])));
        var (run, next) = (CleaningHouse.NewRun(), CleaningHouse.NewRun());
        CleaningHouse.Accepted(await house.Load(one, "train", "cage-01", run));

        var refused = await house.Load(other, "bridges", "cage-01", next, house.Second);
        Assert.Equal((HttpStatusCode.Conflict, "cage-not-free", "cage-free"), (refused.Status, refused.Code, refused.Gate));
        Assert.Equal((one, "train", run, "cage-01"), (Name(refused, "other"), Name(refused, "group"), Name(refused, "run"), Name(refused, "cage")));
        var despite = await house.Load(other, "bridges", "cage-01", next, house.Manager, more: """, "despite": ["cage-free"]""");
        Assert.Equal("cage-not-free", despite.Code);

        // The run is over, the cage is not free: it must have been scanned empty.
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        CleaningHouse.Accepted(await house.Finish(run));
        Assert.Equal("cage-not-free", (await house.Load(other, "bridges", "cage-01", next, house.Second)).Code);
        CleaningHouse.Accepted(await house.Empty(one, "cage-01"));
        CleaningHouse.Accepted(await house.Load(other, "bridges", "cage-01", next, house.Second));

        // A second group of the same watch is refused as well.
        CleaningHouse.Accepted(await house.Declare(other, "keyless"));
        Assert.Equal("cage-not-free", (await house.Load(other, "keyless", "cage-01", next)).Code);
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Of_two_benches_that_load_one_cage_at_once_the_first_has_it(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12", ("train", ["wheels"])));
        house.Host.Clock.AutoAdvance = Duration.Zero;
        var (run, next) = (CleaningHouse.NewRun(), CleaningHouse.NewRun());

        var told = await Task.WhenAll(house.Load(one, "train", "cage-07", run), house.Load(other, "train", "cage-07", next, house.Second));

        var (won, lost) = told[0].Outcome == "accepted" ? (one, told[1]) : (other, told[0]);
        Assert.Equal(("cage-not-free", won), (lost.Code, Name(lost, "other")));
        Assert.Single(told, one => one.Outcome == "accepted");
        Assert.Equal(1, await house.Host.QueryFirst<long>("select count(*) from holding where thing = 'cages/cage-07' and until_at is null"));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_load_told_late_after_the_cage_went_to_another_watch_is_noted_and_both_are_named(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12", ("bridges", [])));
        var (run, next) = (CleaningHouse.NewRun(), CleaningHouse.NewRun());
        var then = house.Host.Clock.GetCurrentInstant();
        house.Host.Clock.Advance(Duration.FromHours(1));
        CleaningHouse.Accepted(await house.Load(other, "bridges", "cage-03", next, house.Second));
        house.Host.Clock.Advance(Duration.FromHours(1));

        var late = await house.Load(one, "train", "cage-03", run, Device.Pair(house.Host), then);

        Assert.Equal("noted", late.Outcome);
        Assert.Equal(["late", "for-review"], late.Flags);
        var holds = (await house.Host.Manager.Get($"/v1/jobs/{one}")).GetProperty("holds").EnumerateArray().ToArray();
        Assert.Contains(holds, hold => hold.GetProperty("reason").GetString() == "query" && hold.GetProperty("text").GetString()!.Contains(other, StringComparison.Ordinal));
        Assert.Contains(await house.Agenda(), row => row.GetProperty("kind").GetString() == "review" && row.GetProperty("job").GetString() == one && row.GetProperty("level").GetString() == "manager");
        Assert.Equal(other, await house.Host.QueryFirst<string>("select job from holding where thing = 'cages/cage-03' and until_at is null"));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_load_that_was_a_slip_is_taken_back_and_frees_the_cage(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12", ("bridges", [])));
        var run = CleaningHouse.NewRun();
        var slip = await house.Load(one, "train", "cage-04", run);
        CleaningHouse.Accepted(slip);

        CleaningHouse.Accepted(await house.First.Say(one, "correction.made", $$"""{ "of": { "source": "{{house.First.Source}}", "id": "{{slip.Whole.GetProperty("id").GetString()}}" }, "reason": "the wrong cage", "person": "mara" }"""));

        Assert.Empty((await house.RunOf(run)).GetProperty("cages").EnumerateArray());
        CleaningHouse.Accepted(await house.Load(other, "bridges", "cage-04", run, house.Second));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Fact]
    public async Task A_cage_of_another_watch_is_not_emptied_under_this_one()
    {
        await using var house = await CleaningHouse.Open();
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 12"));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(one, "train", "cage-05", run));

        var wrong = await house.Empty(other, "cage-05", house.Second);
        Assert.Equal(("cage-not-loaded", "stop", one), (wrong.Code, wrong.Problem.GetProperty("strength").GetString(), Name(wrong, "other")));
        var unknown = await house.Load(one, "train", "cage-99", run);
        Assert.Equal("cage-unknown", unknown.Code);
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        Assert.Equal("run-going-on", (await house.Empty(one, "cage-05")).Code);
    }

    [Fact]
    public async Task A_shop_that_has_entered_no_cages_is_not_asked_about_their_numbers()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);

        Assert.Equal("accepted", (await watch.Tells("cage.loaded", $$"""{ "cage": "tin-box", "group": "train", "run": "{{CleaningHouse.NewRun()}}", "person": "mara" }""")).Outcome);
    }

    internal static string? Name(Told told, string name) => told.Problem.GetProperty(name).GetString();
}
