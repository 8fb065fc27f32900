using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class EnvelopeTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    private const string Data = """{"text":"a note","person":"mara"}""";

    [Theory]
    [InlineData("""{"specversion":"1.0",""", "unreadable-json")]
    [InlineData("", "unreadable-json")]
    [InlineData("""{"id":"a","id":"b"}""", "unreadable-json")]
    [InlineData("""{"id":"a" /* really */}""", "unreadable-json")]
    public async Task What_is_no_json_is_400(string body, string code)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Send(body);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(code, (await answer.Problem()).Code);
    }

    [Fact]
    public async Task What_is_no_utf8_is_400()
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));
        using var body = new ByteArrayContent(Encoding.Latin1.GetBytes("""{"id":"ü"}"""));
        body.Headers.ContentType = new(CloudEventReader.One);

        var answer = await device.Client.PostAsync("/v1/bench-events", body);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("unreadable-json", (await answer.Problem()).Code);
    }

    [Theory]
    [InlineData("application/json")]
    [InlineData("text/plain")]
    [InlineData("application/cloudevents+json; charset=iso-8859-1")]
    public async Task Another_media_type_is_415(string mediaType)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Send(device.Write("note.written", "J7K3MQ4T", Data), mediaType);

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.StatusCode);
        Assert.Equal("media-type-not-taken", (await answer.Problem()).Code);
    }

    [Fact]
    public async Task A_body_over_the_limit_is_413()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Limits:BodyBytes"] = "2048" });
        var device = Device.Pair(host);

        var answer = await device.Send(device.Write("note.written", "J7K3MQ4T", $$"""{"text":"{{new string('x', 3000)}}"}"""));

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Equal("body-too-large", (await answer.Problem()).Code);
    }

    public static TheoryData<string, string> WrongEnvelopes => new()
    {
        { """[]""", "" },
        { """ "text" """, "" },
        { """{"specversion":"1.0","source":"/s","type":"note.written"}""", "/id" },
        { """{"specversion":"1.0","id":"","source":"/s","type":"note.written"}""", "/id" },
        { """{"specversion":"1.0","id":7,"source":"/s","type":"note.written"}""", "/id" },
        { """{"specversion":"1.0","id":"a","type":"note.written"}""", "/source" },
        { """{"specversion":"1.0","id":"a","source":"/s"}""", "/type" },
        { """{"id":"a","source":"/s","type":"note.written"}""", "/specversion" },
        { """{"specversion":"0.3","id":"a","source":"/s","type":"note.written"}""", "/specversion" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","time":"yesterday"}""", "/time" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","time":"2026-03-02T10:00:00"}""", "/time" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","time":"2026-02-30T10:00:00Z"}""", "/time" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","sequence":5}""", "/sequence" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","sequence":"-5"}""", "/sequence" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","sequence":"1234567890123456789"}""", "/sequence" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","datacontenttype":"text/xml"}""", "/datacontenttype" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","data":"text"}""", "/data" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","data_base64":"e30="}""", "/data_base64" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","Upper":"x"}""", "/Upper" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","odd/name":"x"}""", "/odd~1name" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","ext":{"a":1}}""", "/ext" },
        { """{"specversion":"1.0","id":"a","source":"/s","type":"note.written","ext":1.5}""", "/ext" },
    };

    [Theory, MemberData(nameof(WrongEnvelopes))]
    public async Task A_wrong_envelope_is_422_with_a_pointer_to_what_is_wrong(string body, string pointer)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite), source: $"/s-{Guid.CreateVersion7(DateTimeOffset.UnixEpoch)}");

        var answer = await device.Post(body.Replace("\"/s\"", $"\"{device.Source}\""));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Equal("bad-fields", answer.Code);
        Assert.Contains(pointer, answer.Pointers);
    }

    [Fact]
    public async Task Everything_that_is_wrong_is_named_at_once()
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Post("""{"specversion":"2","sequence":"x","time":"x","data":[]}""");

        Assert.Equal(["/data", "/id", "/sequence", "/source", "/specversion", "/time", "/type"], answer.Pointers.Order(StringComparer.Ordinal));
    }

    [Theory, BothEngines]
    public async Task Any_extension_that_CloudEvents_allows_is_taken(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));
        var text = watch.Bench.Write("note.written", watch.Label.ToString(), Data);

        var answer = await watch.Bench.Post($$"""{"traceparent":"00-1-2-03","sampledrate":4,"urgent":true,"dataschema":"/events/note.written.json",{{text[1..]}}""");

        Assert.Equal("accepted", answer.Outcome);
        Assert.Empty(answer.Flags);
    }

    [Theory, BothEngines]
    public async Task What_is_wrong_in_the_data_is_422_with_pointers_into_it_and_is_kept_as_it_was_sent(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        const string data = """{ "readings": [ {"position":"sideways","ratePerDaySeconds":1}, {"position":"dial-up"} ],  "vibrationsPerHour": "28800" }""";

        var answer = await watch.Bench.Post(watch.Bench.Write("rate-set.recorded", watch.Label.ToString(), data, id: "wrong"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains("/data/readings/0/position", answer.Pointers);
        Assert.Contains("/data/vibrationsPerHour", answer.Pointers);
        var kept = await host.Services.GetRequiredService<Reader>().QueryFirst<string>(
            "select body from received where site = @site and source = @source and id = @id", new { site = WorkshopHost.Site, source = watch.Bench.Source, id = "wrong" });
        Assert.Contains(data, kept);
        Assert.Single(await watch.Entries());
    }

    [Theory]
    [InlineData("stage.started", """{"stage":"polishing"}""", "/data/stage")]
    [InlineData("stage.started", """{"stage":"queue"}""", "/data/stage")]
    [InlineData("stage.finished", """{"stage":"ready"}""", "/data/stage")]
    [InlineData("stage.finished", "{}", "/data/stage")]
    [InlineData("stage.sent-back", """{"stage":"rebuild","to":"closed","reason":"no"}""", "/data/to")]
    [InlineData("final-control.refused", """{"to":"ready","reason":"no"}""", "/data/to")]
    [InlineData("piece.given", """{"kind":"case"}""", "/data/to")]
    [InlineData("piece.put", """{"kind":"case"}""", "/data/to")]
    [InlineData("rate-set.recorded", """{"readings":[]}""", "/data/readings")]
    [InlineData("wear-check.read", """{"kind":"worn","offsetSeconds":3,"stopped":true}""", "/data/offsetSeconds")]
    [InlineData("wear-check.read", """{"kind":"worn"}""", "/data/offsetSeconds")]
    [InlineData("wear-check.read", """{"kind":"worn","offsetSeconds":43201}""", "/data/offsetSeconds")]
    [InlineData("note.written", """{"text":null}""", "/data/text")]
    [InlineData("note.written", """{"text":"x","already":"yes"}""", "/data/already")]
    [InlineData("note.written", """{"text":"x","despite":"needs/casing"}""", "/data/despite")]
    [InlineData("note.written", """{"text":"x","insteadOf":{"source":"/devices/bench-2/1"}}""", "/data/insteadOf")]
    [InlineData("note.written", """{"text":"x","insteadOf":{"source":"/devices/bench-2/1","id":"e-1"}}""", "/data/insteadOf")]
    public async Task What_is_wrong_in_the_event_alone_is_422_late_or_not(string type, string data, string pointer)
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(NodaTime.Duration.FromHours(2));

        var live = await watch.Tells(type, data);
        var late = await watch.Tells(type, data, at: host.Clock.GetCurrentInstant() - NodaTime.Duration.FromHours(1));

        Assert.Equal((HttpStatusCode.UnprocessableEntity, HttpStatusCode.UnprocessableEntity), (live.Status, late.Status));
        Assert.Equal([pointer], live.Pointers);
        Assert.Equal([pointer], late.Pointers);
        Assert.Equal("stop", live.Signal);
    }

    [Theory]
    [InlineData("beauty.admired")]
    [InlineData("job.taken-in")]
    [InlineData("Stage.Started")]
    public async Task A_type_that_no_bench_sends_is_422(string type)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));

        var answer = await watch.Tells(type, "{}");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Equal(["/type"], answer.Pointers);
    }

    [Theory]
    [InlineData(null, HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("J7K3MQ4V", HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("22222222", HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("hello", HttpStatusCode.BadRequest, "label-unreadable")]
    public async Task A_subject_that_is_no_label_is_400_and_never_another_job(string? subject, HttpStatusCode status, string code)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Post(device.Write("note.written", subject, Data));

        Assert.Equal((status, code), (answer.Status, answer.Code));
    }

    [Theory]
    [InlineData(Core.Labels.LabelKind.Job)]
    [InlineData(Core.Labels.LabelKind.Piece)]
    public async Task A_label_that_names_no_job_is_422(Core.Labels.LabelKind kind)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Post(device.Write("note.written", Core.Labels.Label.Complete(kind, [9, 8, 7, 6, 5, 4]).ToString(), Data));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Equal(["/subject"], answer.Pointers);
    }

    [Fact]
    public async Task A_label_may_be_typed_in_lower_case_with_blanks_and_hyphens()
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));
        var label = watch.Label.ToString();

        var answer = await watch.Bench.Say($"{label[..4].ToLowerInvariant()}-{label[4..6]} {label[6..]}", "note.written", Data);

        Assert.Equal(label, answer.Whole.GetProperty("job").GetString());
    }

    [Fact]
    public async Task Another_source_than_the_keys_is_403_alone_and_in_a_batch_and_nothing_is_kept()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        var own = watch.Bench.Write("note.written", watch.Label.ToString(), Data);
        var foreign = watch.Bench.Write("note.written", watch.Label.ToString(), Data, source: "/devices/bench-7/9");

        var alone = await watch.Bench.Post(foreign);
        var batch = await watch.Bench.Send($"[{own},{foreign}]", CloudEventReader.Batch);

        Assert.Equal((HttpStatusCode.Forbidden, "source-not-yours"), (alone.Status, alone.Code));
        Assert.Equal(HttpStatusCode.Forbidden, batch.StatusCode);
        Assert.Equal(watch.Bench.Source, (await batch.Problem()).Whole.GetProperty("source").GetString());
        Assert.Single(await watch.Entries());
    }

    [Fact]
    public async Task A_key_of_a_role_that_posts_nothing_is_403_and_none_is_401()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        foreach (var role in (Role[])[Role.Storefront, Role.Wall])
        {
            var device = Device.Pair(host, role);
            var answer = await device.Post(device.Write("note.written", "J7K3MQ4T", Data));
            Assert.Equal((HttpStatusCode.Forbidden, "not-for-this-role"), (answer.Status, answer.Code));
            Assert.Equal(["bench", "desk", "manager"], answer.Problem.GetProperty("roles").EnumerateArray().Select(one => one.GetString()));
        }

        var stranger = await host.Stranger.Send(HttpMethod.Post, "/v1/bench-events", "{}", CloudEventReader.One);
        Assert.Equal((HttpStatusCode.Unauthorized, "key-needed"), (stranger.StatusCode, (await stranger.Problem()).Code));
    }

    [Theory]
    [InlineData("""["text"]""")]
    [InlineData("""[{}]""")]
    public async Task A_batch_is_answered_200_whatever_its_events_are(string batch)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Send(batch, CloudEventReader.Batch);

        var result = Assert.Single((await answer.Json()).EnumerateArray());
        Assert.Equal("refused", result.GetProperty("outcome").GetString());
        Assert.Equal("bad-fields", result.GetProperty("problem").GetProperty("code").GetString());
        Assert.Equal(JsonValueKind.Object, result.GetProperty("say").ValueKind);
    }

    [Theory]
    [InlineData("[]")]
    [InlineData("{}")]
    public async Task A_batch_that_is_no_list_of_events_is_422(string body)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var answer = await device.Send(body, CloudEventReader.Batch);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Equal("bad-fields", (await answer.Problem()).Code);
    }
}
