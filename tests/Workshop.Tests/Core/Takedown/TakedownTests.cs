using CsCheck;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Notes;
using Workshop.Core.Route;
using Workshop.Core.Takedown;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.Takedown;

/// <summary>How a movement comes apart: what comes out first, and how it is read backwards.</summary>
public class TakedownTests
{
    private static readonly TakedownTerms Automatic = TakedownTerms.Of(CalibreKind.Automatic, null, null, TakedownRules.Usual);

    [Theory]
    [InlineData("pallets")]
    [InlineData("pallet-bridge")]
    [InlineData("train-bridge")]
    [InlineData("barrel-bridge")]
    [InlineData("barrel")]
    public void Nothing_under_the_mainsprings_force_comes_out_before_the_let_down(string part)
    {
        var story = AtTakedown();

        var refused = story.RefusedBy(Out(2, part));
        story.Does(new TakedownLetDown { Step = 1 });
        story.Does(Out(2, part));

        Assert.Equal(("takedown-order/let-down", Strength.Stop, "let-down"), (refused.Gate, refused.Strength, refused.Names["missing"]));
    }

    [Fact]
    public void A_let_down_at_a_higher_step_does_not_count_for_a_lower_one()
    {
        var story = AtTakedown().Does(new TakedownLetDown { Step = 5 });

        Assert.Equal("takedown-order/let-down", story.RefusedBy(Out(4.5m, "pallets")).Gate);
        story.Does(Out(5.5m, "pallets"));
    }

    [Fact]
    public void The_winding_works_of_an_automatic_are_freed_before_the_let_down_and_of_no_other()
    {
        var story = AtTakedown(Automatic);
        var refused = story.RefusedBy(new TakedownLetDown { Step = 3 });
        story.Does(Out(2, "reversers"));
        story.Does(new TakedownLetDown { Step = 3 });

        AtTakedown().Does(new TakedownLetDown { Step = 3 });

        Assert.Equal(("takedown-order/automatic-bridge", Strength.Ask), (refused.Gate, refused.Strength));
        Assert.Equal("First: automatic bridge or reversers", refused.Line.ToString());
    }

    [Fact]
    public void An_order_that_asks_is_tapped_through_and_one_that_stops_is_waived_once()
    {
        var story = AtTakedown();
        story.Refused(Out(1, "dial"));
        story.Does(Out(1, "dial"), despite: ["takedown-order/hands"]);

        Assert.Equal(Outcome.Refused, story.Says(Out(2, "pallets"), despite: ["takedown-order/let-down"]).Outcome);
        story.Does(new WaiverGiven { Gate = "takedown-order/let-down", Reason = "the spring is broken" }, TestShop.Manager);
        story.Does(Out(2, "pallets"));
        Assert.Equal("takedown-order/let-down", story.RefusedBy(Out(3, "barrel")).Gate);
    }

    [Fact]
    public void The_cannon_pinion_comes_before_the_centre_wheel_where_the_calibre_says_so()
    {
        var plan = new TakedownPlan { Orders = [new OrderRule { First = ["cannon-pinion"], Then = ["centre-wheel"], Strength = Strength.Stop }] };
        var story = AtTakedown(TakedownTerms.Of(CalibreKind.HandWound, "tirvalle-41", plan, TakedownRules.Usual));

        var refused = story.RefusedBy(Out(1, "centre-wheel"));
        story.Does(Out(1, "cannon-pinion"));
        story.Does(Out(2, "centre-wheel"));
        AtTakedown().Does(Out(1, "centre-wheel"));

        Assert.Equal("takedown-order/cannon-pinion", refused.Gate);
    }

    [Fact]
    public void What_a_step_itself_says_comes_before_it_is_asked_for_and_free_text_takes_part_in_no_rule()
    {
        var story = AtTakedown();

        Assert.Equal("takedown-order/jumper plate", story.RefusedBy(Out(2, "jumper") with { Needs = ["jumper plate"] }).Gate);
        story.Does(Out(1, "jumper plate"));
        story.Does(Out(2, "jumper") with { Needs = ["jumper plate"] });
        story.Does(Out(3, "the pallets, all of them"));
    }

    [Fact]
    public void A_number_is_given_once_and_the_refusal_names_one_between()
    {
        var story = AtTakedown().Does(Out(3, "hands")).Does(Out(4, "dial"));
        var refused = story.RefusedBy(Out(3, "stem"));

        Assert.Equal("takedown-step-free", refused.Gate);
        Assert.Equal("a number between two steps, such as 3.5", refused.Helps.ToString());
        Assert.Equal("5", refused.Names["next"]);
    }

