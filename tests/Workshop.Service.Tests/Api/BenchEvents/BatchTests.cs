using System.Net;
using Workshop.Core.Route;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class BatchTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task Events_are_judged_in_order_of_sequence_and_answered_in_the_order_given(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var label = watch.Label.ToString();
        var started = watch.Bench.Write("stage.started", label, """{"stage":"diagnosis","person":"mara"}""", id: "started", number: 1);
        var finished = watch.Bench.Write("stage.finished", label, """{"stage":"diagnosis","person":"mara"}""", id: "finished", number: 2);
        var again = watch.Bench.Write("stage.started", label, """{"stage":"diagnosis","person":"mara"}""", id: "again", number: 3);

        var told = await watch.Bench.PostBatch(again, finished, started);

        Assert.Equal(["again", "finished", "started"], told.Select(one => one.Whole.GetProperty("id").GetString()));
        Assert.Equal(["refused", "accepted", "accepted"], told.Select(one => one.Outcome));
        Assert.Equal("not-yet-sent-back", told[0].Code);
        Assert.Equal((3, 2), (told[1].Version, told[2].Version));
    }

    [Theory, BothEngines]
    public async Task One_refused_event_refuses_no_other(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var label = watch.Label.ToString();

        var told = await watch.Bench.PostBatch(
            watch.Bench.Write("note.written", label, """{"text":"first"}"""),
            watch.Bench.Write("note.written", label, """{"words":"second"}"""),
            watch.Bench.Write("stage.started", label, """{"stage":"rebuild"}"""),
            """{"specversion":"1.0"}""",
            watch.Bench.Write("note.written", "J2222222", """{"text":"third"}"""),
            watch.Bench.Write("note.written", label, """{"text":"fourth"}"""));

        Assert.Equal(["accepted", "refused", "refused", "refused", "refused", "accepted"], told.Select(one => one.Outcome));
        Assert.Equal(["bad-fields", "needs", "bad-fields", "label-unreadable"], told.Where(one => one.Outcome == "refused").Select(one => one.Code));
        Assert.Equal([422, 409, 422, 400], told.Where(one => one.Outcome == "refused").Select(one => one.Problem.GetProperty("status").GetInt32()));
        Assert.Equal(3, (await watch.Entries()).Length);
    }

    [Theory, BothEngines]
    public async Task Five_hundred_events_are_taken_and_five_hundred_and_one_are_413(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var notes = Enumerable.Range(1, 501).Select(n => watch.Bench.Write("note.written", watch.Label.ToString(), $$"""{"text":"note {{n}}"}""")).ToArray();

        var tooMany = await watch.Bench.Send($"[{string.Join(',', notes)}]", CloudEventReader.Batch);
        var told = await watch.Bench.PostBatch(notes[..500]);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, tooMany.StatusCode);
        var problem = await tooMany.Problem();
        Assert.Equal("body-too-large", problem.Code);
        Assert.Equal(500, problem.Whole.GetProperty("limit").GetInt32());
        Assert.All(told, one => Assert.Equal("accepted", one.Outcome));
        Assert.Equal(Enumerable.Range(2, 500).Select(version => (long)version), told.Select(one => one.Version));
    }

    [Theory, BothEngines]
    public async Task The_same_event_twice_in_one_batch_is_one_entry(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var note = watch.Bench.Write("note.written", watch.Label.ToString(), """{"text":"once"}""");

        var told = await watch.Bench.PostBatch(note, note);

        Assert.Equal(["accepted", "replayed"], told.Select(one => one.Outcome));
        Assert.Equal("accepted", told[1].Whole.GetProperty("first").GetString());
        Assert.Equal(2, (await watch.Entries()).Length);
    }

    [Theory, BothEngines]
    public async Task A_batch_of_one_is_answered_with_a_list(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));

        var told = Assert.Single(await watch.Bench.PostBatch(watch.Bench.Write("stage.finished", watch.Label.ToString(), """{"stage":"diagnosis"}""")));

        Assert.Equal("accepted", told.Outcome);
        Assert.Equal(StageState.Done, await watch.State(Stage.Diagnosis));
    }

    [Fact]
    public async Task A_number_without_leading_zeros_or_with_them_is_the_same_number()
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));
        var label = watch.Label.ToString();
        var first = watch.Bench.Write("stage.finished", label, """{"stage":"diagnosis"}""", number: 1);
        var second = watch.Bench.Write("stage.started", label, """{"stage":"diagnosis"}""", number: 2).Replace("\"2\"", "\"00002\"");

        var told = await watch.Bench.PostBatch(second, first);

        Assert.Equal(["refused", "accepted"], told.Select(one => one.Outcome));
    }
}
