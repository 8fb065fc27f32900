using System.Net;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class GateTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task A_refusal_names_its_gate_and_how_strong_it_is_who_helps_and_everything_that_stands_against_it(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine), missing: [new MissingMember(IntakeMember.DeclaredValue, Stage.Takedown)]);
        await watch.Hold(HoldReason.Customer);

        var told = await watch.Tells("stage.started", """{"stage":"takedown","person":"mara"}""");

        Assert.Equal(HttpStatusCode.Conflict, told.Status);
        Assert.Equal(["hold/customer", "intake/declaredValue", "needs/quote"], told.Against.Order(StringComparer.Ordinal));
        var first = told.Problem.GetProperty("against")[0];
        Assert.Equal("stop", first.GetProperty("strength").GetString());
        Assert.Equal(first.GetProperty("gate").GetString(), told.Gate);
        Assert.Equal("stop", told.Problem.GetProperty("strength").GetString());
        Assert.Equal(first.GetProperty("helps").GetString(), told.Problem.GetProperty("helps").GetString());
        Assert.Equal(watch.Label.ToString(), told.Problem.GetProperty("job").GetString());
        Assert.Equal("stop", told.Signal);
        Assert.Equal(first.GetProperty("line").GetString(), told.Line);
        Assert.All(told.Problem.GetProperty("against").EnumerateArray(), one =>
        {
            Assert.InRange(one.GetProperty("line").GetString()!.Length, 1, 60);
            Assert.NotEmpty(one.GetProperty("helps").GetString()!);
            Assert.Equal(one.GetProperty("gate").GetString() != "hold/customer", one.GetProperty("waivable").GetBoolean());
        });
        Assert.Equal(2, (await watch.Entries()).Length);
    }

    [Theory, BothEngines]
    public async Task A_gate_that_asks_passes_with_despite_in_a_new_event_and_is_kept_with_it(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));

        var asked = await watch.Tells("stage.started", """{"stage":"takedown","person":"mara"}""");
        var despite = await watch.Tells("stage.started", """{"stage":"takedown","person":"mara","despite":["needs/quote"]}""");

        Assert.Equal(("needs", "needs/quote", "ask"), (asked.Code, asked.Gate, asked.Signal));
        Assert.Equal("quote", asked.Problem.GetProperty("missing").GetString());
        Assert.Equal("accepted", despite.Outcome);
        var entry = (await watch.Entries())[^1];
        Assert.Equal(["needs/quote"], entry.Judged.Passing.AsEnumerable());
        Assert.Equal("mara", entry.Person);
    }

    [Theory]
    [InlineData("needs/casing")]
    [InlineData("needs")]
    [InlineData("")]
    public async Task Despite_passes_the_gate_it_names_and_no_other(string gate)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));

        var told = await watch.Tells("stage.started", $$"""{"stage":"takedown","despite":["{{gate}}"]}""");

        Assert.Equal("needs/quote", told.Gate);
    }

    [Theory, BothEngines]
    public async Task A_gate_that_stops_is_not_tapped_through(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        await watch.Hold(HoldReason.Other);

        var told = await watch.Tells("stage.started", """{"stage":"diagnosis","despite":["hold/other"]}""");

        Assert.Equal((HttpStatusCode.Conflict, "hold", "hold/other", "stop"), (told.Status, told.Code, told.Gate, told.Signal));
    }

    [Theory, BothEngines]
    public async Task A_waiver_lets_one_event_through_one_gate_of_one_job_and_is_gone_at_the_end_of_the_day(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var manager = Device.Pair(host, Role.Manager, bench: null);
        var watch = await HouseWatch.TakeIn(host);
        var other = await HouseWatch.TakeIn(host, watch.Bench);
        await watch.Through(Stage.Quote);
        const string water = """{"method":"dry","passed":true}""";
        const string wear = """{"kind":"worn","fullyWound":true,"offsetSeconds":0,"person":"mara","despite":["needs/regulation","needs/water-test"]}""";

        Assert.Equal("needs/casing", (await watch.Tells("wear-check.started", wear)).Gate);
        await watch.Does("waiver.given", """{"gate":"needs/casing","reason":"agreed by telephone","person":"ines"}""", device: manager);
        host.Clock.Advance(Duration.FromMinutes(1));
        Assert.Equal("needs/casing", (await other.Tells("wear-check.started", wear)).Gate);
        var started = await watch.Does("wear-check.started", wear);
        Assert.Equal(["needs/casing", "needs/regulation", "needs/water-test"], (await watch.Entries())[^1].Judged.Passing.Order(StringComparer.Ordinal));
        await watch.Does("case.opened", "{}");
        Assert.Contains("needs/casing", (await watch.Tells("wear-check.started", wear)).Against);

        await watch.Does("waiver.given", """{"gate":"needs/casing","reason":"agreed by telephone","person":"ines"}""", device: manager);
        host.Clock.Advance(Duration.FromHours(24));
        Assert.Contains("needs/casing", (await watch.Tells("wear-check.started", wear)).Against);
        await watch.Does("water-test.recorded", water);
        Assert.NotNull(started.Whole.GetProperty("due").GetString());
    }

    [Theory]
    [InlineData("hold/query", "/data/gate")]
    [InlineData("in-route", "/data/gate")]
    [InlineData("beauty", "/data/gate")]
    public async Task Not_every_gate_can_be_waived(string gate, string pointer)
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);

        var told = await watch.Tells("waiver.given", $$"""{"gate":"{{gate}}","reason":"no","person":"ines"}""", device: Device.Pair(host, Role.Manager));

        Assert.Equal((HttpStatusCode.UnprocessableEntity, pointer), (told.Status, Assert.Single(told.Pointers)));
    }

    [Theory, BothEngines]
    public async Task What_is_told_as_done_already_is_never_refused_but_noted_for_a_manager(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));

        var told = await watch.Tells("stage.finished", """{"stage":"takedown","person":"mara","already":true}""");

        Assert.Equal((HttpStatusCode.OK, "noted", "ask"), (told.Status, told.Outcome, told.Signal));
        Assert.Contains(EntryFlag.ForReview, told.Flags);
        Assert.Equal(StageState.Open, await watch.State(Stage.Takedown));
        Assert.Equal(["needs/quote"], Assert.Single((await watch.Job()).Reviews).Failed.AsEnumerable());
        Assert.False((await watch.Job()).Holds.Holds(HoldReason.Query), "A gate that only asks puts nothing on hold.");
    }

    [Theory, BothEngines]
    public async Task A_report_against_a_gate_that_stops_puts_the_job_on_hold_from_its_receipt(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(1));
        await watch.Hold(HoldReason.Other);
        var heldSince = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(2));

        var told = await watch.Tells("stage.started", """{"stage":"diagnosis","person":"mara"}""", at: heldSince + Duration.FromHours(1));

        Assert.Equal("noted", told.Outcome);
        Assert.Equal(["late", "for-review"], told.Flags);
        var query = Assert.Single((await watch.Job()).Holds.Standing, hold => hold.Reason == HoldReason.Query);
        Assert.Equal(host.Clock.GetCurrentInstant(), query.From);
    }

    [Theory, BothEngines]
    public async Task A_final_control_by_whoever_rebuilt_it_is_refused_whoever_else_is_named_is_not(StorageEngine engine)
    {
        var watch = await (await HouseWatch.TakeIn(await hosts.On(engine))).Through(Stage.ReserveAndFunctions);

        var nobody = await watch.Tells("final-control.passed", (await watch.Control()).Replace(",\"person\":\"vera\"", ""));
        var own = await watch.Tells("final-control.passed", await watch.Control("mara"));
        var half = await watch.Tells("final-control.passed", """{"checks":[{"check":"looks","result":"ok"}],"person":"vera"}""");
        var exception = await watch.Tells("final-control.passed", (await watch.Control()).Replace("""{"check":"date","result":"ok"}""", """{"check":"date","result":"exception","by":"vera"}"""));
        var second = await watch.Does("final-control.passed", await watch.Control());

        Assert.Equal("person-named", nobody.Code);
        Assert.Equal(("second-person", "stop"), (own.Code, own.Signal));
        Assert.Equal("mara", own.Problem.GetProperty("person").GetString());
        Assert.Equal("checks-complete", half.Code);
        Assert.Contains("water-statement", half.Problem.GetProperty("missing").GetString());
        Assert.Equal("checks-complete", exception.Code);
        Assert.Equal("Passed. Next: settlement", second.Line);
    }

    [Theory, BothEngines]
    public async Task Numbers_that_disagree_at_casing_stop_both_jobs(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var one = await (await HouseWatch.TakeIn(host, caseSerial: "N 1-1")).Through(Stage.DialAndHands);
        var other = await HouseWatch.TakeIn(host, one.Bench, caseSerial: "N 2-2");

        var told = await one.Tells("case.closed", $$"""{"jobLabel":"{{one.Label}}","caseSerial":"n22"}""");

        Assert.Equal((HttpStatusCode.Conflict, "three-numbers", "stop"), (told.Status, told.Code, told.Signal));
        Assert.Equal("case-serial", told.Problem.GetProperty("differing").GetString());
        Assert.True((await one.Job()).Holds.Holds(HoldReason.MixUp));
        Assert.True((await other.Job()).Holds.Holds(HoldReason.MixUp));
        Assert.Equal("hold/mix-up", (await other.Tells("stage.started", """{"stage":"diagnosis"}""")).Gate);

        // Tried again, it is still one thing to look at, for each of the two; and nobody outside the house hears of it.
        await one.Tells("case.closed", $$"""{"jobLabel":"{{one.Label}}","caseSerial":"n22"}""");
        foreach (var watch in new[] { one, other })
        {
            Assert.Equal(1, await host.QueryFirst<long>("select count(*) from agenda where site = 'main' and stream = @stream and kind = 'mix-up'", new { stream = watch.Stream }));
            Assert.Equal(0, await host.QueryFirst<long>("select count(*) from outbox where site = 'main' and stream = @stream and body like '%mix-up%'", new { stream = watch.Stream }));
        }
    }

    [Theory, BothEngines]
    public async Task A_legal_hold_is_named_to_managers_alone(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var manager = Device.Pair(host, Role.Manager, bench: null);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Does("hold.placed", """{"hold":"legal","reason":"a claim of ownership"}""", device: manager);
        host.Clock.Advance(Duration.FromMinutes(1));

        var bench = await watch.Tells("stage.started", """{"stage":"diagnosis"}""");
        var office = await watch.Tells("stage.started", """{"stage":"diagnosis"}""", device: manager);

        Assert.Equal("hold/query", bench.Gate);
        Assert.DoesNotContain("legal", bench.Whole.GetRawText());
        Assert.Equal("hold/legal", office.Gate);
    }

    [Theory, BothEngines]
    public async Task The_same_again_by_the_same_person_changes_nothing_and_says_so(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        await watch.Does("stage.started", """{"stage":"diagnosis","person":"mara"}""");

        var again = await watch.Does("stage.started", """{"stage":"diagnosis","person":"mara"}""");
        var another = await watch.Tells("stage.started", """{"stage":"diagnosis","person":"jon"}""");

        Assert.Equal([EntryFlag.AlreadySo], again.Flags);
        Assert.Equal(("nobody-else-at-it", "ask"), (another.Code, another.Signal));
        Assert.Equal("mara", another.Problem.GetProperty("who").GetString());
    }

    [Theory, BothEngines]
    public async Task A_stage_that_a_result_ends_names_that_result(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));

        var told = await watch.Tells("stage.finished", """{"stage":"water-test"}""");

        Assert.Equal("finished-by-result", told.Code);
        Assert.Equal("water-test.recorded", told.Problem.GetProperty("event").GetString());
    }
}
