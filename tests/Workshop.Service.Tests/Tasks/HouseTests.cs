using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Tasks;

/// <summary>The agenda of what belongs to no job, and copies of what is kept.</summary>
public class HouseTests
{
    [Theory, BothEngines]
    public async Task An_old_filling_is_on_the_agenda_and_is_said_once(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await (await host.Manager.Put("/v1/fluid-batches/m1-clean-12", """{ "fluid": "ammoniated", "jar": "clean", "machine": "machine-1", "filledOn": "2026-03-02" }""")).Json();
        var early = await Lines(host, "fluid-old", "all");

        host.SetTo(2026, 3, 23, 10);
        await host.Sweep();
        await host.Sweep();
        var due = await Lines(host, "fluid-old", "today");
        var said = await Announced(host, "fluid-old");
        await host.Change("/v1/fluid-batches/m1-clean-12", """{ "fluid": "ammoniated", "jar": "clean", "filledOn": "2026-03-02", "discardedOn": "2026-03-23" }""");

        Assert.Single(early);
        var line = Assert.Single(due);
        Assert.False(line.TryGetProperty("job", out _));
        Assert.Equal("m1-clean-12", line.Text("ref"));
        Assert.Equal(1, said);
        Assert.Empty(await Lines(host, "fluid-old", "all"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_piece_with_a_firm_is_asked_for_on_the_day_after_it_was_to_be_back(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        await host.Say(job, "piece.given", """{ "kind": "dial-and-hands", "to": "firms/bellmere-dials", "expectedBack": "2026-03-10", "person": "mara" }""");

        host.SetTo(2026, 3, 10, 17);
        await host.Sweep();
        var before = await Lines(host, "with-firm", "overdue");
        host.SetTo(2026, 3, 11, 9, 30);
        await host.Sweep();
        var after = await Lines(host, "with-firm", "overdue");
        await host.Say(job, "piece.taken", """{ "kind": "dial-and-hands", "from": "firms/bellmere-dials", "person": "mara" }""");

        Assert.Empty(before);
        Assert.Equal(job, Assert.Single(after).Text("job"));
        Assert.Empty(await Lines(host, "with-firm", "all"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_piece_given_without_a_day_is_asked_for_after_the_firms_usual_time(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        await host.Say(job, "piece.given", """{ "kind": "dial-and-hands", "to": "firms/bellmere-dials", "person": "mara" }""");
        var usual = Assert.Single(await Lines(host, "with-firm", "all")).Text("due");

        await (await host.Manager.Put("/v1/firms/bellmere-dials", """{ "name": "Bellmere Dials", "usualWorkingDays": 3 }""")).Json();
        var own = Assert.Single(await Lines(host, "with-firm", "all")).Text("due");

        // Ten open days after Monday 2 March end with Monday 16; three with Thursday 5. Zurich is an hour ahead of UTC.
        Assert.Equal("2026-03-16T23:00:00Z", usual);
        Assert.Equal("2026-03-05T23:00:00Z", own);
    }

    [Theory, BothEngines]
    public async Task A_device_nobody_hears_is_on_the_agenda_until_it_is_heard(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        _ = host.Bench;
        await Look(host);
        Assert.Equal("bench-1", Assert.Single(await Lines(host, "device-silent", "all")).Text("ref"));

        host.SetTo(2026, 3, 4, 10);
        await host.Sweep();
        Assert.Single(await Lines(host, "device-silent", "overdue"));
        await host.Bench.Get("/v1/me");
        await host.Services.GetRequiredService<ApiKeys>().FlushUse(host.Services.GetRequiredService<Writer>(), CancellationToken.None);
        await Look(host);

        Assert.Empty(await Lines(host, "device-silent", "overdue"));
        await (await host.Manager.Put("/v1/devices/bench-1", """{ "name": "The tablet nobody uses", "silentAfter": "PT0S" }""")).Json();
        Assert.Empty(await Lines(host, "device-silent", "all"));
    }

    [Fact]
    public async Task The_service_copies_its_database_once_a_day_and_keeps_so_many()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Backup:Keep"] = "2" });
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        var job = await host.TakeIn();
        var backUp = host.Services.GetRequiredService<BackUp>();
        var folder = host.Services.GetRequiredService<BackUps>().Folder;

        await backUp.Run(CancellationToken.None);
        await backUp.Run(CancellationToken.None);
        Assert.Single(Directory.GetFiles(folder));
        for (var day = 3; day <= 5; day++)
        {
            host.SetTo(2026, 3, day, 10);
            await backUp.Run(CancellationToken.None);
        }

        var copies = Directory.GetFiles(folder).Order(StringComparer.Ordinal).ToArray();
        Assert.Equal(["workshop-20260304T090000Z.db", "workshop-20260305T090000Z.db"], copies.Select(Path.GetFileName));
        Assert.True(OperatingSystem.IsWindows() || File.GetUnixFileMode(copies[0]) == (UnixFileMode.UserRead | UnixFileMode.UserWrite));
        Assert.Equal("workshop-20260305T090000Z.db", (await host.Manager.Get("/v1/back-ups")).GetProperty("newest").Text("where"));

        // The copy is a workshop of its own.
        var restored = Directory.CreateTempSubdirectory("workshop-restored-");
        File.Copy(copies[1], Path.Combine(restored.FullName, Database.FileName));
        using (var database = new Database(new StorageSettings { Path = restored.FullName }))
        {
            Assert.Empty(new CheckJournal(database).Run(replay: true).Differences);
            using var reader = new Reader(database);
            Assert.NotNull(await reader.History(WorkshopHost.Site, Workshop.Core.Labels.Label.Read(job)));
        }

        SqliteConnection.ClearAllPools();
        restored.Delete(recursive: true);
    }

    [Fact]
    public async Task A_copy_that_cannot_be_made_is_on_the_agenda_a_day_later()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Backup:Folder"] = "/proc/nowhere" });
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);

        await host.Services.GetRequiredService<BackUp>().Run(CancellationToken.None);
        await Look(host);
        var today = await Lines(host, "back-up", "overdue");
        host.SetTo(2026, 3, 4, 10);
        await host.Services.GetRequiredService<BackUp>().Run(CancellationToken.None);
        await host.Sweep();

        Assert.Empty(today);
        Assert.Equal("No back-up has been made yet", Assert.Single(await Lines(host, "back-up", "overdue")).Text("line"));
        Assert.False((await host.Manager.Get("/v1/back-ups")).TryGetProperty("newest", out _));
    }

    [Theory, BothEngines]
    public async Task A_back_up_made_elsewhere_is_told_of(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        const string Told = """{ "madeAt": "2026-03-02T02:40:00Z", "where": "the office's second disk" }""";

        var once = await (await host.Manager.PostJson("/v1/back-ups", Told)).Json();
        await (await host.Manager.PostJson("/v1/back-ups", Told)).Json();
        var toCome = await (await host.Manager.PostJson("/v1/back-ups", """{ "madeAt": "2030-03-02T02:40:00Z", "where": "x" }""")).Problem();

        Assert.Equal("the office's second disk", once.GetProperty("newest").Text("where"));
        Assert.Equal(["/madeAt"], toCome.Pointers);
        Assert.Equal("2026-03-03T14:40:00Z", Assert.Single(await Lines(host, "back-up", "all")).Text("due"));
        Assert.Empty(host.Check().Differences);
    }

    private static Task Look(WorkshopHost host) => host.Services.GetRequiredService<LookAtTheHouse>().Run(CancellationToken.None);

    private static async Task<System.Text.Json.JsonElement[]> Lines(WorkshopHost host, string kind, string due) =>
        [.. (await host.Manager.Get($"/v1/agenda?due={due}&limit=500")).GetProperty("items").EnumerateArray().Where(line => line.Text("kind") == kind)];

    private static async Task<int> Announced(WorkshopHost host, string kind) =>
        (await host.Services.GetRequiredService<Reader>().Journal(WorkshopHost.Site, 0, Reader.LongestPage)).Count(row => row.Type == "due.announced" && row.Data.Contains($"\"{kind}\""));
}
