using CsCheck;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Jobs;

/// <summary>
/// Lives of watches made up at random from some stage on: usual steps, slips, bad news, reports hours late, from three benches and a desk. While one is told,
/// the story itself checks positions, versions, ids and that the entries fold to the decided job.
/// </summary>
public class FoldingTests
{
    private static readonly string[] People = [TestShop.Mara, TestShop.Jonas, TestShop.Manager];

    private static readonly Stage[] Worked =
    [
        Stage.Diagnosis, Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.DialAndHands,
        Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions, Stage.FinalControl,
    ];

    private static readonly Gen<Act> Acts = Gen.Select(
        Gen.Int[0, 40], Gen.Int[0, 14], Gen.Int[0, 2], Gen.Int[1, 400], Gen.Frequency((3, Gen.Const(0)), (1, Gen.Int[1, 900])), Gen.Bool,
        (kind, stage, who, passed, late, tap) => new Act(kind, Worked[stage], who, Duration.FromMinutes(passed), Duration.FromMinutes(late), tap));

    private static readonly Stage[] Begun = [Stage.Intake, Stage.Quote, Stage.Rebuild, Stage.Gaskets, Stage.WaterTest, Stage.ReserveAndFunctions, Stage.Ready, Stage.HandedOver];

    private static readonly Gen<Story> Lives = Gen.Select(Gen.Int[0, Begun.Length - 1], Acts.Array[10, 40], (begun, acts) => Told(Begun[begun], acts));

    private readonly record struct Act(int Kind, Stage Stage, int Who, Duration Passed, Duration Late, bool Tap);

    [Fact]
    public void Entries_in_any_storage_order_fold_to_the_same_job() =>
        Gen.Select(Lives, Gen.Int).Sample(
            (story, seed) =>
            {
                var shuffled = Shuffled(story.Entries, seed);
                Assert.Equal(Portrait.Of(story.Job), Portrait.Of(Job.Replay(story.Label, shuffled)));
            },
            iter: 40);

    [Fact]
    public void Any_part_of_a_journal_folds_and_can_be_looked_at() =>
        Gen.Select(Lives, Gen.Int).Sample(
            (story, seed) =>
            {
                var random = new Random(seed);
                for (var i = 0; i < 10; i++)
                {
                    var job = Job.Replay(story.Label, Shuffled(story.Entries.Where(_ => random.Next(4) > 0), seed + i));
                    Assert.Equal(job.Version > 0, job.Last is not null);
                    Look(job, story);
                }
            },
            iter: 40);

    [Fact]
    public void No_result_stands_whose_ground_does_not_unless_it_was_passed() =>
        Gen.Select(Lives, Gen.Int).Sample(
            (story, seed) =>
            {
                var random = new Random(seed);
                GroundOfEveryResult(story.Job, story.Entries);
                for (var i = 0; i < 10; i++)
                {
                    var some = story.Entries.Where(entry => entry.StreamVersion == 1 || random.Next(5) > 0).ToArray();
                    GroundOfEveryResult(Job.Replay(story.Label, some), some);
                }
            },
            iter: 40);

    [Fact]
    public void Every_piece_has_one_holder_at_every_instant_and_every_measurement_is_kept() =>
        Lives.Sample(
            story =>
            {
                foreach (var thing in story.Job.Holdings.GroupBy(holding => holding.Thing))
                {
                    var chain = thing.ToArray();
                    Assert.All(chain.Zip(chain.Skip(1)), pair => Assert.Equal((pair.First.Until, pair.First.ClosedBy), (pair.Second.From, pair.Second.OpenedBy)));
                    Assert.Single(chain, holding => holding.Until is null);
                }

                Assert.Equal(story.Entries.Count(entry => entry.Event is RateSetRecorded && entry.Effective >= story.Job.Intake.TakenInAt), story.Job.Timekeeping.RateSets.Length);
                Assert.All(story.Job.Standings.Of(Stage.Rebuild).Hands, hand => Assert.Contains(hand, People.Append(TestShop.Desk)));
            },
            iter: 40);

    [Fact]
    public void A_ready_watch_has_every_required_stage_or_somebodys_name_under_its_absence() =>
        Lives.Sample(
            story =>
            {
                if (story.Job.Standings.IsReady)
                {
                    var control = story.Entries.Single(entry => entry.Id == story.Job.Standings.Of(Stage.FinalControl).By);
                    Assert.NotNull(control.Person);
                    Assert.All(
                        story.Job.Route!.RequiredBefore(Stage.FinalControl).Where(stage => !story.Job.Standings.Stands(stage)),
                        stage => Assert.Contains($"needs/{Word.Of(stage)}", control.Judged.Passing));
                }
            },
            iter: 40);

    private static void GroundOfEveryResult(Job job, IReadOnlyCollection<Entry> entries)
    {
        if (job.Route is not { } route)
        {
            return;
        }

        foreach (var stage in route.Stages.Select(planned => planned.Stage).Where(stage => job.Standings.Of(stage).State == StageState.Done))
        {
            var by = entries.Single(entry => entry.Id == job.Standings.Of(stage).By);
            var passed = stage == Stage.WearCheck ? job.WearChecks.Checks.Single(check => check.Readings.Any(reading => reading.Id == by.Id)).Passed.AddRange(by.Judged.Passing) : by.Judged.Passing;
            Assert.All(route.GroundOf(stage), ground => Assert.True(
                job.Standings.Stands(ground) || passed.Contains($"needs/{Word.Of(ground)}"), $"{stage} stands, its ground {ground} is {job.Standings.Of(ground).State}."));
        }
    }

