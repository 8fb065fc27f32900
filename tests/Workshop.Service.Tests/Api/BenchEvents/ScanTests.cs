using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Labels;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

/// <summary>A scanner that only knows how to send what it has read, and to post what it was given.</summary>
public class ScanTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task Watch_and_word_card_in_any_order_are_a_hand_off_and_the_scan_is_its_cause(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var toCleaning = await Card(host, "to-cleaning");
        var taken = await Card(host, "taken");

        await Scan(watch, "mara", taken, $"{watch.Label}");
        var text = watch.Bench.Write("scan.made", null, $$"""{"codes":["{{watch.Label}}","{{toCleaning}}"],"person":"mara"}""");
        var given = await watch.Bench.Post(text);

        var did = given.Whole.GetProperty("did");
        Assert.Equal("piece.given", did.GetProperty("type").GetString());
        var entry = (await watch.Entries()).Single(one => one.Id.Id == did.GetProperty("id").GetString());
        Assert.Equal(new EventId(watch.Bench.Source, given.Whole.GetProperty("id").GetString()!), entry.CausedBy);
        var movement = (await watch.Job()).Pieces.Pieces.Single(piece => piece.Id == "movement");
        Assert.Equal(("people/mara", "places/cleaning"), (movement.Holder, movement.GivenTo));

        Assert.Equal("replayed", (await watch.Bench.Post(text)).Outcome);
        Assert.Single((await watch.Entries()), one => one.Event.Type == "piece.given");

        await Scan(watch, "jon", $"{watch.Label}", taken);
        Assert.Equal("people/jon", (await watch.Job()).Pieces.Pieces.Single(piece => piece.Id == "movement").Holder);
        Assert.True(host.Check().Clean, string.Join('\n', host.Check().Differences));
    }

    [Theory, BothEngines]
    public async Task A_stop_card_holds_the_job_and_a_bench_label_moves_the_watch(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        await SaveBench(host, "bench-3");
        var watch = await HouseWatch.TakeIn(host);
        var bench = await LabelTests.Draw(host, "bench", "benches/bench-3");

        await Scan(watch, "mara", bench, $"{watch.Label}");
        Assert.All((await watch.Job()).Pieces.Pieces, piece => Assert.Equal("benches/bench-3", piece.Holder));

        await Scan(watch, "mara", $"{watch.Label}", await Card(host, "stop-question"));
        Assert.True((await watch.Job()).Holds.Holds(HoldReason.Query));
        var blocked = await Scan(watch, "mara", $"{watch.Label}", await Card(host, "started"));
        Assert.Equal((HttpStatusCode.Conflict, "hold"), (blocked.Status, blocked.Code));
    }

    [Theory, BothEngines]
    public async Task Started_and_finished_mean_the_one_stage_that_is_next_and_ask_where_there_are_several(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var (started, finished) = (await Card(host, "started"), await Card(host, "finished"));

        await Scan(watch, "mara", $"{watch.Label}", started);
        Assert.Equal(StageState.Running, await watch.State(Stage.Diagnosis));
        await Scan(watch, "mara", $"{watch.Label}", finished);
        Assert.Equal(StageState.Done, await watch.State(Stage.Diagnosis));

        await watch.Through(Stage.Quote);
        var several = await Scan(watch, "mara", $"{watch.Label}", started);
        var choices = several.Whole.GetProperty("ask").GetProperty("choices").EnumerateArray().ToList();
        Assert.InRange(choices.Count, 2, 3);
        Assert.Equal("ask", several.Signal);

        var chosen = choices.Single(one => one.GetProperty("event").GetProperty("data").GetProperty("stage").GetString() == "takedown").GetProperty("event").GetRawText();
        Assert.Equal("accepted", (await watch.Bench.Post(chosen)).Outcome);
        Assert.Equal("replayed", (await watch.Bench.Post(chosen)).Outcome);
        Assert.Equal(StageState.Running, await watch.State(Stage.Takedown));
    }

    [Theory, BothEngines]
    public async Task On_a_winder_place_the_offset_is_asked_for_and_the_choice_begins_the_check(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        var winder = await LabelTests.Draw(host, "winder-place", "winder-places/w-4");

        var asked = await Scan(watch, "mara", $"{watch.Label}", winder);
        var first = asked.Whole.GetProperty("ask").GetProperty("choices")[0];
        Assert.Equal("/data/offsetSeconds", Assert.Single(first.GetProperty("fill").EnumerateArray()).GetString());
        var chosen = JsonNode.Parse(first.GetProperty("event").GetRawText())!;
        chosen["data"]!["offsetSeconds"] = 2;

        // Whoever taps a choice does it later than they scanned.
        host.Clock.Advance(Duration.FromSeconds(3));
        var begun = await watch.Bench.Post(chosen.ToJsonString());
        Assert.True(begun.Outcome == "accepted", $"{begun.Whole}");
        Assert.NotNull((await watch.Job()).WearChecks.Running);
    }

    [Theory, BothEngines]
    public async Task What_says_nothing_is_refused_with_a_line_and_nothing_is_made_of_it(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var other = await HouseWatch.TakeIn(host);
        var cage = await LabelTests.Draw(host, "cage", "cages/c-1");
        var machine = await LabelTests.Draw(host, "machine", "machines/m-1");

        Assert.Equal("scan-says-nothing", (await Scan(watch, null, cage, machine)).Code);
        Assert.Equal("scan-says-nothing", (await Scan(watch, null, $"{watch.Label}", $"{other.Label}")).Code);
        Assert.Equal("label-unreadable", (await Scan(watch, null, "J222222Y")).Code);
        Assert.Equal("/data/codes/0", Assert.Single((await Scan(watch, null, await LabelTests.Draw(host, "tray"))).Pointers));
        Assert.Single(await watch.Entries());
    }

    [Theory, BothEngines]
    public async Task The_label_alone_is_told_what_it_is_and_a_replaced_one_says_stop(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);

        var alone = await Scan(watch, "mara", $"{watch.Label}");
        Assert.StartsWith($"{watch.Label}: diagnosis", alone.Line, StringComparison.Ordinal);
        Assert.InRange(alone.Whole.GetProperty("ask").GetProperty("choices").GetArrayLength(), 1, 3);
        Assert.Single(await watch.Entries());

        var fresh = await LabelTests.Draw(host, "job");
        await watch.Does("label.replaced", $$"""{"label":"{{watch.Label}}","by":"{{fresh}}","reason":"lost"}""");
        var lost = await Scan(watch, "mara", $"{watch.Label}");
        Assert.Equal(("label-replaced", "stop"), (lost.Code, lost.Signal));
        Assert.Equal("accepted", (await Scan(watch, "mara", fresh)).Outcome);
    }

    [Theory, BothEngines]
    public async Task A_late_scan_means_what_came_next_when_it_was_made(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromMinutes(10));
        var then = watch.Bench.Now;
        host.Clock.Advance(Duration.FromHours(2));
        await watch.Finish(Stage.Diagnosis);

        var other = Device.Pair(host);
        var late = await other.Post(other.Write(
            "scan.made", null, $$"""{"codes":["{{watch.Label}}","{{await Card(host, "started")}}"],"person":"jon"}""", time: InstantPattern.ExtendedIso.Format(then)));

        Assert.Equal("stage.started", late.Whole.GetProperty("did").GetProperty("type").GetString());
        Assert.Contains("late", late.Flags);
        var entry = (await watch.Entries()).Single(one => one.Event is StageStarted);
        Assert.Equal((Stage.Diagnosis, then), (((StageStarted)entry.Event).Stage, entry.Effective));
    }

    [Theory, BothEngines]
    public async Task A_badge_alone_signs_on_and_what_is_scanned_afterwards_is_theirs(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var document = $$"""{"id":"ilka-{{Word.Of(engine)}}","name":"Ilka","manager":false}""";
        await Microsoft.Extensions.DependencyInjection.ServiceProviderServiceExtensions.GetRequiredService<Writer>(host.Services)
            .Turn(WorkshopHost.Site, turn => ShopDocuments.Put(turn, ShopRulesReader.People, $"ilka-{Word.Of(engine)}", document));
        var badge = await LabelTests.Draw(host, "badge", $"people/ilka-{Word.Of(engine)}");

        var on = await Scan(watch, null, badge);
        Assert.Equal("person.signed-on", on.Whole.GetProperty("did").GetProperty("type").GetString());

        host.Clock.Advance(Duration.FromSeconds(5));
        await Scan(watch, null, $"{watch.Label}", await Card(host, "taken"));
        Assert.All((await watch.Job()).Pieces.Pieces, piece => Assert.Equal($"people/ilka-{Word.Of(engine)}", piece.Holder));
    }

    private static Task<string> Card(WorkshopHost host, string word) => LabelTests.Draw(host, "word-card", $"words/{word}");

    private static Task<Told> Scan(HouseWatch watch, string? person, params string[] codes) => watch.Bench.Post(watch.Bench.Write(
        "scan.made", null, JsonSerializer.Serialize(person is null ? new { codes } : (object)new { codes, person })));

    private static Task SaveBench(WorkshopHost host, string id) => Microsoft.Extensions.DependencyInjection.ServiceProviderServiceExtensions
        .GetRequiredService<Writer>(host.Services)
        .Turn(WorkshopHost.Site, turn => ShopDocuments.Put(turn, ShopRulesReader.Bench, id, $$"""{"id":"{{id}}"}"""));
}
