using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Tests.Core.Cleaning;

public class RunTests
{
    private const string Id = "5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10";

    private static readonly Label Watch = Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]);
    private static readonly EventId Train = new("/devices/bench-2/1", "load-train");
    private static readonly EventId Bridges = new("/devices/bench-2/1", "load-bridges");

    private readonly List<Entry> entries = [];

    [Fact]
    public void A_run_is_planned_runs_and_is_finished()
    {
        Tell(0, new RunPlanned());
        Tell(0, Loaded(Train, "train", "cage-01"));
        Assert.Equal(RunState.Planned, Fold().State);

        Tell(10, Started());
        Assert.Equal((RunState.Running, "machine-1", "gentle"), (Fold().State, Fold().Machine, Fold().Programme));

        Tell(30, new RunFinished());
        Tell(35, new RunUnloaded { Job = Watch, Group = "train", Cage = "cage-01", Load = Train, Count = 9 });
        Assert.Equal((RunState.Finished, At(30), At(35), 9), (Fold().State, Fold().EndedAt, Fold().Cages[0].EmptiedAt, Fold().Cages[0].CountOut));
    }

    [Fact]
    public void In_whatever_order_it_is_told_the_same_is_known_at_the_end()
    {
        Tell(0, Loaded(Train, "train", "cage-01"));
        Tell(1, Loaded(Bridges, "bridges", "cage-02"));
        Tell(10, Started());
        Tell(30, new RunFinished());
        Tell(35, new RunUnloaded { Job = Watch, Group = "train", Cage = "cage-01", Load = Train });
        var random = new Random(3);
        var expected = Fold();
        for (var i = 0; i < 50; i++)
        {
            var shuffled = Run.Replay(Id, entries.OrderBy(_ => random.Next()));
            Assert.Equal((expected.State, expected.EndedAt), (shuffled.State, shuffled.EndedAt));
            Assert.Equal(expected.Cages.AsEnumerable(), shuffled.Cages.AsEnumerable());
        }
    }

    [Fact]
    public void What_was_aborted_was_never_finished_also_when_both_are_told()
    {
        Tell(10, Started());
        Tell(30, new RunFinished());
        Tell(20, new RunAborted { Reason = "power cut" });

        Assert.Equal((RunState.Aborted, At(30)), (Fold().State, Fold().EndedAt));
    }

    [Fact]
    public void An_end_without_a_start_waits_for_the_start()
    {
        Tell(30, new RunFinished());
        Assert.Equal(RunState.Planned, Fold().State);

        Tell(10, Started());
        Assert.Equal(RunState.Finished, Fold().State);
    }

    [Fact]
    public void A_doubted_load_is_no_content_until_it_is_said_again()
    {
        Tell(0, Loaded(Train, "train", "cage-01") with { Doubted = true });
        Assert.Empty(Fold().Contents);

        Tell(90, Loaded(Train, "train", "cage-01"));
        Assert.Equal("train", Assert.Single(Fold().Contents).Group);

        Tell(95, new RunUnloaded { Job = Watch, Group = "train", Cage = "cage-01", Load = Train, Withdrawn = true });
        Assert.Empty(Fold().Cages);
    }

    private Run Fold() => Run.Replay(Id, entries);

    private static RunStarted Started() => new() { Machine = "machine-1", Programme = "gentle" };

    private static RunLoaded Loaded(EventId load, string group, string cage) => new() { Job = Watch, Group = group, Cage = cage, Load = load };

    private static Instant At(int minutes) => TestShop.Local(2026, 3, 2, 10) + Duration.FromMinutes(minutes);

    private void Tell(int minutes, WorkshopEvent one) => entries.Add(new Entry
    {
        Id = new EventId("/devices/bench-2/1", $"e-{entries.Count}"),
        Place = new Place(At(minutes), "/devices/bench-2/1", entries.Count, entries.Count + 1),
        StreamVersion = entries.Count + 1,
        Received = At(minutes),
        Event = one,
    });
}
