using System.Net;
using System.Text.Json;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class RepeatTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task The_same_event_twice_is_one_entry_and_an_equal_answer(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine), hazards: ["radium-suspected"]);
        var text = watch.Bench.Write("rate-set.recorded", watch.Label.ToString(), """{"readings":[{"position":"dial-up","ratePerDaySeconds":4.25},{"position":"crown-up","ratePerDaySeconds":-1}]}""");

        var first = await watch.Bench.Post(text);
        await watch.Does("note.written", """{"text":"something else"}""");
        var second = await watch.Bench.Post(text);

        Assert.Equal(("accepted", "replayed"), (first.Outcome, second.Outcome));
        Assert.Equal("accepted", second.Whole.GetProperty("first").GetString());
        Assert.Equal(WithoutOutcome(first), WithoutOutcome(second));
        Assert.Equal(3, (await watch.Entries()).Length);
    }

    [Theory, BothEngines]
    public async Task Blanks_and_the_order_of_members_say_nothing(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var text = watch.Bench.Write("hold.placed", watch.Label.ToString(), """{"hold":"parts","reason":"\u0041 stem","until":"2026-03-20"}""");
        var same = text.Replace("""{"hold":"parts","reason":"\u0041 stem","until":"2026-03-20"}""", """{ "until" : "2026-03-20", "reason":"A stem", "hold":"parts" }""");

        await watch.Bench.Post(text);
        var again = await watch.Bench.Post(same);

        Assert.NotEqual(text, same);
        Assert.Equal("replayed", again.Outcome);
    }

    [Theory, BothEngines]
    public async Task A_refusal_is_given_again_even_where_the_same_would_pass_now(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        await watch.Hold(HoldReason.Other);
        var text = watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"diagnosis"}""");

        var first = await watch.Bench.Post(text);
        await watch.Lift(HoldReason.Other);
        var second = await watch.Bench.Post(text);
        var anew = await watch.Tells("stage.started", """{"stage":"diagnosis"}""");

        Assert.Equal((HttpStatusCode.Conflict, false), (first.Status, first.Replayed));
        Assert.Equal((HttpStatusCode.Conflict, true), (second.Status, second.Replayed));
        Assert.Equal("hold/other", second.Gate);
        Assert.Equal(first.Say.GetRawText(), second.Say.GetRawText());
        Assert.Equal(first.Problem.GetProperty("against").GetRawText(), second.Problem.GetProperty("against").GetRawText());
        Assert.Equal("accepted", anew.Outcome);
    }

    [Theory, BothEngines]
    public async Task A_fault_is_given_again_with_the_same_pointers(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var text = watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"polishing"}""");

        var first = await watch.Bench.Post(text);
        var second = await watch.Bench.Post(text);
        var inBatch = Assert.Single(await watch.Bench.PostBatch(text));

        Assert.Equal((HttpStatusCode.UnprocessableEntity, HttpStatusCode.UnprocessableEntity), (first.Status, second.Status));
        Assert.Equal((false, true), (first.Replayed, second.Replayed));
        Assert.Equal(first.Pointers, second.Pointers);
        Assert.Equal(("refused", true), (inBatch.Outcome, inBatch.Replayed));
    }

    [Theory, BothEngines]
    public async Task A_noted_report_is_answered_as_it_was_the_first_time(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var text = watch.Bench.Write("stage.finished", watch.Label.ToString(), """{"stage":"rebuild","person":"mara","already":true}""");

        var first = await watch.Bench.Post(text);
        var second = await watch.Bench.Post(text);

        Assert.Equal("noted", first.Outcome);
        Assert.Equal(("replayed", "noted"), (second.Outcome, second.Whole.GetProperty("first").GetString()));
        Assert.Equal(first.Flags, second.Flags);
        Assert.Single((await watch.Job()).Reviews);
    }

    public static TheoryData<string, string> OtherContents => new()
    {
        { "\"2026-03-02T09:00:00Z\"", "\"2026-03-02T10:00:00+01:00\"" },
        { "\"sequence\":\"1\"", "\"sequence\":\"2\"" },
        { "4.0", "4" },
        { "\"dial-up\"", "\"dial-down\"" },
        { "rate-set.recorded", "note.written" },
        { "\"cased\":false", "\"cased\":null" },
    };

    [Theory, MemberData(nameof(OtherContents))]
    public async Task Other_content_under_the_same_identity_is_a_conflict_that_names_the_stored_one(string was, string becomes)
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        var text = watch.Bench.Write(
            "rate-set.recorded", watch.Label.ToString(), """{"cased":false,"readings":[{"position":"dial-up","ratePerDaySeconds":4.0}]}""", id: $"{was}", time: "2026-03-02T09:00:00Z", number: 1);
        text = text.Replace($"\"id\":{JsonSerializer.Serialize(was)}", "\"id\":\"one\"");

        var first = await watch.Bench.Post(text);
        var other = await watch.Bench.Post(text.Replace(was, becomes));
        var again = await watch.Bench.Post(text);

        Assert.Equal("accepted", first.Outcome);
        Assert.Equal((HttpStatusCode.Conflict, "event-conflict", "stop"), (other.Status, other.Code, other.Signal));
        var stored = other.Problem.GetProperty("stored");
        Assert.Equal((watch.Bench.Source, "one"), (stored.GetProperty("source").GetString(), stored.GetProperty("id").GetString()));
        Assert.Equal((await watch.Entries())[^1].Position, stored.GetProperty("position").GetInt64());
        Assert.Equal("replayed", again.Outcome);
    }

    [Theory, BothEngines]
    public async Task Another_subject_under_the_same_identity_is_a_conflict_and_reaches_neither_job(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var one = await HouseWatch.TakeIn(host);
        var other = await HouseWatch.TakeIn(host, one.Bench);
        var text = one.Bench.Write("note.written", one.Label.ToString(), """{"text":"for the first"}""");

        await one.Bench.Post(text);
        var conflict = await one.Bench.Post(text.Replace(one.Label.ToString(), other.Label.ToString()));

        Assert.Equal("event-conflict", conflict.Code);
        Assert.Single(await other.Entries());
    }

    [Theory, BothEngines]
    public async Task The_same_id_of_another_source_is_another_event(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var second = Device.Pair(host);

        var one = await watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), """{"text":"a"}""", id: "same"));
        var two = await second.Post(second.Write("note.written", watch.Label.ToString(), """{"text":"b"}""", id: "same"));

        Assert.Equal(("accepted", "accepted"), (one.Outcome, two.Outcome));
    }

    [Theory, BothEngines]
    public async Task A_lower_number_with_a_new_id_is_late_and_never_a_conflict(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var label = watch.Label.ToString();

        await watch.Bench.Post(watch.Bench.Write("note.written", label, """{"text":"the first"}""", number: 1));
        await watch.Bench.Post(watch.Bench.Write("stage.finished", label, """{"stage":"diagnosis"}""", number: 2));
        var lower = await watch.Bench.Post(watch.Bench.Write("stage.started", label, """{"stage":"diagnosis","person":"mara"}""", id: "new", number: 1));

        Assert.Equal("accepted", lower.Outcome);
        Assert.Equal(["stage.started", "stage.finished"], (await watch.Entries()).Skip(2).Select(entry => entry.Event.Type));
    }

    [Theory, BothEngines]
    public async Task A_member_nobody_knows_is_kept_and_flagged_and_the_data_stand_byte_for_byte(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        const string data = """{ "text":"crown\u0020wheel",   "mood" : {"b":1.50,"a":[ ]},"Text":"other case" }""";

        var told = await watch.Tells("note.written", data);

        Assert.Equal((HttpStatusCode.OK, "accepted"), (told.Status, told.Outcome));
        Assert.Equal([EntryFlag.UnknownMember], told.Flags);
        Assert.Equal(data, await host.QueryFirst<string>("select data from journal where site = @site and stream = @stream and type = 'note.written'", new { site = WorkshopHost.Site, stream = watch.Stream }));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_key_that_may_not_say_it_leaves_no_verdict_behind(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var asDesk = Device.Pair(host, Role.Desk, bench: null);
        var asManager = host.With(host.AddKey(Role.Manager, asDesk.Source));
        var text = asDesk.Write("index.touched", watch.Label.ToString(), "{}");

        var refused = await asDesk.Post(text);
        var paired = await (await asManager.Send(HttpMethod.Post, "/v1/bench-events", text, "application/cloudevents+json")).Json();

        Assert.Equal((HttpStatusCode.Forbidden, "not-for-this-role"), (refused.Status, refused.Code));
        Assert.Equal("accepted", paired.GetProperty("outcome").GetString());
    }

    private static string WithoutOutcome(Told told) =>
        string.Join('\n', told.Whole.EnumerateObject().Where(member => member.Name is not ("outcome" or "first")).Select(member => $"{member.Name}: {member.Value.GetRawText()}").Order(StringComparer.Ordinal));
}
