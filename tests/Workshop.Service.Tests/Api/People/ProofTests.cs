using System.Net;
using System.Text;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.People;

public class ProofTests
{
    // Not to be found by chance in a file full of moments and hashes.
    private const string Veras = "90417263";
    private const string Wrong = "90417264";

    [Theory, BothEngines]
    public async Task Final_control_at_a_bench_asks_for_the_persons_number_once_anybody_has_one(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);

        var without = await watch.Tells("final-control.passed", await watch.Control());
        var wrong = await watch.Tells("final-control.passed", await Control(watch, Wrong));
        var somebodyElses = await watch.Tells("final-control.passed", (await Control(watch, Veras)).Replace("vera", "urs", StringComparison.Ordinal));
        var right = await watch.Tells("final-control.passed", await Control(watch, Veras));

        Assert.Equal((HttpStatusCode.Conflict, "proof", "Who are you? Type your number"), (without.Status, without.Gate, without.Line));
        Assert.Equal(("proof", "That is not your number"), (wrong.Gate, wrong.Line));
        Assert.Equal("proof", somebodyElses.Gate);
        Assert.Equal("accepted", right.Outcome);
        Assert.True(await watch.State(Stage.FinalControl) == StageState.Done);
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_managers_device_stands_for_the_number_and_so_does_having_told_it_when_signing_on()
    {
        await using var host = await WorkshopHost.Start();
        await People.Exist(host);
        await People.Give(host, "vera", Veras);
        var first = await HouseWatch.TakeIn(host);
        await first.Through(Stage.ReserveAndFunctions);
        var bench = first.Bench;

        var wrong = await bench.Post(bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Wrong}}"}"""));
        var proven = await bench.Post(bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Veras}}"}"""));
        var me = await (await bench.Client.GetAsync("/v1/me")).Json();
        var other = await first.Tells("final-control.passed", await first.Control("urs"));
        var asked = await bench.Post(bench.Write("final-control.passed", $"{first.Label}", (await first.Control()).Replace(",\"person\":\"vera\"", "", StringComparison.Ordinal), number: 900), "?ask=true");
        var named = await first.Tells("final-control.passed", (await first.Control()).Replace(",\"person\":\"vera\"", "", StringComparison.Ordinal));

        Assert.Equal(("proof", "stop"), (wrong.Gate, wrong.Signal));
        Assert.Equal("accepted", proven.Outcome);
        Assert.True(me.GetProperty("signedOn").GetProperty("proven").GetBoolean());
        Assert.Equal("proof", other.Gate);
        Assert.Equal("accepted", asked.Outcome);
        Assert.Equal("accepted", named.Outcome);
        Assert.Equal("vera", (await first.Entries()).Single(entry => entry.Event is Core.FinalControls.FinalControlPassed).Person);

        var second = await HouseWatch.TakeIn(host);
        await second.Through(Stage.ReserveAndFunctions);
        await second.Does("final-control.passed", await second.Control(), device: Device.Pair(host, Role.Manager, bench: null));
    }

    [Fact]
    public async Task A_number_given_out_anew_ends_what_the_old_one_proved()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);
        Assert.Equal("accepted", (await watch.Bench.Post(watch.Bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Veras}}"}"""))).Outcome);
        host.Clock.Advance(Duration.FromSeconds(1));

        await People.Give(host, "vera", "55667788");

        Assert.Equal("proof", (await watch.Tells("final-control.passed", await watch.Control())).Gate);
        Assert.Equal("proof", (await watch.Tells("final-control.passed", await Control(watch, Veras))).Gate);
        Assert.Equal("accepted", (await watch.Tells("final-control.passed", await Control(watch, "55667788"))).Outcome);
    }

    [Theory, BothEngines]
    public async Task Five_wrong_numbers_lock_it_for_a_quarter_of_an_hour_also_over_a_restart(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await People.Exist(host);
        await People.Give(host, "vera", Veras);
        var key = host.AddKey(Role.Bench, "/devices/bench-8/1", "bench-8");
        var tells = 0;

        for (var i = 0; i < 4; i++)
        {
            Assert.Equal("proof", (await Try(Wrong)).Gate);
            host.Clock.Advance(Duration.FromMinutes(1));
        }

        var fifth = await Try(Wrong);
        var rightWhileLocked = await Try(Veras);
        await host.Restart();
        host.Clock.Advance(Duration.FromMinutes(15) - Duration.FromSeconds(1));
        var stillLocked = await Try(Veras);
        host.Clock.Advance(Duration.FromSeconds(1));
        var over = await Try(Veras);

        Assert.Equal(("proof-locked", "proof-locked", "proof-locked", "accepted"), (fifth.Gate, rightWhileLocked.Gate, stillLocked.Gate, over.Outcome));

        Task<Told> Try(string number)
        {
            var device = Device.Of(host, "/devices/bench-8/1", key);
            tells++;
            return device.Post(device.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{number}}"}""", id: $"t-{tells}", number: tells));
        }
    }

    [Fact]
    public async Task Wrong_numbers_further_apart_than_a_quarter_of_an_hour_lock_nothing()
    {
        await using var host = await WorkshopHost.Start();
        await People.Exist(host);
        await People.Give(host, "vera", Veras);
        var bench = Device.Pair(host);

        for (var i = 0; i < 7; i++)
        {
            Assert.Equal("proof", (await bench.Post(bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Wrong}}"}"""))).Gate);
            host.Clock.Advance(Duration.FromMinutes(4));
        }
    }

    [Fact]
    public async Task A_batch_is_no_way_to_try_more_numbers()
    {
        await using var host = await WorkshopHost.Start();
        await People.Exist(host);
        await People.Give(host, "vera", Veras);
        var bench = Device.Pair(host);

        var told = await bench.PostBatch([
            .. Enumerable.Range(0, 6).Select(i => bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"1000000{{i}}"}""")),
            bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Veras}}"}"""),
        ]);

        Assert.Equal(["proof", "proof", "proof", "proof", "proof-locked", "proof-locked", "proof-locked"], told.Select(one => one.Gate));
    }

    [Fact]
    public async Task Asking_beforehand_tells_nobody_whether_a_number_is_right()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);

        var right = await watch.Bench.Post(watch.Bench.Write("final-control.passed", $"{watch.Label}", await Control(watch, Veras), number: 900), "?ask=true");
        var wrong = await watch.Bench.Post(watch.Bench.Write("final-control.passed", $"{watch.Label}", await Control(watch, Wrong), id: "other", number: 900), "?ask=true");

        Assert.Equal(("proof", right.Line), (right.Gate, wrong.Line));
    }

    [Fact]
    public async Task A_report_that_comes_late_is_proven_by_the_number_told_with_it_also_when_it_had_to_wait()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);
        var then = InstantPattern.ExtendedIso.Format(host.Clock.GetCurrentInstant());
        host.Clock.Advance(Duration.FromHours(3));
        var tablet = Device.Pair(host, bench: "bench-9");

        var held = await tablet.Post(tablet.Write("final-control.passed", $"{watch.Label}", await Control(watch, Veras), time: then, number: 2));
        await tablet.Post(tablet.Write("device.heard", null, """{"queueLength":1}""", id: "first", time: then, number: 1));
        var told = await tablet.Post(tablet.Write("final-control.passed", $"{watch.Label}", await Control(watch, Veras), time: then, number: 2));

        Assert.Equal("held", held.Outcome);
        Assert.Equal(("replayed", "accepted"), (told.Outcome, told.Whole.GetProperty("first").GetString()));
        Assert.Equal(StageState.Done, await watch.State(Stage.FinalControl));
    }

    [Fact]
    public async Task A_late_signing_on_with_a_wrong_number_counts_and_proves_nothing()
    {
        await using var host = await WorkshopHost.Start();
        await People.Exist(host);
        await People.Give(host, "vera", Veras);
        var bench = Device.Pair(host);
        var then = InstantPattern.ExtendedIso.Format(host.Clock.GetCurrentInstant());
        host.Clock.Advance(Duration.FromHours(1));

        var told = await bench.Post(bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Wrong}}"}""", time: then));
        var me = (await (await bench.Client.GetAsync("/v1/me")).Json()).GetProperty("signedOn");

        Assert.Equal("accepted", told.Outcome);
        Assert.Contains("unproven", told.Flags);
        Assert.False(me.GetProperty("proven").GetBoolean());
    }

    [Fact]
    public async Task That_money_is_settled_needs_a_number_at_the_desk_too()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);
        var desk = Device.Pair(host, Role.Desk, "/desk/counter", null);

        var without = await watch.Tells("stage.finished", """{"stage":"settlement","person":"vera"}""", device: desk);
        var with = await watch.Tells("stage.finished", $$"""{"stage":"settlement","person":"vera","proof":"{{Veras}}"}""", device: desk);

        Assert.Equal("proof", without.Gate);
        Assert.Equal("accepted", with.Outcome);
    }

    [Fact]
    public async Task The_number_is_nowhere_in_the_database_after_it_was_told_in_every_way()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);
        var bench = watch.Bench;
        var data = await Control(watch, Veras);
        var malformed = bench.Write("final-control.passed", $"{watch.Label}", data, id: "malformed", time: "yesterday");
        var answers = new StringBuilder();

        // Refused, escaped, no number at all, malformed envelope, sign-on, held for good, accepted, and the same again.
        foreach (var text in (string[])
        [
            bench.Write("final-control.passed", $"{watch.Label}", data.Replace("vera", "urs", StringComparison.Ordinal)),
            bench.Write("note.written", $"{watch.Label}", $$"""{"text":"x","audience":"house","pr\u006fof":"{{Veras}}"}"""),
            bench.Write("note.written", $"{watch.Label}", $$"""{"text":"x","audience":"house","proof":["{{Veras}}"]}"""),
            bench.Write("nothing.known", $"{watch.Label}", data),
            malformed,
            bench.Write("person.signed-on", null, $$"""{"person":"vera","proof":"{{Veras}}"}"""),
            bench.Write("final-control.passed", $"{watch.Label}", data, id: "passed", number: 500),
            bench.Write("final-control.passed", $"{watch.Label}", data, id: "passed", number: 500),
        ])
        {
            using var answer = await bench.Send(text);
            answers.AppendLine(await answer.Content.ReadAsStringAsync());
        }

        var kept = await host.Bytes();

        Assert.DoesNotContain(Veras, answers.ToString());
        Assert.True(kept.Length > 100_000, $"only {kept.Length} bytes were read");
        Assert.True(Holds(kept, "crown-and"u8) || Holds(kept, "Mara Vonlanthen"u8), "what is kept cannot be read here at all");
        Assert.False(Holds(kept, Encoding.UTF8.GetBytes(Veras)));

        static bool Holds(byte[] bytes, ReadOnlySpan<byte> text) => bytes.AsSpan().IndexOf(text) >= 0;
    }

    [Fact]
    public async Task What_cannot_be_a_number_is_refused_and_not_shown_again()
    {
        await using var host = await WorkshopHost.Start();
        await People.Exist(host);
        var bench = Device.Pair(host);

        var told = await bench.Post(bench.Write("person.signed-on", null, """{"person":"vera","proof":904172}"""));
        using var nobody = await host.Manager.Send(HttpMethod.Put, "/v1/people/nobody/proof", """{"proof":"1234"}""", "application/json");
        using var letters = await host.Manager.Send(HttpMethod.Put, "/v1/people/vera/proof", """{"proof":"12a4"}""", "application/json");

        Assert.Equal(["/data/proof"], told.Pointers);
        Assert.DoesNotContain("904172", told.Whole.GetRawText());
        Assert.Equal("no-such-thing", (await nobody.Problem()).Code);
        Assert.Equal(["/proof"], (await letters.Problem()).Pointers);
    }

    [Fact]
    public async Task When_the_last_number_is_taken_away_nobody_is_asked_any_more()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await ReadyForControl(host);
        await People.Give(host, "vera", Veras);
        Assert.Equal("proof", (await watch.Tells("final-control.passed", await watch.Control())).Gate);

        Assert.Equal(HttpStatusCode.NoContent, (await host.Manager.DeleteAsync("/v1/people/vera/proof")).StatusCode);

        Assert.Equal("accepted", (await watch.Tells("final-control.passed", await watch.Control())).Outcome);
    }

    private static async Task<HouseWatch> ReadyForControl(WorkshopHost host)
    {
        await People.Exist(host);
        var watch = await HouseWatch.TakeIn(host);
        return await watch.Through(Stage.ReserveAndFunctions);
    }

    private static async Task<string> Control(HouseWatch watch, string proof) => $$"""{{(await watch.Control())[..^1]}},"proof":"{{proof}}"}""";
}