    [Fact]
    public void A_right_value_takes_the_place_and_may_have_the_number_of_the_wrong_one()
    {
        var story = AtTakedown().Does(Out(1, "hands"));
        var wrong = story.Entries[^1].Id;

        var decision = story.Says(Out(1, "stem"), insteadOf: wrong);

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Equal(["stem"], story.Job.Takedown.Steps.Select(step => step.Part));
    }

    [Fact]
    public void A_let_down_that_a_later_step_rests_on_is_not_taken_back_alone()
    {
        var story = AtTakedown().Does(new TakedownLetDown { Step = 1 });
        var letDown = story.Entries[^1].Id;
        story.Does(Out(2, "pallets"));

        Assert.Equal("needed-later", story.RefusedBy(new Workshop.Core.Corrections.CorrectionMade { Of = letDown, Reason = "it was another watch" }).Gate);
    }

    [Fact]
    public void A_step_that_was_done_out_of_order_and_told_late_is_noted_and_the_job_waits()
    {
        var story = AtTakedown().After(Duration.FromHours(2));
        var decision = story.Says(Out(2, "pallets"), at: story.Now - Duration.FromHours(1));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.False(story.Job.Takedown.HasBegun);
        Assert.True(story.Job.Holds.Holds(Workshop.Core.Holds.HoldReason.Query));

        // The let-down is told at last, for a time before: the report looks again and counts.
        story.Does(new TakedownLetDown { Step = 1 }, at: story.Now - Duration.FromMinutes(90));
        Assert.Equal(["let-down", "pallets"], story.Job.Takedown.Steps.Select(step => step.Part));
    }

    [Fact]
    public void Takedown_ends_without_a_let_down_only_where_nobody_wrote_a_step_down_or_there_is_no_spring()
    {
        AtTakedown().Does(new StageFinished { Stage = Stage.Takedown });

        var told = AtTakedown().Does(Out(1, "hands"));
        Assert.Equal("let-down", told.RefusedBy(new StageFinished { Stage = Stage.Takedown }).Gate);
        told.Does(new TakedownLetDown { Step = 2 });
        told.Does(new StageFinished { Stage = Stage.Takedown });

        AtTakedown(TakedownTerms.Of(CalibreKind.Quartz, null, null, TakedownRules.Usual)).Does(Out(1, "hands")).Does(new StageFinished { Stage = Stage.Takedown });
    }

    [Fact]
    public void Inspection_asks_about_what_must_be_put_right_until_somebody_found_it_in_order()
    {
        var story = AtTakedown();
        story.Does(new FindingRecorded { System = WatchSystem.PowerAndTrain, Part = "barrel", Condition = "wall scored", Severity = Severity.Must, AsReceived = true });
        story.Does(new FindingRecorded { System = WatchSystem.DialSide, Part = "date-jumper", Condition = "tip worn", Severity = Severity.Should });
        story.Does(new StageFinished { Stage = Stage.Takedown }).Does(new StageFinished { Stage = Stage.Cleaning });

        var refused = story.RefusedBy(new StageFinished { Stage = Stage.Inspection });
        story.Does(new InspectionRecorded { System = WatchSystem.PowerAndTrain, Part = "click", Result = InspectionResult.Ok });
        story.Does(new InspectionRecorded { System = WatchSystem.PowerAndTrain, Result = InspectionResult.Replace });
        Assert.Equal("must-findings", story.RefusedBy(new StageFinished { Stage = Stage.Inspection }).Gate);
        story.Does(new InspectionRecorded { System = WatchSystem.PowerAndTrain, Part = "barrel", Result = InspectionResult.Ok });
        story.Does(new StageFinished { Stage = Stage.Inspection });

        Assert.Equal(("must-findings", Strength.Ask, "barrel: wall scored"), (refused.Gate, refused.Strength, refused.Names["findings"]));
        Assert.Equal("finding.recorded", Assert.Single(refused.Entries).Type);
        Assert.Equal(["tip worn"], story.Job.Takedown.Findings.Where(one => one.IsOpen).Select(one => one.Condition));
    }

