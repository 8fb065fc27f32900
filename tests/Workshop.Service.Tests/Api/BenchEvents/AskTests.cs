using System.Net;
using System.Text.Json;
using Workshop.Core.Holds;
using Workshop.Core.Route;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class AskTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task Who_asks_hears_what_would_be_said_and_nothing_is_kept(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var text = watch.Bench.Write("stage.finished", watch.Label.ToString(), """{"stage":"diagnosis","person":"mara"}""");

        var asked = await watch.Bench.Post(text, "?ask=true");

        Assert.Equal(("accepted", "Diagnosis done. Next: quote"), (asked.Outcome, asked.Line));
        Assert.Equal(StageState.Open, await watch.State(Stage.Diagnosis));
        Assert.Single(await watch.Entries());
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from received where source = @source", new { source = watch.Bench.Source }));

        var told = await watch.Bench.Post(text);

        Assert.Equal((asked.Outcome, asked.Version, asked.Line), (told.Outcome, told.Version, told.Line));
        Assert.Equal(StageState.Done, await watch.State(Stage.Diagnosis));
    }

    [Theory, BothEngines]
    public async Task A_refusal_of_what_was_only_asked_is_no_verdict(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        await watch.Hold(HoldReason.Other);
        var text = watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"diagnosis"}""");

        var asked = await watch.Bench.Post(text, "?ask=true");
        await watch.Lift(HoldReason.Other);
        var told = await watch.Bench.Post(text);

        Assert.Equal((HttpStatusCode.Conflict, "hold/other"), (asked.Status, asked.Gate));
        Assert.Equal("accepted", told.Outcome);
    }

    [Fact]
    public async Task Who_asks_about_numbers_that_disagree_holds_no_job()
    {
        var watch = await (await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite))).Through(Stage.DialAndHands);

        var asked = await watch.Bench.Post(watch.Bench.Write("case.closed", watch.Label.ToString(), $$"""{"jobLabel":"{{watch.Label}}","caseSerial":"another"}"""), "?ask=true");

        Assert.Equal("three-numbers", asked.Code);
        Assert.False((await watch.Job()).Holds.Holds(HoldReason.MixUp));
    }

    [Fact]
    public async Task Of_a_batch_each_event_is_asked_by_itself()
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));
        var first = watch.Bench.Write("stage.finished", watch.Label.ToString(), """{"stage":"diagnosis"}""");
        var second = watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"diagnosis"}""");

        var answer = await (await watch.Bench.Send($"[{first},{second}]", CloudEventReader.Batch, "?ask=true")).Json();

        Assert.Equal(["accepted", "accepted"], answer.EnumerateArray().Select(one => one.GetProperty("outcome").GetString()));
        Assert.Single(await watch.Entries());
    }

    [Fact]
    public async Task An_event_that_was_told_before_is_answered_as_told()
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));
        var text = watch.Bench.Write("note.written", watch.Label.ToString(), """{"text":"once"}""");

        await watch.Bench.Post(text);

        Assert.Equal("replayed", (await watch.Bench.Post(text, "?ask=true")).Outcome);
        Assert.Equal(JsonValueKind.Object, (await watch.Bench.Post(text, "?ask=false")).Say.ValueKind);
    }
}
