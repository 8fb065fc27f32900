using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Corrections;

/// <summary>Whatever comes in whatever order, taken back, replaced or settled: no result stands whose prerequisites are void.</summary>
public class AnyOrderTests
{
    private static readonly Stage[] Worked =
    [
        Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.DialAndHands, Stage.Casing,
        Stage.WaterTest, Stage.ReserveAndFunctions,
    ];

    [Fact]
    public void No_result_stands_whose_prerequisites_are_void_in_any_order_with_corrections_and_settlements()
    {
        var seen = new Dictionary<Outcome, int>();
        var voids = 0;
        for (var seed = 0; seed < 120; seed++)
        {
            var story = new Story { FoldsOnlyAtItsEnd = true }.Through(Stage.Quote).At(2026, 3, 5, 8);
            var chance = new Random(seed);
            var said = Said(story).ToArray();
            chance.Shuffle(said);
            foreach (var (one, at) in said)
            {
                story.After(Duration.FromMinutes(1));
                Count(story.Says(one, chance.Next(2) == 0 ? TestShop.Mara : TestShop.Jonas, at: at, source: $"/devices/bench-{chance.Next(1, 3)}/1"));
                if (chance.Next(4) == 0)
                {
                    Count(story.Says(Amendment(story, chance), TestShop.Manager, already: chance.Next(3) == 0));
                }

                if (chance.Next(6) == 0 && story.Entries[chance.Next(story.Entries.Count)] is { Event: StageFinished } old)
                {
                    Count(story.Says(old.Event, TestShop.Manager, insteadOf: old.Id, already: chance.Next(2) == 0));
                }

                NothingStandsOnWhatIsVoid(story, seed);
            }

            Assert.Equal(Portrait.Of(Job.Replay(story.Label, story.Entries)), Portrait.Of(story.Job));
            voids += Reckoning.Of(story.Entries).Entries.Count(entry => entry.Fate == Fate.Void);
        }

        // The test would say nothing if nothing of it had come about.
        Assert.All(Enum.GetValues<Outcome>(), outcome => Assert.True(seen.GetValueOrDefault(outcome) > 100, $"{outcome}: {seen.GetValueOrDefault(outcome)}"));
        Assert.True(voids > 100, $"{voids} void");

        void Count(Decision decision) => seen[decision.Outcome] = seen.GetValueOrDefault(decision.Outcome) + 1;
    }

    private static IEnumerable<(WorkshopEvent Event, Instant At)> Said(Story story)
    {
        var at = TestShop.Local(2026, 3, 4, 8);
        foreach (var stage in Worked)
        {
            at += Duration.FromMinutes(20);
            yield return (stage switch
            {
                Stage.Casing => story.Closing(),
                Stage.WaterTest => Story.WaterTest(),
                _ => new StageFinished { Stage = stage },
            }, at);
            if (stage == Stage.Rebuild)
            {
                yield return (Story.RateSet, at + Duration.FromMinutes(10));
            }
        }

        yield return (new StageSentBack { Stage = Stage.Rebuild, To = Stage.Inspection, Reason = "a pivot" }, TestShop.Local(2026, 3, 4, 13));
    }

    private static WorkshopEvent Amendment(Story story, Random chance)
    {
        if (story.Job.Reviews.Length > 0 && chance.Next(2) == 0)
        {
            var review = story.Job.Reviews[chance.Next(story.Job.Reviews.Length)];
            return new ReportSettled { Of = review.Id, As = chance.Next(3) == 0 ? SettledAs.DidNotHappen : SettledAs.Happened, Reason = "asked at the bench" };
        }

        return new CorrectionMade { Of = story.Entries[chance.Next(story.Entries.Count)].Id, Reason = "the wrong card" };
    }

    /// <summary>A stage that stands was told by an entry that counts, and stood on ground that stands, or under somebody's name without it.</summary>
    private static void NothingStandsOnWhatIsVoid(Story story, int seed)
    {
        var counted = Reckoning.Of(story.Entries).Entries.ToDictionary(entry => entry.Id);
        foreach (var stage in Worked.Where(stage => story[stage] == StageState.Done))
        {
            var by = counted[story.Job.Standings.Of(stage).By!.Value];
            Assert.True(by.Counts, $"seed {seed}: {stage} stands by {by.Id}, which is {by.Fate}");
            foreach (var ground in story.Job.Route!.GroundOf(stage))
            {
                Assert.True(
                    story.Job.Standings.Stands(ground) || by.Judged.Passing.Contains($"needs/{Workshop.Core.Words.Word.Of(ground)}"),
                    $"seed {seed}: {stage} stands, its ground {ground} is {story[ground]}");
            }
        }
    }
}
