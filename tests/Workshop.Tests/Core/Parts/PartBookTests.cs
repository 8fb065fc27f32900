using CsCheck;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Parts;

/// <summary>Spare parts of a job: what is set aside, awaited, fitted, and what that does to the shelf.</summary>
public class PartBookTests
{
    private const string Stem = "stem-41";
    private static readonly Label Other = Label.Complete(LabelKind.Job, [6, 5, 4, 3, 2, 1]);

    [Fact]
    public void A_part_of_a_delivery_leaves_the_rest_awaited()
    {
        var story = Expecting(3, new LocalDate(2026, 3, 16)).Does(new PartReceived { Part = Stem, Order = "po-1", Count = 2 });

        Assert.Equal(2, story.Job.Parts.Reserved(Stem));
        Assert.Equal((1, new LocalDate(2026, 3, 16)), Assert.Single(story.Job.Parts.Awaited()) is var awaited ? (awaited.Count, awaited.On!.Value) : default);
        Assert.Equal((2, 2), Sums(story));
    }

    [Fact]
    public void A_wrong_delivery_is_not_on_the_shelf_and_is_awaited_all_the_same()
    {
        var story = Expecting(1, new LocalDate(2026, 3, 16)).Does(new PartReceived { Part = Stem, Order = "po-1", Fits = false });

        Assert.Equal((0, 0), Sums(story));
        Assert.Equal((1, 1), (Assert.Single(story.Job.Parts.Ordered).Wrong, Assert.Single(story.Job.Parts.Awaited()).Count));
    }

    [Fact]
    public void What_does_not_fit_beside_the_old_part_is_awaited_anew()
    {
        var story = Expecting(1, new LocalDate(2026, 3, 16)).Does(new PartReceived { Part = Stem, Order = "po-1" }).Does(new PartChecked { Part = Stem, Fits = true });
        Assert.Empty(story.Job.Parts.Awaited());

        story.Does(new PartChecked { Part = Stem, Fits = false });

        Assert.Equal((0, 0), Sums(story));
        Assert.Equal(1, Assert.Single(story.Job.Parts.Awaited()).Count);
    }