    [Fact]
    public void A_finding_told_after_lunch_counts_though_inspection_was_finished_meanwhile()
    {
        var story = new Story().Through(Stage.Inspection).After(Duration.FromHours(3));
        var decision = story.Says(new FindingRecorded { System = WatchSystem.Escapement, Condition = "stone loose", Severity = Severity.Must }, at: story.Now - Duration.FromHours(2));

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Equal("stone loose", Assert.Single(story.Job.Takedown.OpenMust).Condition);
    }

    [Fact]
    public void The_reverse_list_has_a_section_for_each_unbroken_stretch_and_turns_cautions_and_orders_round()
    {
        var story = AtTakedown();
        story.Does(Out(1, "hands", WatchSystem.DialSide) with { Photos = [Photo(1)] });
        story.Does(Out(2, "dial", WatchSystem.DialSide));
        story.Does(new TakedownLetDown { Step = 3, System = WatchSystem.PowerAndTrain });
        story.Does(Out(4, "pallets", WatchSystem.Escapement) with { Caution = TurnedCaution.SpringTension, Screws = [new ScrewNote("pallet bridge", 2, ScrewHead.Flush, ScrewFinish.Polished, 1.4m)] });
        story.Does(Out(5, "barrel", WatchSystem.PowerAndTrain));
        story.Does(Out(1.5m, "hour-wheel", WatchSystem.Keyless) with { Photos = [Photo(2)] });
        story.Does(new FindingRecorded { System = WatchSystem.PowerAndTrain, Condition = "old grease", Severity = Severity.Should });
        var plan = new TakedownPlan { OilPlan = [new OilLine(WatchSystem.PowerAndTrain, "train pivots", "thin oil"), new OilLine(WatchSystem.PowerAndTrain, "barrel wall", "braking grease", "barrel"), new OilLine(WatchSystem.Automatic, "rotor", "thin grease")] };

        var list = ReverseList.Of(story.Job.Takedown, plan);

        Assert.Equal<WatchSystem?>(
            [WatchSystem.PowerAndTrain, WatchSystem.Escapement, WatchSystem.PowerAndTrain, WatchSystem.DialSide, WatchSystem.Keyless, WatchSystem.DialSide],
            list.Sections.Select(section => section.System));
        Assert.Equal([5, 4, 3, 2, 1.5m, 1], list.Sections.SelectMany(section => section.Steps).Select(step => step.Taken.Step));
        Assert.Equal("Goes in last, under tension", TurnedCaution.Of(list.Sections[1].Steps[0].Taken)!.ToString());
        Assert.StartsWith("Wind only when", TurnedCaution.Of(list.Sections[2].Steps[0].Taken)!.ToString());
        Assert.Equal<string>(["hands"], list.Sections[3].Steps[0].GoInAfter);
        Assert.Equal(["braking grease"], list.Sections[0].Steps[0].Oil.Select(line => line.Lubricant));
        Assert.Equal(["thin oil"], list.Sections[0].Oil.Select(line => line.Lubricant));
        Assert.Empty(list.Sections[2].Oil);
        Assert.Equal(["old grease"], list.Sections[0].Findings.Select(one => one.Condition));
        Assert.Equal(["rotor"], list.OilElsewhere.Select(line => line.Place));
    }

    [Fact]
    public void However_steps_are_told_the_reverse_list_is_their_exact_reverse_with_each_photo_at_its_step()
    {
        var steps = Gen.Select(Gen.Int[1, 4_000].HashSet[0, 24], Gen.Enum<WatchSystem>().Array[24], Gen.Int);
        steps.Sample((numbers, systems, seed) =>
        {
            var inOrder = numbers.Order().Select((number, i) => (Step: number / 4m, Part: $"part {number}", System: systems[i], Photo: Photo(number))).ToArray();
            var told = inOrder.ToArray();
            new Random(seed).Shuffle(told);
            var story = AtTakedown();
            foreach (var one in told)
            {
                story.After(Duration.FromSeconds(1)).Does(Out(one.Step + 1, one.Part, one.System) with { Photos = [one.Photo] });
            }

            var list = ReverseList.Of(story.Job.Takedown, null);

            Assert.Equal(
                inOrder.Reverse().Select(one => (one.Step + 1, (string?)one.Part, (WatchSystem?)one.System, one.Photo)),
                list.Sections.SelectMany(section => section.Steps.Select(step => (step.Taken.Step, step.Taken.Part, section.System, step.Taken.Photos.Single()))));
            Assert.All(list.Sections.Zip(list.Sections.Skip(1)), pair => Assert.NotEqual(pair.First.System, pair.Second.System));
        }, iter: 60);
    }

