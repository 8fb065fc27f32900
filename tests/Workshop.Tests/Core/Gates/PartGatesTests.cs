using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Gates;

/// <summary>The gates around spare parts. Common practice of the trade.</summary>
public class PartGatesTests
{
    private const string Stem = "stem-41";
    private static readonly Label Other = Label.Complete(LabelKind.Job, [6, 5, 4, 3, 2, 1]);
    private static readonly Label Third = Label.Complete(LabelKind.Job, [6, 5, 4, 3, 2, 2]);

    [Fact]
    public void A_movement_is_not_taken_apart_while_an_essential_part_is_to_come_unless_somebody_means_it()
    {
        var story = new Story().Through(Stage.Quote);
        Expect(story, essential: true);

        var gate = story.After(Duration.FromMinutes(5)).RefusedBy(new StageStarted { Stage = Stage.Takedown });
        Assert.Equal(("essential-parts", Strength.Ask, Stem, "po-1", "2026-03-16"), (gate.Gate, gate.Strength, gate.Names["part"], gate.Names["order"], gate.Names["expectedOn"]));

        story.Does(new StageStarted { Stage = Stage.Takedown }, despite: ["essential-parts"]);
    }

    [Fact]
    public void A_part_that_can_wait_or_is_here_does_not_stand_in_the_way()
    {
        var story = new Story().Through(Stage.Quote);
        Expect(story, essential: false);
        Expect(story, essential: true, part: "crown-7");
        story.After(Duration.FromMinutes(5)).Does(new PartReceived { Part = "crown-7", Order = "po-1" });

        story.Start(Stage.Takedown);
    }

    [Fact]
    public void Of_the_last_one_two_watches_are_not_both_told_yes()
    {
        var story = new Story { StockOf = _ => new PartStock(1, [new(Other, 1)]) };

        var gate = story.RefusedBy(new PartReserved { Part = Stem }, despite: ["part-free"]);

        Assert.Equal(("part-free", Strength.Stop, "1", "0", Other.ToString()), (gate.Gate, gate.Strength, gate.Names["onShelf"], gate.Names["free"], gate.Names["reservedFor"]));
    }

    [Fact]
    public void What_an_order_will_bring_may_be_set_aside_with_an_empty_shelf() =>
        new Story { StockOf = _ => new PartStock(0, []) }.Does(new PartReserved { Part = Stem, Order = "po-1" });

    [Fact]
    public void A_part_nobody_has_written_down_is_asked_about_in_no_gate() =>
        new Story().Does(new PartReserved { Part = Stem, Count = 40 }).Does(new PartFitted { Part = Stem, Count = 41 });

    [Fact]
    public void Another_watchs_part_is_asked_about_with_its_dates_and_then_released_there()
    {
        var other = new Story().Through(Stage.Quote).Does(new PartReserved { Part = Stem });
        var story = new Story().At(other.Now);
        story.StockOf = _ => new PartStock(1, [new(Other, 1)], Essential: true);
        story.OtherJob = label => label == Other ? other.Job : null;
        var before = PromiseForecast.Of(other.Job, other.Rules)!.On(other.Rules.Calendar.DateOf(other.Now));

        var gate = story.RefusedBy(new PartFitted { Part = Stem });
        Assert.Equal(("reserved-for", Strength.Ask, Other.ToString()), (gate.Gate, gate.Strength, gate.Names["reservedFor"]));
        Assert.Equal(($"{other.Job.Promise.On:uuuu-MM-dd}", $"{before:uuuu-MM-dd}"), (gate.Names["promisedOn"], gate.Names["forecast"]));

        var decision = story.Says(new PartFitted { Part = Stem }, despite: ["reserved-for"]);

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        var (stream, entry) = Assert.Single(story.Elsewhere);
        var released = Assert.IsType<PartReleased>(entry.Event);
        Assert.Equal(($"job/{Other}", story.Label.ToString(), 1), (stream, released.TakenBy, released.Pieces()));
        Assert.Equal<string>([EntryFlag.PartTaken], entry.Flags);

        // Ten open days after Monday, 2 March: the usual time of a part.
        Assert.Equal((new LocalDate(2026, 3, 16), true), (released.ExpectedOn, released.Essential));
        var after = other.Job.Apply(entry with { StreamVersion = other.Job.Version + 1 });
        Assert.Equal(0, after.Parts.Reserved(Stem));
        Assert.Equal(gate.Names["forecastAfter"], $"{PromiseForecast.Of(after, other.Rules)!.On(other.Rules.Calendar.DateOf(other.Now)):uuuu-MM-dd}");
    }

    [Fact]
    public void The_watch_that_was_promised_last_gives_first()
    {
        var early = new Story().Through(Stage.Quote);
        var late = new Story(begins: early.Now + Duration.FromDays(3)).Through(Stage.Quote);
        var story = new Story
        {
            StockOf = _ => new PartStock(2, [new(Other, 1), new(Third, 1)]),
            OtherJob = label => label == Other ? early.Job : late.Job,
        };

        story.Says(new PartFitted { Part = Stem }, despite: ["reserved-for"]);

        Assert.Equal($"job/{Third}", Assert.Single(story.Elsewhere).Stream);
    }

    [Fact]
    public void What_is_set_aside_for_the_watch_itself_and_what_is_free_is_simply_fitted()
    {
        var story = new Story { StockOf = _ => new PartStock(1, []) }.Does(new PartReserved { Part = Stem });
        story.StockOf = _ => new PartStock(2, [new(story.Label, 1), new(Other, 1)]);

        story.Does(new PartFitted { Part = Stem });

        Assert.Empty(story.Elsewhere);
    }

    [Fact]
    public void A_shelf_that_is_empty_by_count_is_asked_about()
    {
        var story = new Story { StockOf = _ => new PartStock(0, []) };

        Assert.Equal(("part-free", Strength.Ask), story.RefusedBy(new PartFitted { Part = Stem }) is var gate ? (gate.Gate, gate.Strength) : default);
        story.Does(new PartFitted { Part = Stem }, despite: ["part-free"]);
    }

    private static void Expect(Story story, bool essential, string part = Stem) => story.Does(
        new PartExpected { Part = part, Order = "po-1", Count = 1, ExpectedOn = new LocalDate(2026, 3, 16), Essential = essential }, by: null, role: "service", source: EventId.Service);
}
