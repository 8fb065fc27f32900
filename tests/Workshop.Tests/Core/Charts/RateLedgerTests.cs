using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Charts;

/// <summary>What a job adds to the figures of the house.</summary>
public class RateLedgerTests
{
    [Fact]
    public void A_judged_worn_check_adds_its_rate_with_the_instrument_the_watch_was_regulated_by()
    {
        var story = new Story().Through(Stage.Rebuild).Does(By("acoustic-1")).Through(Stage.WaterTest).Does(Story.WearStart());
        story.At(story.Job.WearChecks.Running!.Due!.Value);
        Assert.Empty(story.Job.Rates.Worn);

        story.Does(By("acoustic-9")).Does(Story.WearRead(4));

        var worn = Assert.Single(story.Job.Rates.Worn);
        Assert.Equal(("acoustic-1", "bench-1", TestShop.Mara, 4m), (worn.Instrument, worn.Bench, worn.Person, worn.RatePerDaySeconds));
        Assert.Equal(["acoustic-1", null, "acoustic-9"], story.Job.Rates.Means.Select(mean => mean.Instrument));
    }

    [Fact]
    public void A_check_that_is_stopped_interim_or_void_adds_nothing_and_a_failed_one_does()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(3)).Does(Story.WearRead(5) with { Interim = true });
        Assert.Empty(story.Job.Rates.Worn);

        story.At(story.Job.WearChecks.Running!.Due!.Value).Does(Story.WearRead(40));
        Assert.Equal([40m], story.Job.Rates.Worn.Select(one => one.RatePerDaySeconds));

        story.After(Duration.FromHours(1)).Does(Story.WearStart()).After(Duration.FromHours(5)).Does(Story.FoundStopped);
        Assert.Single(story.Job.Rates.Worn);
    }

    [Fact]
    public void What_was_done_to_the_watch_between_two_sets_gives_them_another_ground()
    {
        var story = new Story().Through(Stage.Rebuild);
        story.Does(By("a")).Does(By("b")).Does(new IndexTouched()).Does(By("a")).Through(Stage.Casing).Does(By("b")).Does(new CaseOpened()).Does(By("a"));

        var grounds = story.Job.Rates.Means.Where(mean => mean.Instrument is not null).Select(mean => mean.Ground).ToArray();

        Assert.Equal(5, grounds.Length);
        Assert.Equal(grounds[0], grounds[1]);
        Assert.Equal(grounds[2], grounds[3]);
        Assert.Equal(3, grounds.Distinct().Count());
    }

    [Fact]
    public void A_set_that_is_told_anew_takes_the_place_of_the_wrong_one()
    {
        var story = new Story().Through(Stage.Rebuild);
        var wrong = story.Says(By("a", 40)).Entries[^1].Entry;
        story.After(Duration.FromMinutes(5)).Says(By("a", 4), insteadOf: wrong.Id);

        Assert.Equal([4m], story.Job.Rates.Means.Select(mean => mean.Rates[Position.DialUp]));

        story.Does(new CorrectionMade { Of = story.Entries[^1].Id, Reason = "another watch's" });
        Assert.Empty(story.Job.Rates.Means);
    }

    private static RateSetRecorded By(string instrument, decimal dialUp = 4) =>
        new() { WindState = WindState.Full, Instrument = instrument, Readings = [new RateReading(Position.DialUp, dialUp), new RateReading(Position.CrownDown, 2)] };
}