    private static void Look(Job job, Story story)
    {
        Assert.All(AgendaPlan.For(job, story.Rules), row => Assert.NotEmpty(row.Line));
        Assert.All(NextSteps.Of(job, story.Rules, story.Now, "bench"), step => Assert.True(step.Starts is not null || step.Finishes is not null));
        Assert.NotEmpty(Portrait.Of(job));
    }

    private static Entry[] Shuffled(IEnumerable<Entry> entries, int seed)
    {
        var shuffled = entries.ToArray();
        new Random(seed).Shuffle(shuffled);
        return shuffled;
    }

    private static Story Told(Stage begun, Act[] acts)
    {
        var story = new Story { FoldsOnlyAtItsEnd = true }.Through(begun);
        foreach (var act in acts)
        {
            story.After(act.Passed);
            if (act.Kind < 20)
            {
                TakeTheUsualStep(story, act);
            }
            else if (Event(story, act) is { } one)
            {
                string[] despite = act.Tap ? [.. story.Next().SelectMany(step => step.Against).Select(gate => gate.Gate).Distinct()] : [];
                story.Says(one, People[act.Who], at: story.Now - act.Late, source: $"/devices/bench-{act.Who + 1}/1", despite: despite, bench: $"bench-{act.Who + 1}");
            }
        }

        return story;
    }

    private static void TakeTheUsualStep(Story story, Act act)
    {
        var next = story.Job.Standings.Required.Select(planned => planned.Stage).FirstOrDefault(stage => stage is not (Stage.Queue or Stage.Ready) && !story.Job.Standings.Stands(stage));
        (WorkshopEvent, bool Desk)[] steps = next switch
        {
            Stage.Quote => [(story.Quote((story.Job.Quotes.Newest?.Version ?? 0) + 1), true), (Story.Answer(version: (story.Job.Quotes.Newest?.Version ?? 0) + 1), true)],
            Stage.Regulation => [(Story.RateSet, false), (new StageFinished { Stage = next }, false)],
            Stage.Casing => [(story.Closing(), false)],
            Stage.WaterTest => [(Story.WaterTest(), false)],
            Stage.WearCheck => [story.Job.WearChecks.Running is null ? (Story.WearStart(), false) : (Story.WearRead(3), false)],
            Stage.FinalControl => [(story.AllChecksOk, false)],
            Stage.Settlement or Stage.ReturnUnrepaired => [(new StageFinished { Stage = next }, true)],
            Stage.HandedOver => act.Tap ? [(story.HandedOver(), true)] : [],
            Stage.Expected => [],
            _ => [(new StageFinished { Stage = next }, false)],
        };
        foreach (var (one, desk) in steps)
        {
            if (one is WearCheckRead)
            {
                story.After(Duration.FromHours(20));
            }

            story.After(Duration.FromMinutes(1)).Says(one, desk ? TestShop.Desk : People[act.Who % 2], source: desk ? "/desk/1" : $"/devices/bench-{act.Who + 1}/1");
        }
    }

    private static WorkshopEvent? Event(Story story, Act act) => (act.Kind - 20) switch
    {
        0 => new StageStarted { Stage = act.Stage },
        1 => new StageFinished { Stage = act.Stage },
        2 => new StageSentBack { Stage = Stage.FinalControl, To = act.Stage, Reason = "?" },
        3 => new CaseOpened(),
        4 => story.Closing(act.Tap ? "ANOTHER" : null),
        5 => new IndexTouched(),
        6 => Story.RateSet,
        7 => Story.WaterTest(act.Tap),
        8 => Story.WearStart(),
        9 => act.Tap ? Story.FoundStopped : Story.WearRead(act.Who * 9),
        10 => act.Tap ? new WearCheckPaused { Kind = WearCheckKind.Worn } : new WearCheckResumed { Kind = WearCheckKind.Worn },
        11 => act.Tap ? story.AllChecksOk : new FinalControlRefused { To = act.Stage, Reason = "?" },
        12 => new HoldPlaced { Hold = (HoldReason)((int)act.Stage % 13), StopsPromise = act.Tap ? true : null },
        13 => new HoldLifted { Hold = (HoldReason)((int)act.Stage % 13) },
        14 => new WaiverGiven { Gate = act.Tap ? $"needs/{Word.Of(act.Stage)}" : "second-person", Reason = "?" },
        15 => act.Tap ? new PieceTaken() : new PieceTaken { Kind = PieceKind.Case, From = "firms/polisher" },
        16 => act.Tap ? new PieceGiven { To = $"people/{People[(act.Who + 1) % 3]}" } : new PieceGiven { Kind = PieceKind.Case, To = "firms/polisher" },
        17 => new PiecePut { Kind = act.Tap ? PieceKind.Movement : null, To = "places/safe" },
        18 => new DamageSeen { Condition = "a scratch", AsReceived = act.Tap },
        19 => act.Tap ? story.Quote((story.Job.Quotes.Newest?.Version ?? 0) + 1) : Story.Answer(accepted: act.Who > 0, version: story.Job.Quotes.Newest?.Version ?? 1),
        20 => act.Tap ? new SealSeen { State = SealState.Broken } : new ClaimReported { Claim = 1, ReportedOn = new LocalDate(2026, 6, 1), Text = "?" },
        _ => null,
    };
}