    [Fact]
    public void A_day_that_slips_moves_the_forecast_and_not_the_promise()
    {
        var story = new Story().Through(Stage.Quote);
        var promised = story.Job.Promise.On!.Value;
        Expect(story, 1, new LocalDate(2026, 3, 10));
        var before = PromiseForecast.Of(story.Job, story.Rules)!.On(Today(story));
        Assert.Null(PromiseRisk.Of(story.Job, story.Rules, story.Now));

        Expect(story.After(Duration.FromHours(1)), 1, new LocalDate(2026, 4, 10), was: new LocalDate(2026, 3, 10));

        var risk = PromiseRisk.Of(story.Job, story.Rules, story.Now)!;
        Assert.Equal(promised, story.Job.Promise.On);
        Assert.True(risk.Forecast > before && risk.Forecast > new LocalDate(2026, 4, 10), $"{before} {risk.Forecast}");
        Assert.Equal((PromiseRiskReason.Part, "it waits for stem-41"), (risk.Why, risk.Words.ToString().Split(": ")[1]));

        // From the moment it was told on it is at risk; once the part is here no longer.
        Assert.Equal(story.Now, Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.PromiseAtRisk).Due);
        story.After(Duration.FromMinutes(1)).Does(new PartReceived { Part = Stem, Order = "po-1" });
        Assert.Null(PromiseRisk.Of(story.Job, story.Rules, story.Now));
        Assert.Null(PromiseForecast.Of(story.Job, story.Rules)!.NotBefore);
    }

    [Fact]
    public void A_part_that_has_not_come_on_its_day_is_on_the_agenda_until_it_is_here()
    {
        var story = Expecting(1, new LocalDate(2026, 3, 10));
        var row = Assert.Single(story.Agenda(), one => one.Kind == AgendaKind.PartLate);

        Assert.Equal((TestShop.Local(2026, 3, 11, 0), TestShop.Local(2026, 3, 11, 9)), (row.Due!.Value, row.Task!.Value));
        Assert.DoesNotContain(story.Does(new PartReceived { Part = Stem, Order = "po-1" }).Agenda(), one => one.Kind == AgendaKind.PartLate);
    }

    [Fact]
    public void An_order_that_is_cancelled_is_waited_for_no_longer()
    {
        var story = Expecting(2, new LocalDate(2026, 3, 16));
        Expect(story.After(Duration.FromMinutes(5)), 0, null);

        Assert.Empty(story.Job.Parts.Awaited());
    }

    [Fact]
    public void What_is_fitted_from_the_shelf_is_not_waited_for_any_longer()
    {
        var story = Expecting(1, new LocalDate(2026, 3, 16)).Does(new PartFitted { Part = Stem, Replaces = "bent stem" });

        Assert.Empty(story.Job.Parts.Awaited());
        Assert.Equal((-1, 0), Sums(story));
    }

    [Fact]
    public void A_part_that_another_watch_was_given_is_awaited_until_its_usual_day()
    {
        var story = new Story().Does(new PartReserved { Part = Stem });
        story.After(Duration.FromMinutes(5)).Does(
            new PartReleased { Part = Stem, Count = 1, TakenBy = Other.ToString(), ExpectedOn = new LocalDate(2026, 3, 17) }, by: null, role: "service", source: EventId.Service);

        Assert.Equal(0, story.Job.Parts.Reserved(Stem));
        Assert.Equal(new LocalDate(2026, 3, 17), PromiseForecast.Of(story.Job, story.Rules)!.NotBefore);

        // An order takes its place, and one set aside anew ends the wait.
        Expect(story.After(Duration.FromMinutes(5)), 1, new LocalDate(2026, 3, 11));
        Assert.Equal(new LocalDate(2026, 3, 11), Assert.Single(story.Job.Parts.Awaited()).On);
        story.After(Duration.FromMinutes(5)).Does(new PartReserved { Part = Stem });
        Assert.Empty(story.Job.Parts.Awaited());
    }

    [Fact]
    public void Of_a_watch_that_has_left_nothing_stays_set_aside()
    {
        var story = new Story().Through(Stage.Settlement).Does(new PartReserved { Part = Stem, Count = 2 }).Through(Stage.HandedOver);

        Assert.Equal((0, 0), Sums(story));
        Assert.Empty(story.Job.Parts.Awaited());
    }

    [Fact]
    public void A_fitting_that_is_taken_back_is_on_the_shelf_again()
    {
        var story = new Story().Does(new PartReserved { Part = Stem }).After(Duration.FromMinutes(1)).Does(new PartFitted { Part = Stem });
        Assert.Equal((-1, 0), Sums(story));

        story.After(Duration.FromMinutes(1)).Does(new Workshop.Core.Corrections.CorrectionMade { Of = story.Entries[^1].Id, Reason = "the other stem" });

        Assert.Equal((0, 1), Sums(story));
        Assert.Empty(story.Job.Parts.Fitted);
    }

    /// <summary>Whatever is told in whatever order, late or not: no job has fewer than none set aside, and the shelf is what came less what went.</summary>
    [Fact]
    public void No_sequence_of_events_sets_aside_less_than_nothing_or_loses_a_piece() =>
        Gen.Select(Gen.Int[0, 5], Gen.Int[1, 3], Gen.Int[0, 240], Gen.Bool).Array[1, 25].Sample(
            told =>
            {
                var story = new Story { FoldsOnlyAtItsEnd = true }.After(Duration.FromHours(6));
                foreach (var (what, count, minutesAgo, late) in told)
                {
                    story.After(Duration.FromSeconds(1)).Says(Event(what, count), at: late ? story.Now - Duration.FromMinutes(minutesAgo) : null, source: late ? "/devices/bench-2/1" : "/devices/bench-1/1");
                }

                var book = story.Job.Parts;
                Assert.Equal(Portrait.Of(Workshop.Core.Jobs.Job.Replay(story.Label, story.Entries)), Portrait.Of(story.Job));
                var running = 0;
                foreach (var move in book.Moves)
                {
                    running += move.Reserved;
                    Assert.True(running >= 0, $"{running} set aside");
                }

                var came = story.Entries.Sum(entry => entry is { Counts: true, Event: PartReceived { Fits: not false } received } ? received.Pieces() : 0);
                var fitted = book.Fitted.Sum(one => one.Count);
                var sentBack = -book.Moves.Where(move => story.Entries.Single(entry => entry.Id == move.Entry).Event is PartChecked).Sum(move => move.OnShelf);
                Assert.Equal(came - fitted - sentBack, book.Moves.Sum(move => move.OnShelf));
                Assert.All(book.Awaited(), one => Assert.True(one.Count > 0));
            },
            iter: 200);

    private static WorkshopEvent Event(int what, int count) => what switch
    {
        0 => new PartReserved { Part = Stem, Count = count },
        1 => new PartReserved { Part = Stem, Count = count, Order = "po-1" },
        2 => new PartReceived { Part = Stem, Count = count, Order = "po-1", Fits = count > 1 },
        3 => new PartChecked { Part = Stem, Count = count, Fits = count > 2 },
        4 => new PartFitted { Part = Stem, Count = count },
        _ => new PartReleased { Part = Stem, Count = count },
    };

    private static Story Expecting(int count, LocalDate on)
    {
        var story = new Story();
        Expect(story.After(Duration.FromMinutes(5)), count, on);
        return story.After(Duration.FromMinutes(5));
    }

    private static void Expect(Story story, int count, LocalDate? on, LocalDate? was = null) => story.Does(
        new PartExpected { Part = Stem, Order = "po-1", Count = count, ExpectedOn = on, Was = was }, by: null, role: "service", source: EventId.Service);

    private static LocalDate Today(Story story) => story.Rules.Calendar.DateOf(story.Now);

    private static (int OnShelf, int Reserved) Sums(Story story) => (story.Job.Parts.Moves.Sum(move => move.OnShelf), story.Job.Parts.Moves.Sum(move => move.Reserved));
}
