using System.Net;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.People;

public class SignOnTests
{
    private const string Nobody = """{"text":"crown turns stiffly","audience":"house"}""";

    [Theory, BothEngines]
    public async Task What_is_said_without_a_name_is_the_word_of_whoever_signed_on_at_that_place(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        var other = Device.Pair(host, bench: "bench-3");

        var told = await SignOn(watch.Bench, "mara");
        await watch.Does("note.written", Nobody);
        await watch.Does("note.written", """{"text":"by somebody else","audience":"house","person":"jon"}""");
        host.Clock.Advance(Duration.FromSeconds(1));
        await watch.Does("note.written", Nobody, device: other);
        host.Clock.Advance(Duration.FromSeconds(1));
        await SignOn(watch.Bench, "jon");
        await watch.Does("note.written", Nobody);
        Assert.Equal("accepted", (await watch.Bench.Post(watch.Bench.Write("person.signed-off", null, "{}"))).Outcome);
        await watch.Does("note.written", Nobody);

        Assert.Equal(("accepted", "mara is signed on here"), (told.Outcome, told.Line));
        Assert.Equal(["mara", "jon", null, "jon", null], await Writers(watch));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_late_event_is_the_word_of_whoever_was_signed_on_then()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);
        var bench = watch.Bench;
        var early = host.Clock.GetCurrentInstant();
        await SignOn(bench, "mara");
        host.Clock.Advance(Duration.FromHours(2));
        await SignOn(bench, "jon");
        host.Clock.Advance(Duration.FromMinutes(10));

        var late = await bench.Post(bench.Write("note.written", $"{watch.Label}", Nobody, time: "", number: null));
        var lost = await bench.Post(bench.Write("note.written", $"{watch.Label}", Nobody, id: "lost", time: Text(early + Duration.FromHours(1)), number: 2));

        Assert.Equal(("accepted", "accepted"), (late.Outcome, lost.Outcome));
        var entries = await watch.Entries();
        Assert.Equal("mara", entries.Single(entry => entry.Id.Id == "lost").Person);
        Assert.Equal(["mara", "jon"], await Writers(watch));
    }

    [Fact]
    public async Task Of_a_batch_that_comes_in_any_order_each_event_is_said_by_whoever_was_there_at_its_number()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);
        var bench = watch.Bench;
        string[] inOrder =
        [
            bench.Write("person.signed-on", null, """{"person":"mara"}"""),
            bench.Write("note.written", $"{watch.Label}", Nobody),
            bench.Write("person.signed-on", null, """{"person":"jon"}"""),
            bench.Write("note.written", $"{watch.Label}", Nobody),
            bench.Write("person.signed-off", null, "{}"),
            bench.Write("note.written", $"{watch.Label}", Nobody),
        ];

        var told = await bench.PostBatch(inOrder.Reverse());

        Assert.All(told, one => Assert.Equal("accepted", one.Outcome));
        Assert.Equal(["mara", "jon", null], await Writers(watch));
    }

    [Fact]
    public async Task Nobody_is_signed_on_over_night()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);
        await SignOn(watch.Bench, "mara");

        // Zurich is an hour ahead in winter: the day ends at 23:00 UTC.
        host.Clock.Reset(Instant.FromUtc(2026, 3, 2, 22, 59));
        await watch.Does("note.written", Nobody);
        host.Clock.Reset(Instant.FromUtc(2026, 3, 2, 23, 0));
        await watch.Does("note.written", Nobody);

        Assert.Equal(["mara", null], await Writers(watch));
    }

    [Theory, BothEngines]
    public async Task A_device_is_told_who_is_signed_on_at_it(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await People.Exist(host);
        var bench = Device.Pair(host);
        await SignOn(bench, People.MarasBadge);

        var me = (await (await bench.Client.GetAsync("/v1/me")).Json()).GetProperty("signedOn");
        await bench.Post(bench.Write("person.signed-off", null, "{}"));
        host.Clock.Advance(Duration.FromSeconds(1));
        var after = await (await bench.Client.GetAsync("/v1/me")).Json();

        Assert.Equal(("mara", "Mara Vonlanthen"), (me.GetProperty("person").GetString(), me.GetProperty("name").GetString()));
        Assert.Equal("2026-03-02T23:00:00Z", me.GetProperty("until").GetString());
        Assert.False(me.GetProperty("proven").GetBoolean());
        Assert.False(after.TryGetProperty("signedOn", out _));
    }

    [Fact]
    public async Task Signing_on_needs_a_badge_and_a_place_where_people_work()
    {
        await using var host = await WorkshopHost.Start();
        var bench = Device.Pair(host);
        var wall = Device.Pair(host, Role.Wall, "/devices/hall/1", null);

        Assert.Equal(["/data/person"], (await bench.Post(bench.Write("person.signed-on", null, "{}"))).Pointers);
        Assert.Equal(HttpStatusCode.Forbidden, (await wall.Post(wall.Write("person.signed-on", null, """{"person":"mara"}"""))).Status);
    }

    private static Task<Told> SignOn(Device device, string person) => device.Post(device.Write("person.signed-on", null, $$"""{"person":"{{person}}"}"""));

    private static async Task<IEnumerable<string?>> Writers(HouseWatch watch) =>
        (await watch.Entries()).Where(entry => entry.Event is Core.Notes.NoteWritten).Select(entry => entry.Person);

    private static string Text(Instant moment) => InstantPattern.ExtendedIso.Format(moment);
}
