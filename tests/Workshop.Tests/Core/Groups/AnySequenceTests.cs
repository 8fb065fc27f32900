using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Parts;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Groups;

/// <summary>Whatever is said of groups, in whatever order, by whoever comes late.</summary>
public class AnySequenceTests
{
    private static readonly string[] Names = ["train", "bridges", "never-washed"];

    private static readonly Gen<(int What, int Group, int Detail, bool Late)[]> Steps =
        Gen.Select(Gen.Int[0, 13], Gen.Int[0, 2], Gen.Int[0, 3], Gen.Int[0, 3].Select(one => one == 0)).Array[5, 30];

    [Fact]
    public void No_group_was_washed_that_never_is_without_a_review_that_names_the_event()
    {
        var (washed, asked) = (0, 0);
        Steps.Sample(
            steps =>
            {
                var story = new Story(TestShop.FullAutomatic with { Groups = Movement.Usual }) { FoldsOnlyAtItsEnd = true };
                story.Through(Stage.Quote).After(Duration.FromMinutes(10)).Start(Stage.Takedown);
                foreach (var step in steps)
                {
                    Take(story.After(Duration.FromMinutes(5)), step);
                    foreach (var group in story.Job.Groups.Groups.Where(group => group.WashedAgainstTheRule))
                    {
                        var told = story.Entries.Single(entry => entry.Id == group.Loads.Last(load => load.State == WashState.Washed).Result!.Entry);
                        var waits = story.Job.Reviews.Any(review => review.Id == told.CausedBy);
                        var held = story.Job.Holds.Standing.Any(hold => hold.Reason == HoldReason.Query && hold.Text!.Contains(((GroupWashed)told.Event).Run, StringComparison.Ordinal) && hold.Text.StartsWith(group.Id, StringComparison.Ordinal));
                        Interlocked.Increment(ref waits ? ref washed : ref asked);
                        Assert.True(waits || held, $"{group.Id} was washed in {told.Id}, and nobody is asked.");
                    }
                }

                Assert.Equal(Portrait.Of(Job.Replay(story.Label, story.Entries)), Portrait.Of(story.Job));
            },
            iter: 400, threads: 2);

        // The test would say nothing if no such wash had come about, both ways.
        Assert.True(washed > 0 && asked > 0, $"{washed} waited, {asked} were asked");
    }

    [Fact]
    public void The_ledger_is_the_same_in_any_order_of_arrival_and_never_refuses() =>
        Steps.Sample(
            steps =>
            {
                var story = new Story(TestShop.FullAutomatic with { Groups = Movement.Usual }).Through(Stage.Quote).After(Duration.FromMinutes(10)).Start(Stage.Takedown);
                var begun = story.Entries.ToArray();
                var told = steps.Select((step, i) => new Entry
                {
                    Id = new EventId($"/devices/bench-{step.Detail}/1", $"x{i}"),
                    Place = new Place(story.Now + Duration.FromMinutes(i + 1), $"/devices/bench-{step.Detail}/1", i, 100 + ((i * 37) % steps.Length)),
                    StreamVersion = begun.Length + i + 1,
                    Received = story.Now,
                    Event = EventOf(step, service: true),
                    Judged = new Judged { Groups = step.Group == 2 ? new GroupTerms { NeverWashed = true } : null },
                }).ToArray();
                var shuffled = told.OrderBy(entry => (entry.Place.OrderSequence * 7919) % 101).ToArray();

                var ledger = Job.Replay(story.Label, [.. begun, .. told]).Groups;

                Assert.Equal(Portrait.Of(ledger), Portrait.Of(Job.Replay(story.Label, [.. begun, .. shuffled]).Groups));
                Assert.All(ledger.Groups, group => Assert.Equal(group.Ended, !ledger.Open.Contains(group)));
                Assert.All(ledger.Groups.Where(group => group.State == GroupState.Washed), group => Assert.All(group.Current, load => Assert.Equal(WashState.Washed, load.State)));
            },
            iter: 400, threads: 2);

    private static void Take(Story story, (int What, int Group, int Detail, bool Late) step)
    {
        var at = step.Late ? story.Now - Duration.FromMinutes(12 * (step.Detail + 1)) : (Instant?)null;
        switch (step.What)
        {
            // A run ends for a cage that is in it: as it ends for the service, a doubtful load of what is never washed too.
            case 11 or 12 when Reckoning.Of(story.Entries).Entries.LastOrDefault(entry => entry is { Event: CageLoaded, OfNoEffect: false }) is { } load && (load.Disposition == Disposition.Applied || load.Judged.Failed.Contains("never-washed")):
                var loaded = (CageLoaded)load.Event;
                story.Hears(step.What == 11 ? Movement.Washed(loaded.Group, loaded.Cage, loaded.Run) : Movement.Unknown(loaded.Group, loaded.Cage, loaded.Run), load.Id, at);
                break;
            case 13:
                story.Says(new CorrectionMade { Of = story.Entries[^(1 + (step.Detail % story.Entries.Count))].Id, Reason = "the wrong tray" }, TestShop.Manager, already: step.Late);
                break;
            default:
                story.Says(EventOf(step, service: false), at: at, source: $"/devices/bench-{1 + (step.Detail % 2)}/1");
                break;
        }
    }

    private static WorkshopEvent EventOf((int What, int Group, int Detail, bool Late) step, bool service)
    {
        var (group, cage, run) = (Names[step.Group], $"cage-{step.Detail}", step.Detail % 2 == 0 ? Movement.Run : Movement.OtherRun);
        return step.What switch
        {
            0 or 1 => Movement.Declared(group, 8 + step.Detail, group == "never-washed" || (step.What == 1 && step.Detail == 0) ? ["dial-or-hands"] : []),
            2 => new GroupHandCleaned { Group = group },
            3 => new GroupNotWashed { Group = group, Reason = step.Detail == 0 ? GroupNotWashed.NotFitted : "gilding comes off" },
            4 => new GroupReplaced { Group = group, Part = $"part {step.Detail}" },
            5 => new GroupReopened { Group = group, Reason = "film" },
            6 => new GroupInspected { Group = group },
            7 => Movement.Counted(group, (CountPoint)(step.Detail + 1), 8 + step.Detail),
            8 or 9 => Movement.Loaded(group, cage, run, step.Late ? null : 7 + step.Detail),
            10 => new CageEmptied { Cage = cage, Count = 8 },
            11 when service => Movement.Washed(group, cage, run),
            12 when service => Movement.Unknown(group, cage, run),
            _ => new PartFitted { Part = $"part {step.Detail}", Group = group, Replaces = step.Late ? $"part {step.Detail}" : null },
        };
    }
}
