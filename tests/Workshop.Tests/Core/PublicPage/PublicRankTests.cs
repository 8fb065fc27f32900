using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.PublicPage;

/// <summary>
/// Whatever happens in the house, in whatever order it is told, the stage a customer sees never falls; it does for what the customer
/// decides, which an approval is. Each seed is a life of its own.
/// </summary>
public class PublicRankTests
{
    private const int Steps = 100;

    private static readonly Stage[] Told =
        [Stage.Diagnosis, Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.DialAndHands, Stage.ReserveAndFunctions, Stage.Settlement];

    private static readonly HoldReason[] Holds =
        [HoldReason.Customer, HoldReason.Parts, HoldReason.OutsideFirm, HoldReason.Person, HoldReason.Query, HoldReason.Damage, HoldReason.Loss, HoldReason.Dispute, HoldReason.Legal, HoldReason.Other];

    [Fact]
    public void The_stage_shown_never_falls_but_for_what_the_customer_decides()
    {
        var (fell, reachedTheEnd, decided) = (new List<string>(), 0, 0);
        for (var seed = 1; seed <= 60; seed++)
        {
            var (story, chance) = (new Story { FoldsOnlyAtItsEnd = true }, new Random(seed));
            story = (seed % 4) switch { 0 => story, 1 => story.Through(Stage.Rebuild), 2 => story.Through(Stage.WearCheck), _ => story.Through(Stage.Settlement) };
            for (var step = 0; step < Steps; step++)
            {
                var before = story.Job;
                var one = Something(story, chance);
                story.After(Duration.FromMinutes(chance.Next(1, 600)));
                var late = chance.Next(4) == 0;
                var decision = story.Says(
                    one, one is FinalControlPassed or FinalControlRefused ? TestShop.Jonas : TestShop.Manager, at: late ? story.Now - Duration.FromHours(chance.Next(1, 60)) : null, role: "manager", despite: [.. Asked(story)]);
                var (was, now) = (PublicRank.Of(before.Progress.Reached), PublicRank.Of(story.Job.Progress.Reached));
                if (now >= was)
                {
                    continue;
                }

                // A decision brings the stage to approved, and what was told of later moments follows upon it.
                if (decision.Entries.Any(entry => entry.Entry.Event is QuoteAnswered { Accepted: true } or VariantChanged) && now >= PublicRank.Of(PublicStage.Approved))
                {
                    decided++;
                    continue;
                }

                fell.Add($"seed {seed}, step {step}: {one.Type} {(late ? "told late" : "")} brought {before.Progress.Reached} to {story.Job.Progress.Reached}");
            }

            reachedTheEnd += story.Job.Progress.HasLeft ? 1 : 0;
            Assert.Equal(Job.Replay(story.Label, story.Entries).Progress.Reached, story.Job.Progress.Reached);
        }

        Assert.Empty(fell);
        Assert.True(reachedTheEnd > 5 && decided > 10, $"{reachedTheEnd} lives reached the end, {decided} decisions began anew: too few to say anything");
    }

    [Fact]
    public void Every_public_stage_but_the_wait_for_a_part_has_a_rank()
    {
        Assert.All(Enum.GetValues<PublicStage>().Except([PublicStage.WaitingForPart]), stage => Assert.NotNull(PublicRank.Of(stage)));
        Assert.Null(PublicRank.Of(PublicStage.WaitingForPart));
        Assert.Equal(PublicRank.Of(PublicStage.AtTheWatchmaker), PublicRank.Of(PublicStage.CaseInWork));
        Assert.Equal(PublicRank.Of(PublicStage.YoursAgain), PublicRank.Of(PublicStage.Returned));
    }

    private static WorkshopEvent Something(Story story, Random chance)
    {
        var newest = story.Job.Quotes.Newest;
        return chance.Next(20) switch
        {
            0 or 1 => new StageStarted { Stage = Told[chance.Next(Told.Length)] },
            2 or 3 or 4 or 5 or 6 => Next(story, chance),
            7 => new StageSentBack { Stage = Stage.DialAndHands, To = Told[1 + chance.Next(5)], Reason = "again" },
            8 => new CaseOpened { Reason = "look" },
            9 => chance.Next(2) == 0 ? new IndexTouched() : Story.WaterTest(passed: false),
            10 => new FinalControlRefused { To = Stage.DialAndHands, Reason = "a fibre" },
            11 => new HoldPlaced { Hold = Holds[chance.Next(Holds.Length)] },
            12 or 13 => new HoldLifted { Hold = story.Job.Holds.Standing.FirstOrDefault()?.Reason ?? HoldReason.Other },
            14 => chance.Next(3) == 0 ? story.Quote((newest?.Version ?? 0) + 1) : Next(story, chance),
            15 => newest is { Accepted: null } ? Story.Answer(chance.Next(4) > 0, newest.Version) : Next(story, chance),
            16 => chance.Next(8) > 0 ? Next(story, chance)
                : new VariantChanged { Variant = story.Job.Intake.Variant == "full-automatic" ? "full-chronograph" : "full-automatic", Was = story.Job.Intake.Variant, Reason = "it is one" },
            17 => story.Job.Progress.Reached == PublicStage.OnItsWay ? new DeliveryRecorded { On = story.Rules.Calendar.DateOf(story.Now) } : Next(story, chance),
            _ => Next(story, chance),
        };
    }

    // What would be done next by somebody who goes on.
    private static WorkshopEvent Next(Story story, Random chance) => story.Job.Standings.Current switch
    {
        Stage.Quote => story.Job.Quotes.Newest is { Accepted: null } open ? Story.Answer(version: open.Version) : story.Quote((story.Job.Quotes.Newest?.Version ?? 0) + 1),
        Stage.Casing => story.Closing(),
        Stage.WaterTest => Story.WaterTest(),
        Stage.WearCheck => story.Job.WearChecks.Running is { } running ? Story.WearRead(chance.Next(4) == 0 ? 90 : 3 * (decimal)(story.Now - running.StartedAt).TotalDays) : Story.WearStart(),
        Stage.FinalControl => chance.Next(3) == 0 ? new StageStarted { Stage = Stage.FinalControl } : story.AllChecksOk,
        Stage.HandedOver => story.HandedOver() with { How = (HandedOverHow)chance.Next(2) },
        { } stage => new StageFinished { Stage = stage },
        null => new StageFinished { Stage = Stage.Diagnosis },
    };

    // Whoever goes on taps through what asks.
    private static IEnumerable<string> Asked(Story story) => story.Job.Standings.Plan.Select(planned => $"needs/{Word.Of(planned.Stage)}");
}
