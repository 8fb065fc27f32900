using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

/// <summary>Wrong scans, reports and badges through the door, on both engines; the journal folds to what the rows say.</summary>
public class CorrectionTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task A_wrong_scan_is_taken_back_and_stays_in_the_history_as_void(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Takedown);
        var wrong = await watch.Finish(Stage.Cleaning);
        host.Clock.Advance(Duration.FromMinutes(4));
        await watch.Does("correction.made", Undo(watch.Bench, wrong));

        Assert.Equal(StageState.Open, await watch.State(Stage.Cleaning));
        var shown = await History(host, watch, IdOf(wrong));
        Assert.True(shown.GetProperty("void").GetBoolean());
        Assert.NotEqual(JsonValueKind.Null, shown.GetProperty("correctedBy").ValueKind);

        await watch.Finish(Stage.Cleaning);
        Assert.Equal(StageState.Done, await watch.State(Stage.Cleaning));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task At_six_minutes_a_bench_is_refused_and_a_manager_learns_in_which_order_to_go_back(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        var takedown = await watch.Finish(Stage.Takedown);
        var cleaning = await watch.Finish(Stage.Cleaning);
        var inspection = await watch.Finish(Stage.Inspection);
        host.Clock.Advance(Duration.FromMinutes(6));
        var office = Device.Pair(host, Role.Manager, bench: null);

        var own = await watch.Tells("correction.made", Undo(watch.Bench, takedown));
        Assert.Equal((HttpStatusCode.Conflict, "not-yours-to-correct"), (own.Status, own.Code));
        var refused = await watch.Tells("correction.made", Undo(watch.Bench, takedown, "ines"), device: office);
        Assert.Equal("needed-later", refused.Code);
        Assert.Equal([IdOf(inspection), IdOf(cleaning)], refused.Problem.GetProperty("entries").EnumerateArray().Select(one => one.GetProperty("id").GetProperty("id").GetString()));

        foreach (var one in new[] { inspection, cleaning, takedown })
        {
            await watch.Does("correction.made", Undo(watch.Bench, one, "ines"), device: office);
        }

        Assert.Equal(StageState.Open, await watch.State(Stage.Takedown));
        var again = await watch.Tells("correction.made", Undo(watch.Bench, takedown, "ines"), device: office);
        Assert.Equal("corrected-already", again.Code);
        Assert.Equal(IdOf(takedown), again.Problem.GetProperty("newest").GetProperty("id").GetProperty("id").GetString());
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_right_reading_takes_the_wrong_ones_place(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        await watch.StartWear();
        host.Clock.Advance(Duration.FromHours(24));
        var wrong = await watch.ReadWear("15");
        Assert.Equal(StageState.Failed, await watch.State(Stage.WearCheck));
        host.Clock.Advance(Duration.FromMinutes(2));
        var right = await watch.Does("wear-check.read", $$$"""{"kind":"worn","offsetSeconds":2,"person":"mara","insteadOf":{"source":"{{{watch.Bench.Source}}}","id":"{{{IdOf(wrong)}}}" } }""");

        Assert.Equal(wrong.Effective, right.Effective);
        Assert.Equal(StageState.Done, await watch.State(Stage.WearCheck));
        Assert.Equal(IdOf(right), (await History(host, watch, IdOf(wrong))).GetProperty("replacedBy").GetProperty("id").GetString());
        Assert.Equal(IdOf(wrong), (await History(host, watch, IdOf(right))).GetProperty("insteadOf").GetProperty("id").GetString());

        // What is read from the database alone puts it where the writer's memory did.
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task What_the_job_does_not_have_is_422_where_it_stands(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var other = await HouseWatch.TakeIn(host, watch.Bench);
        var there = await other.Does("note.written", """{"text":"a hair","person":"mara"}""");

        Assert.Equal(["/data/of"], (await watch.Tells("correction.made", Undo(watch.Bench, there))).Pointers);
        Assert.Equal(
            ["/data/insteadOf"],
            (await watch.Tells("note.written", $$$"""{"text":"two hairs","person":"mara","insteadOf":{"source":"{{{watch.Bench.Source}}}","id":"{{{IdOf(there)}}}" } }""")).Pointers);
    }

    [Theory, BothEngines]
    public async Task A_late_final_control_by_the_one_who_rebuilt_is_first_on_the_managers_agenda_and_settled_there(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.ReserveAndFunctions);
        var then = host.Clock.GetCurrentInstant() + Duration.FromMinutes(5);
        host.Clock.Advance(Duration.FromHours(3));
        var away = Device.Pair(host);
        var late = await watch.Tells("final-control.passed", await watch.Control("mara"), at: then, device: away);
        Assert.Equal("noted", late.Outcome);
        Assert.True((await watch.Job()).Holds.Holds(HoldReason.Query));

        var office = Device.Pair(host, Role.Manager, bench: null);
        using var agenda = await office.Client.GetAsync("/v1/agenda");
        Assert.Contains((await agenda.Json()).GetProperty("items").EnumerateArray(), row => row.TryGetProperty("job", out var job) && job.GetString() == watch.Label.ToString() && row.GetProperty("kind").GetString() == "review");

        var settle = $$"""{"of":{"source":"{{away.Source}}","id":"{{IdOf(late)}}"},"as":"happened","reason":"nobody else was there","person":"ines"}""";
        Assert.Equal(HttpStatusCode.Forbidden, (await watch.Tells("report.settled", settle)).Status);
        await watch.Does("report.settled", settle, device: office);

        Assert.Equal(StageState.Done, await watch.State(Stage.FinalControl));
        Assert.Equal("happened", (await History(host, watch, IdOf(late), away)).GetProperty("settled").GetProperty("as").GetString());
        Assert.Equal("nothing-to-settle", (await watch.Tells("report.settled", settle, device: office)).Code);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_wrong_badge_all_morning_is_mended_in_every_watch_by_one_entry(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => ShopDocuments.Put(turn, ShopRulesReader.People, "vera", """{"id":"vera","name":"Vera","manager":false}"""));
        var bench = Device.Pair(host);
        HouseWatch[] watches = [await (await HouseWatch.TakeIn(host)).Through(Stage.Quote), await (await HouseWatch.TakeIn(host)).Through(Stage.Quote)];
        foreach (var watch in watches)
        {
            await watch.Does("piece.taken", """{"kind":"movement","person":"mara"}""", device: bench);
            await watch.Does("stage.finished", """{"stage":"takedown","person":"mara"}""", device: bench);
        }

        var office = Device.Pair(host, Role.Manager, bench: null);
        var mend = $$"""{"source":"{{bench.Source}}","fromSequence":1,"toSequence":4,"person":"vera","reason":"the badges lay exchanged"}""";
        Assert.Equal(["/data/person"], (await office.Post(office.Write("person.corrected", null, mend.Replace("\"vera\"", "\"nobody\"", StringComparison.Ordinal)))).Pointers);
        Assert.Equal("accepted", (await office.Post(office.Write("person.corrected", null, mend))).Outcome);

        foreach (var watch in watches)
        {
            var job = await watch.Job();
            Assert.Equal("people/vera", job.Pieces.Pieces.Single(piece => piece.Id == "movement").Holder);
            Assert.Equal(["vera"], job.Standings.Of(Stage.Takedown).Hands);
            var told = (await watch.Entries()).Single(entry => entry.Event is StageFinished { Stage: Stage.Takedown });
            var shown = await History(host, watch, told.Id.Id, bench);
            Assert.Equal(("mara", "vera"), (shown.GetProperty("person").GetString(), shown.GetProperty("mendedPerson").GetString()));
        }

        Assert.Empty(host.Check().Differences);
    }

    private static string Undo(Device device, Told told, string person = "mara") =>
        $$"""{"of":{"source":"{{device.Source}}","id":"{{IdOf(told)}}"},"reason":"the wrong card","person":"{{person}}"}""";

    private static string IdOf(Told told) => told.Whole.GetProperty("id").GetString()!;

    private static async Task<JsonElement> History(WorkshopHost host, HouseWatch watch, string id, Device? by = null)
    {
        using var answer = await host.Bench.GetAsync($"/v1/jobs/{watch.Label}/history?limit=200");
        return (await answer.Json()).GetProperty("items").EnumerateArray().Last(one => one.GetProperty("id").GetString() == id && one.GetProperty("source").GetString() == (by ?? watch.Bench).Source);
    }
}