    [Fact]
    public void A_takedown_saved_as_the_plan_agrees_with_it_and_the_next_one_shows_what_differs()
    {
        var first = AtTakedown().Does(Out(1, "hands")).Does(Out(1.5m, "hour-wheel")).Does(Out(2, "dial")).Does(Out(3, "stem"))
            .Does(Out(4, "rotor") with { Screws = [new ScrewNote("rotor", 1, ScrewHead.Raised, null, 2m)] });
        var plan = PlanComparison.PlanOf(first.Job.Takedown.Steps, new Dictionary<string, int> { ["train"] = 9 }, null);
        Assert.Empty(PlanComparison.Differences(plan, first.Job.Takedown.Steps, new Dictionary<string, int> { ["train"] = 9 }));
        Assert.Empty(plan.Faults(""));

        var next = AtTakedown().Does(Out(1, "stem")).Does(Out(2, "hands")).Does(Out(2.5m, "hour-wheel")).Does(Out(3, "yoke"))
            .Does(Out(4, "rotor") with { Screws = [new ScrewNote("Rotor", 1, ScrewHead.Raised, null, 2.4m)] });

        Assert.Equal(
            [
                (PlanDifferenceKind.MissingStep, "dial", "dial out", null),
                (PlanDifferenceKind.ExtraStep, "yoke", null, "yoke out"),
                (PlanDifferenceKind.OtherOrder, "stem", "dial", null),
                (PlanDifferenceKind.DifferentCount, "train", "9", "8"),
                (PlanDifferenceKind.OtherScrews, "Rotor", "1 raised 2 mm", "1 raised 2.4 mm"),
            ],
            PlanComparison.Differences(plan, next.Job.Takedown.Steps, new Dictionary<string, int> { ["train"] = 8 }).Select(one => (one.Kind, one.What, one.Planned, one.Told)));
    }

    [Fact]
    public void A_plan_that_breaks_its_own_orders_is_refused_with_the_step_named()
    {
        var plan = new TakedownPlan
        {
            Steps = [new PlanStep { Text = "wheel", Part = "centre-wheel" }, new PlanStep { Text = "pinion", Part = "cannon-pinion", Needs = ["dial"] }, new PlanStep { Text = "again", Part = "centre-wheel" }],
            Orders = [new OrderRule { First = ["cannon-pinion"], Then = ["centre-wheel"] }, new OrderRule { First = ["dial"], Then = ["dial"] }],
            Screws = [new ScrewNote("bridge", 0), new ScrewNote(" Bridge", 2)],
        };

        Assert.Equal(
            ["/plan/steps/1/needs/0", "/plan/steps/2/part", "/plan/orders/1/then", "/plan/steps/0/part", "/plan/screws/1/place", "/plan/screws/0/count"],
            plan.Faults("/plan").Select(fault => fault.Pointer));
    }

    [Theory]
    [InlineData(0, "/step")]
    [InlineData(1.00005, "/step")]
    [InlineData(10_000, "/step")]
    public void A_step_has_a_number_that_can_be_one(double step, string pointer) =>
        Assert.Equal([pointer], EventFaults.Of(Out((decimal)step, "hands")).Select(fault => fault.Pointer));

    [Fact]
    public void What_is_wrong_in_a_step_is_named_field_by_field() => Assert.Equal(
        ["/photos/0", "/photos/2", "/text", "/part", "/needs/0", "/screws/0/lengthMillimetres", "/keptWith/group"],
        EventFaults.Of(new TakedownStep
        {
            Step = 1,
            Text = " ",
            Part = "let-down",
            Needs = ["let-down"],
            Photos = ["A", Photo(1), Photo(1)],
            Screws = [new ScrewNote("bridge", 1, LengthMillimetres: 30)],
            KeptWith = new KeptWith("shim", ""),
        }).Select(fault => fault.Pointer));

    private static Story AtTakedown(TakedownTerms? terms = null) => new Story { Takedown = terms ?? TakedownTerms.Unknown }.Through(Stage.Quote);

    private static TakedownStep Out(decimal step, string part, WatchSystem? system = null) => new() { Step = step, Text = $"{part} out", Part = part, System = system };

    private static string Photo(int number) => number.ToString("x64", System.Globalization.CultureInfo.InvariantCulture);
}
