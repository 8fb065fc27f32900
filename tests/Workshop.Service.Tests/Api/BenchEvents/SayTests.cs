using System.Net;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Labels;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class SayTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Fact]
    public async Task Every_event_that_is_accepted_is_answered_with_a_line_of_its_own()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var manager = Device.Pair(host, Role.Manager, bench: null);
        var watch = await HouseWatch.TakeIn(host);
        var lines = new Dictionary<string, string>();

        await Line("stage.started", """{"stage":"diagnosis","person":"mara"}""");
        await Line("stage.finished", """{"stage":"diagnosis","person":"mara"}""");
        await Line("piece.given", """{"kind":"case","to":"people/jon","person":"mara"}""");
        await Line("piece.taken", """{"kind":"case","person":"jon"}""");
        await Line("piece.put", """{"kind":"case","to":"places/safe","person":"jon"}""");
        await Line("part.reserved", """{"part":"stem-41"}""");
        await Line("part.received", """{"part":"stem-41"}""");
        await Line("part.checked", """{"part":"stem-41","fits":true}""");
        await Line("part.fitted", """{"part":"stem-41"}""");
        await Line("part.released", """{"part":"stem-41"}""");
        await Line("safe.counted", $$"""{"pieces":["{{watch.Label}}/case"]}""", about: null);
        await Line("hold.placed", """{"hold":"outside-firm"}""");
        await Line("hold.lifted", """{"hold":"outside-firm"}""");
        var (sticker, another) = (await LabelTests.Draw(host, "piece"), await LabelTests.Draw(host, "piece"));
        await Line("label.attached", $$"""{"label":"{{sticker}}","piece":"case","person":"mara"}""");
        await Line("label.replaced", $$"""{"label":"{{sticker}}","by":"{{another}}","reason":"torn","person":"mara"}""");
        await Line("scan.made", $$"""{"codes":["{{watch.Label}}"],"person":"mara"}""", about: null);
        await Line("note.written", """{"text":"crown wheel runs dry","person":"mara"}""");
        await host.Services.GetRequiredService<Writer>().Turn(
            WorkshopHost.Site, turn => ShopDocuments.Put(turn, ShopRulesReader.People, "vera", """{"id":"vera","name":"Vera","manager":false}"""));
        await Line("person.signed-on", """{"person":"vera"}""", about: null);
        await Line("person.signed-off", "{}", about: null);
        await Line("damage.seen", """{"part":"crystal","condition":"chip at 4","asReceived":true}""");
        await Line("device.gap-declared", """{"from":3,"to":4}""", about: null);
        await Line("device.heard", """{"queueLength":0}""", about: null);
        await Line("waiver.given", """{"gate":"no-such"}""", manager, HttpStatusCode.UnprocessableEntity);
        await Line("waiver.given", """{"gate":"needs/water-test","reason":"agreed","person":"ines"}""", manager);
        var run = Guid.CreateVersion7(WorkshopHost.Monday.ToDateTimeOffset()).ToString();
        await host.Services.GetRequiredService<Writer>().Turn(
            WorkshopHost.Site, turn => ShopDocuments.Put(turn, ShopRulesReader.CleaningMachine, "tub", """{"jars":[{"jar":"clean","fluid":"waterless"},{"jar":"rinse-1","fluid":"waterless"},{"jar":"rinse-2","fluid":"waterless"}]}"""));
        await Line("group.declared", """{"group":"train","members":["wheels"],"count":9,"flags":["wheels"],"person":"mara"}""");
        await Line("cage.loaded", $$"""{"cage":"cage-07","group":"train","run":"{{run}}","count":9,"person":"mara"}""");
        await Line("fluid.filled", """{"batch":"tub-1","jar":"rinse-2","person":"mara"}""", about: "tub");
        await Line("fluid.moved", """{"batch":"tub-1","fromJar":"rinse-2","toJar":"rinse-1","person":"mara"}""", about: "tub");
        await Line("run.started", """{"machine":"tub","programme":"gentle","person":"mara"}""", about: run);
        await Line("run.finished", """{"person":"mara"}""", about: run);
        await Line("run.aborted", """{"reason":"it smelt of smoke","person":"mara"}""", about: Guid.CreateVersion7(WorkshopHost.Monday.ToDateTimeOffset()).ToString());
        await Line("cage.emptied", """{"cage":"cage-07","count":9,"person":"mara"}""");
        await Line("fluid.discarded", """{"batch":"tub-1","person":"mara"}""", about: "tub");
        await Line("machine.stopped", """{"reason":"the belt","person":"mara"}""", about: "tub");
        await Line("takedown.let-down", """{"step":1,"despite":["takedown-order/automatic-bridge"],"person":"mara"}""");
        await Line("takedown.step", """{"step":2,"part":"barrel","text":"barrel out","person":"mara"}""");
        await Line("finding.recorded", """{"system":"power-and-train","part":"barrel","condition":"scored","severity":"should","person":"mara"}""");
        await Line("inspection.recorded", """{"system":"power-and-train","result":"ok","person":"mara"}""");
        foreach (var group in new[] { "balance-on-plate", "bridges", "automatic", "keyless", "pallets-and-settings" })
        {
            await Line("group.declared", $$"""{"group":"{{group}}","members":["parts"],"count":5,"person":"mara"}""");
            await Line("group.hand-cleaned", $$"""{"group":"{{group}}","person":"mara"}""");
        }

        await Line("group.not-washed", """{"group":"calendar","reason":"not-fitted","person":"mara"}""");
        await Line("group.replaced", """{"group":"train","part":"mainspring","person":"mara"}""");
        await Line("part.fitted", """{"group":"train","part":"mainspring 1.10","replaces":"mainspring","person":"mara"}""");
        await Line("group.reopened", """{"group":"bridges","reason":"film","person":"mara"}""");
        await Line("group.hand-cleaned", """{"group":"bridges","person":"mara"}""");
        await Line("group.inspected", """{"group":"bridges","person":"mara"}""");
        await Line("count.recorded", """{"group":"train","at":"inspection","count":9,"person":"mara"}""");
        await Line("part.lost", """{"part":"click spring","group":"train","person":"mara"}""");
        await Line("part.found", """{"part":"click spring","group":"train","person":"mara"}""");
        await watch.Through(Stage.Rebuild);
        await Line("polish.confirmed", """{"person":"mara"}""");
        await Line("index.touched", "{}");
        await Line("rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4.2},{"position":"crown-left","ratePerDaySeconds":-3}]}""");
        await Line("lift-angle.corrected", """{"liftAngleDegrees":52}""", status: HttpStatusCode.UnprocessableEntity);
        await watch.Does("rate-set.recorded", """
            {"windState":"full","liftAngleDegrees":50,"readings":[{"position":"CH","ratePerDaySeconds":4},{"position":"CB","ratePerDaySeconds":5,"amplitudeDegrees":280},{"position":"3H","ratePerDaySeconds":19},
             {"position":"6H","ratePerDaySeconds":4},{"position":"9H","ratePerDaySeconds":-3},{"position":"12H","ratePerDaySeconds":2}],"person":"mara"}
            """);
        await Line("tolerance.excepted", """{"criterion":"spread-full","reason":"worn pivots","person":"ines"}""", manager);
        await Line("lift-angle.corrected", """{"liftAngleDegrees":52}""");
        await Line("trial-day.recorded", """{"trial":"spring","day":11,"position":"dial-up","temperatureCelsius":8,"ratePerDaySeconds":6.5}""");
        await watch.Through(Stage.DialAndHands);
        await Line("case.closed", $$"""{"jobLabel":"{{watch.Label}}","caseSerial":"{{HouseWatch.CaseSerial}}"}""");
        await Line("seal.seen", """{"state":"intact"}""");
        await Line("water-test.recorded", """{"method":"dry","pressureBar":3,"passed":true}""");
        await Line("wear-check.started", """{"kind":"worn","fullyWound":true,"offsetSeconds":0}""");
        host.Clock.Advance(Duration.FromHours(1));
        await Line("wear-check.paused", """{"kind":"worn"}""");
        await Line("wear-check.resumed", """{"kind":"worn","place":"winder"}""");
        await Line("wear-check.confirmed", """{"kind":"worn","person":"mara"}""");
        host.Clock.Advance(Duration.FromHours(24));
        await Line("wear-check.read", """{"kind":"worn","offsetSeconds":3}""");
        await watch.Through(Stage.ReserveAndFunctions);
        await Line("function-check.recorded", """{"function":"chronograph-reset","passed":true,"trials":{"tried":10,"right":9}}""");
        await Line("reserve-test.started", """{"fullyWound":true}""");
        host.Clock.Advance(Duration.FromHours(2));
        await Line("reserve-test.read", """{"running":true}""");
        await Line("final-control.passed", await watch.Control());
        await Line("final-control.refused", """{"to":"rebuild","reason":"gains in crown down","person":"vera"}""");
        await watch.Through(Stage.Regulation);
        await Line("stage.sent-back", """{"stage":"regulation","to":"rebuild","reason":"a jewel is loose"}""");
        await watch.Through(Stage.Casing);
        await watch.Through(Stage.WaterTest);
        await watch.StartWear();
        host.Clock.Advance(Duration.FromHours(2));
        var stopped = await watch.Does("wear-check.read", """{"kind":"worn","stopped":true}""");
        await Line("stop.explained", $$$"""{"of":{"source":"{{{watch.Bench.Source}}}","id":"{{{stopped.Whole.GetProperty("id").GetString()}}}"},"cause":"hands-or-tooth"}""");
        await Line("case.opened", """{"reason":"a fibre"}""");

        var slip = await watch.Does("note.written", """{"text":"another watch's"}""");
        await Line("correction.made", $$$"""{"of":{"source":"{{{watch.Bench.Source}}}","id":"{{{slip.Whole.GetProperty("id").GetString()}}}"},"reason":"the wrong card","person":"ines"}""", manager);
        var away = Device.Pair(host);
        var report = await watch.Tells("final-control.passed", await watch.Control(), at: away.Now - Duration.FromMinutes(30), device: away);
        await Line("report.settled", $$$"""{"of":{"source":"{{{away.Source}}}","id":"{{{report.Whole.GetProperty("id").GetString()}}}"},"as":"did-not-happen","reason":"asked","person":"ines"}""", manager);
        await Line("control-chart.restarted", """{"instrument":"acoustic-1","reason":"its microphone was exchanged"}""", manager, about: null);
        await Line("person.corrected", $$"""{"source":"{{away.Source}}","fromSequence":1,"toSequence":1,"person":"vera","reason":"the badges lay exchanged"}""", manager, about: null);

        Assert.Equal(EventCatalogue.Rows.Where(row => row.SentBy == SentBy.Bench).Select(row => row.Type).Order(), lines.Keys.Order());
        Assert.DoesNotContain("Kept", lines.Values);
        Assert.Equal("Case given to people/jon", lines["piece.given"]);
        Assert.Equal("Mean +0.6, spread 7.2 s/d, 2 positions", lines["rate-set.recorded"]);
        Assert.Equal("Recomputed for a lift angle of 52°", lines["lift-angle.corrected"]);
        Assert.Equal("Signed: spread over the positions at full wind", lines["tolerance.excepted"]);
        Assert.Equal("Day 11 told; 14 still missing", lines["trial-day.recorded"]);
        Assert.Equal("Closed, numbers agree. Next: water test", lines["case.closed"]);
        Assert.Equal("Passed: +2.9 ± 1.4 s/d", lines["wear-check.read"]);
        Assert.Equal("9 of 10 right: that is a fail by the shop's rule", lines["function-check.recorded"]);
        Assert.Equal("Cause kept: hands touching, or a tooth", lines["stop.explained"]);
        Assert.Equal("Waived once: needs/water-test", lines["waiver.given"]);

        async Task Line(string type, string data, Device? device = null, HttpStatusCode status = HttpStatusCode.OK, string? about = "the watch")
        {
            host.Clock.Advance(Duration.FromSeconds(1));
            var from = device ?? watch.Bench;
            var told = await from.Post(from.Write(type, about == "the watch" ? watch.Label.ToString() : about, data));
            Assert.True(told.Status == status && (status != HttpStatusCode.OK || told.Outcome == "accepted"), $"{type}: {told.Whole}");
            if (status == HttpStatusCode.OK)
            {
                lines[type] = told.Line;
            }
        }
    }

    [Fact]
    public void Every_problem_fits_on_a_line() => Assert.All(ProblemCatalogue.All, kind => Assert.InRange(kind.Title.Length, 1, 60));

    [Theory, BothEngines]
    public async Task What_is_to_be_done_again_is_named_and_counted_where_a_line_cannot_hold_it(StorageEngine engine)
    {
        var watch = await (await HouseWatch.TakeIn(await hosts.On(engine))).Through(Stage.FinalControl);

        var opened = await watch.OpenCase();

        Assert.Equal("Opened. Again: casing, water test, wear check, final control", opened.Line);
        Assert.False(opened.Say.TryGetProperty("more", out _));

        await watch.Through(Stage.FinalControl);
        var back = await watch.Does("stage.sent-back", """{"stage":"final-control","to":"rebuild","reason":"a loose jewel"}""");

        Assert.Equal("Back to rebuild. 8 stages again", back.Line);
        Assert.Equal(
            "To be done again: rebuild, regulation, dial and hands, casing, water test, wear check, reserve and functions, final control.",
            back.Say.GetProperty("more").GetString());
    }

    [Theory, BothEngines]
    public async Task A_watch_with_suspected_radium_says_so_in_every_answer(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host, hazards: ["radium-suspected"]);
        var note = watch.Bench.Write("note.written", watch.Label.ToString(), """{"text":"a note"}""");

        Told[] told =
        [
            await watch.Bench.Post(note),
            await watch.Bench.Post(note),
            await watch.Bench.Post(note.Replace("a note", "another")),
            await watch.Tells("stage.started", """{"stage":"rebuild"}"""),
            await watch.Tells("stage.started", """{"stage":"polishing"}"""),
            await watch.Tells("stage.finished", """{"stage":"rebuild","already":true}"""),
            .. await watch.Bench.PostBatch(watch.Bench.Write("beauty.admired", watch.Label.ToString(), "{}")),
        ];

        Assert.Equal(["accepted", "replayed", "refused", "refused", "refused", "noted", "refused"], told.Select(one => one.Outcome));
        Assert.All(told, one =>
        {
            var caution = Assert.Single(one.Say.GetProperty("cautions").EnumerateArray());
            Assert.Equal("radium-suspected", caution.GetProperty("id").GetString());
            Assert.InRange(caution.GetProperty("line").GetString()!.Length, 1, 60);
            Assert.EndsWith("Local rules and licensed practice decide.", caution.GetProperty("text").GetString());
        });
    }

    [Theory, BothEngines]
    public async Task The_dangers_of_the_work_are_said_when_it_begins(StorageEngine engine)
    {
        var watch = await (await HouseWatch.TakeIn(await hosts.On(engine))).Through(Stage.Quote);

        var takedown = await watch.Tells("stage.started", """{"stage":"takedown"}""");
        var cleaning = await watch.Tells("stage.started", """{"stage":"cleaning"}""");
        var rebuild = await watch.Tells("stage.started", """{"stage":"rebuild"}""");
        await watch.Through(Stage.Casing);
        var water = await watch.Tells("stage.started", """{"stage":"water-test"}""");
        var tested = await watch.Tells("water-test.recorded", """{"method":"wet","pressureBar":3,"passed":true}""");

        Assert.Equal(("accepted", "spring-tension"), (takedown.Outcome, Assert.Single(takedown.Cautions)));
        Assert.Equal(("refused", "solvents"), (cleaning.Outcome, Assert.Single(cleaning.Cautions)));
        Assert.Empty(rebuild.Cautions);
        Assert.Equal(("pressure", "pressure"), (Assert.Single(water.Cautions), Assert.Single(tested.Cautions)));
    }

    [Theory, BothEngines]
    public async Task A_late_measurement_is_answered_with_its_own_figures(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(2));
        await watch.Does("rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":20}]}""");

        var late = await watch.Does(
            "rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4},{"position":"dial-down","ratePerDaySeconds":-1.5}]}""", at: watch.Bench.Now - Duration.FromHours(1));

        Assert.Equal("Mean +1.3, spread 5.5 s/d, 2 positions", late.Line);
        Assert.Equal(1.3m, late.Whole.GetProperty("rateSet").GetProperty("meanPerDaySeconds").GetDecimal());
    }

    [Theory, BothEngines]
    public async Task An_opening_that_nobody_told_is_said_and_flagged(StorageEngine engine)
    {
        var watch = await (await HouseWatch.TakeIn(await hosts.On(engine))).Through(Stage.WaterTest);

        var touched = await watch.Does("index.touched", "{}");

        Assert.Equal("Index touched. Again: regulation, casing, water test", touched.Line);
        Assert.Contains("opening-implied", touched.Flags);
        Assert.Contains("opening is taken as told", touched.Say.GetProperty("more").GetString());
    }

    [Fact]
    public async Task A_promise_that_moves_is_said_at_the_bench()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        var desk = Device.Pair(host, Role.Desk, bench: null);
        await watch.Does("hold.placed", """{"hold":"customer"}""", device: desk);
        host.Clock.Advance(Duration.FromDays(7));

        var lifted = await watch.Does("hold.lifted", """{"hold":"customer"}""", device: desk);

        Assert.Matches("^The promised date moved from 20[0-9-]+ to 20[0-9-]+\\.$", lifted.Say.GetProperty("more").GetString());
        Assert.False((await watch.Job()).Holds.Holds(HoldReason.Customer));
    }

    [Fact]
    public async Task A_piece_the_job_does_not_have_is_asked_about()
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));

        var given = await watch.Tells("piece.given", """{"kind":"bracelet","to":"people/jon"}""");
        var taken = await watch.Tells("piece.taken", """{"kind":"bracelet","person":"jon"}""");

        Assert.Equal("ask", given.Signal);
        Assert.Equal("held-by", taken.Code);
    }
}
