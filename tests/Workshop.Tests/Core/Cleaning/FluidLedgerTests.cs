using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Journal;

namespace Workshop.Tests.Core.Cleaning;

public class FluidLedgerTests
{
    private readonly List<Entry> entries = [];

    [Fact]
    public void A_run_counts_on_every_filling_it_goes_through_and_dirty_groups_count_three_times()
    {
        Tell(new FluidFilled { Batch = "c-1", Jar = "clean", Litres = 1.2m });
        Tell(new FluidFilled { Batch = "r-1", Jar = "rinse-1", Litres = 1.2m });
        Use("run-1", 1, ("clean", "c-1"), ("rinse-1", "r-1"));
        Use("run-2", 3, ("clean", "c-1"));

        Assert.Equal((4, 4), (Find("c-1").RunsInJar, Find("c-1").RunsInAll));
        Assert.Equal((1, 1), (Find("r-1").RunsInJar, Find("r-1").RunsInAll));
        Assert.Equal(["run-1", "run-2"], Find("c-1").Uses.Select(use => use.Run));
    }

    [Fact]
    public void A_filling_that_moves_begins_anew_in_its_jar_and_in_nothing_else()
    {
        Tell(new FluidFilled { Batch = "r-1", Jar = "rinse-1" });
        Tell(new FluidFilled { Batch = "r-2", Jar = "rinse-2" });
        Use("run-1", 1, ("rinse-1", "r-1"), ("rinse-2", "r-2"));
        Use("run-2", 1, ("rinse-1", "r-1"), ("rinse-2", "r-2"));
        Tell(new FluidMoved { Batch = "r-2", FromJar = "rinse-2", ToJar = "rinse-1" });
        Use("run-3", 1, ("rinse-1", "r-2"));

        Assert.Equal(("rinse-1", 1, 3, At(1)), (Find("r-2").Jar, Find("r-2").RunsInJar, Find("r-2").RunsInAll, Find("r-2").FilledAt!.Value));
        Assert.Equal((null, At(4)), (Find("r-1").Jar, Find("r-1").DiscardedAt!.Value));
        Assert.Null(Fold().In("rinse-2"));
    }

    [Fact]
    public void A_new_filling_resets_the_count_and_the_old_runs_stay_with_the_old_one()
    {
        Tell(new FluidFilled { Batch = "c-1", Jar = "clean", Litres = 1.2m });
        Use("run-1", 1, ("clean", "c-1"));
        Tell(new FluidFilled { Batch = "c-2", Jar = "clean", Litres = 1.0m });

        Assert.Equal(("c-2", 0), (Fold().In("clean")!.Id, Fold().In("clean")!.RunsInJar));
        Assert.Equal(["run-1"], Find("c-1").Uses.Select(use => use.Run));
        Assert.Equal(1.2m, Find("c-1").Waste);
    }

    [Fact]
    public void Waste_is_what_was_poured_away_or_else_what_was_filled_in()
    {
        Tell(new FluidFilled { Batch = "c-1", Jar = "clean", Litres = 1.2m });
        Tell(new FluidFilled { Batch = "r-1", Jar = "rinse-1", Litres = 1.5m });
        Tell(new FluidDiscarded { Batch = "c-1" });
        Tell(new FluidDiscarded { Batch = "r-1", Litres = 1.1m });

        Assert.Equal((1.2m, 1.1m), (Find("c-1").Waste, Find("r-1").Waste));
    }

    [Fact]
    public void When_a_count_was_reached_is_known_to_the_moment()
    {
        Tell(new FluidFilled { Batch = "c-1", Jar = "clean" });
        Use("run-1", 1, ("clean", "c-1"));
        Use("run-2", 3, ("clean", "c-1"));
        Use("run-3", 1, ("clean", "c-1"));

        Assert.Equal(At(1), Find("c-1").Reached(1));
        Assert.Equal(At(2), Find("c-1").Reached(4));
        Assert.Equal(At(3), Find("c-1").Reached(5));
        Assert.Null(Find("c-1").Reached(6));
    }

    [Fact]
    public void One_override_uses_it_up_and_a_machine_that_stood_still_runs_again_with_its_next_run()
    {
        Tell(new FluidFilled { Batch = "c-1", Jar = "clean" });
        Tell(new MachineStopped { Reason = "smells of smoke" });
        Assert.Equal("smells of smoke", Fold().StopReason);

        Tell(new FluidUsed { Run = "run-41", CountsAs = 1, Batches = [new UsedBatch("clean", "c-1")], Overridden = ["c-1"] });
        Assert.True(Find("c-1").OverrideUsed);
        Assert.Null(Fold().StoppedAt);
    }

    private FluidBatch Find(string id) => Fold().Find(id)!;

    private FluidLedger Fold() => FluidLedger.Replay("machine-1", entries);

    private void Use(string run, int counts, params (string Jar, string Batch)[] batches) =>
        Tell(new FluidUsed { Run = run, CountsAs = counts, Batches = [.. batches.Select(one => new UsedBatch(one.Jar, one.Batch))] });

    private static Instant At(int hours) => TestShop.Local(2026, 3, 2, 8) + Duration.FromHours(hours);

    private void Tell(WorkshopEvent one) => entries.Add(new Entry
    {
        Id = new EventId("/devices/bench-2/1", $"e-{entries.Count}"),
        Place = new Place(At(entries.Count), "/devices/bench-2/1", entries.Count, entries.Count + 1),
        StreamVersion = entries.Count + 1,
        Received = At(entries.Count),
        Event = one,
    });
}
