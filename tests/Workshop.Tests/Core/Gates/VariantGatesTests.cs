using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Tests.Core.Route;

namespace Workshop.Tests.Core.Gates;

public class VariantGatesTests
{
    public static TheoryData<string, Stage, string, string, string> Sentences => new()
    {
        { "regulation", Stage.Rebuild, "Regulation rules out rebuild", "Nur Regulieren schließt aus: Zusammenbau", "a manager, by changing the kind of work to full service, automatic" },
        { "vintage", Stage.WaterTest, "Vintage rules out water test", "Historische Uhr schließt aus: Dichtheitsprüfung", "a manager, by changing the kind of work to case or crystal or full service, automatic or full service, chronograph" },
        { "cell-and-seals", Stage.DialAndHands, "Cell and seals has no dial and hands", "Batterie und Dichtungen ohne Zifferblatt und Zeiger", "a manager, by changing the kind of work to quartz, movement exchanged" },
        { "x-partial-repair", Stage.ReturnUnrepaired, "Partial repair has no return unrepaired", "Teilreparatur ohne Rückgabe unrepariert", "a manager, by changing the kind of work" },
    };

    [Theory, MemberData(nameof(Sentences))]
    public void A_stage_that_is_ruled_out_is_refused_with_the_kind_of_work_and_what_would_have_it(string variant, Stage stage, string english, string german, string helps)
    {
        var refused = KindsOfWork.Begin(KindsOfWork.Shop.Routes[variant]).RefusedBy(new StageStarted { Stage = stage });

        Assert.Equal(("in-route", Strength.Stop, false), (refused.Gate, refused.Strength, refused.Waivable));
        Assert.Equal(english, refused.Line.ToString());
        Assert.Equal(german, refused.Line.In(Language.German));
        Assert.Equal(helps, refused.Helps.ToString());
        Assert.Equal(variant, refused.Names["variant"]);
    }

    [Fact]
    public void A_watch_that_goes_back_unrepaired_says_so()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.Equal("It goes back unrepaired: no takedown", story.RefusedBy(new StageStarted { Stage = Stage.Takedown }).Line.ToString());
    }

    [Theory]
    [InlineData(229.9, true)]
    [InlineData(230, false)]
    public void A_low_amplitude_is_serviced_and_not_regulated(double degrees, bool refused)
    {
        var story = KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote).Does(Measured(WindState.Full, (decimal)degrees));

        var against = story.Says(new StageStarted { Stage = Stage.Regulation }).Against;

        Assert.Equal(refused ? ["amplitude-for-regulation"] : [], against.Select(one => one.Gate));
        if (refused)
        {
            Assert.Equal("229.9° dial up is under 230°: offer a service", against[0].Line.ToString());
            Assert.Equal("229,9° Zifferblatt oben, unter 230°: Revision anbieten", against[0].Line.In(Language.German));
            Assert.Equal("a manager, by changing the kind of work to full service, automatic", against[0].Helps.ToString());
        }
    }

    [Fact]
    public void An_amplitude_told_while_regulation_runs_stands_against_its_end()
    {
        var story = KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote).Start(Stage.Regulation).Does(Measured(WindState.Full, 210));

        Assert.Equal("amplitude-for-regulation", story.RefusedBy(new StageFinished { Stage = Stage.Regulation }).Gate);
    }

    [Fact]
    public void A_manager_may_have_it_regulated_all_the_same()
    {
        var story = KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote).Does(Measured(WindState.Full, 210));

        story.Does(new WaiverGiven { Gate = "amplitude-for-regulation", Reason = "the customer knows" }, TestShop.Manager).Start(Stage.Regulation);
    }

    [Fact]
    public void An_amplitude_of_half_a_spring_says_nothing() =>
        KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote).Does(Measured(WindState.Part, 180)).Start(Stage.Regulation);

    [Fact]
    public void The_amplitude_measured_last_counts() =>
        KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote).Does(Measured(WindState.Full, 180)).Does(Measured(WindState.Full, 262)).Start(Stage.Regulation);

    [Fact]
    public void A_full_service_is_not_refused_for_the_amplitude_it_cures() =>
        KindsOfWork.Begin(TestShop.FullAutomatic).Does(Measured(WindState.Full, 180)).Through(Stage.Regulation);

    [Fact]
    public void A_rate_set_of_a_quartz_watch_has_no_figures_of_a_balance()
    {
        var story = KindsOfWork.Begin(KindsOfWork.QuartzExchange);

        var told = story.Says(new RateSetRecorded { LiftAngleDegrees = 52, Readings = [new RateReading(Position.DialUp, 0.1m), new RateReading(Position.DialDown, 0.2m, 280, 0.1m)] });

        Assert.Equal(Outcome.Refused, told.Outcome);
        Assert.Equal(["/liftAngleDegrees", "/readings/1/amplitudeDegrees", "/readings/1/beatErrorMilliseconds"], told.Faults.Select(fault => fault.Pointer));
        Assert.Equal(Outcome.Accepted, story.Says(new RateSetRecorded { Readings = [new RateReading(Position.DialUp, 0.1m)] }).Outcome);
    }

    [Fact]
    public void Figures_of_a_balance_are_no_more_a_quartz_watchs_when_they_are_told_late()
    {
        var story = KindsOfWork.Begin(KindsOfWork.QuartzExchange);
        var at = story.Now + Duration.FromMinutes(1);

        Assert.Single(story.After(Duration.FromHours(3)).Says(new RateSetRecorded { Readings = [new RateReading(Position.DialUp, 0.1m, 280)] }, at: at).Faults);
    }

    [Fact]
    public void Nobody_is_asked_whether_a_quartz_watch_is_wound_and_its_own_window_judges_it()
    {
        var story = KindsOfWork.Begin(KindsOfWork.QuartzExchange).Through(Stage.Casing);

        story.Does(new WearCheckStarted { Kind = WearCheckKind.Worn, OffsetSeconds = 0, ReadBy = ReadBy.Photo });

        Assert.Equal(new RateWindow(-0.5m, 0.5m), story.Job.WearChecks.Running!.Terms.Window);
        Assert.Equal(Duration.FromHours(72), story.Job.WearChecks.Running.Terms.Owed);
        story.After(Duration.FromHours(72)).Does(new WearCheckRead { Kind = WearCheckKind.Worn, OffsetSeconds = 0.3m, ReadBy = ReadBy.Photo });
        Assert.Equal(StageState.Done, story[Stage.WearCheck]);
    }

    [Fact]
    public void Where_the_kind_of_work_names_no_window_its_tolerance_kind_judges_the_worn_check()
    {
        var story = KindsOfWork.Begin(KindsOfWork.Vintage).Through(Stage.Casing).Does(Story.WearStart());

        Assert.Equal(new RateWindow(-20, 30), story.Job.WearChecks.Running!.Terms.Window);
    }

    private static RateSetRecorded Measured(WindState wind, decimal degrees) =>
        new() { WindState = wind, LiftAngleDegrees = 52, Readings = [new RateReading(Position.DialUp, 4, degrees), new RateReading(Position.CrownDown, 2, degrees - 20)] };
}
