using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class CheckJournalTests
{
    [Theory, BothEngines]
    public async Task A_workshop_that_was_left_alone_checks_clean(StorageEngine engine)
    {
        await using var storage = await Worked(engine);

        var report = storage.Check();

        Assert.Empty(report.Differences);
        Assert.Equal(1, report.Jobs);
        Assert.Equal((await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage)).Count, report.Entries);
    }

    [Theory]
    [InlineData("update journal set data = '{\"text\":\"never said\"}' where id = 'e-2'", "the data are not those that were accepted")]
    [InlineData("update journal set effective = effective - 60000000 where id = 'e-2'", "the hash does not follow")]
    [InlineData("update journal set disposition = 'noted' where id = 'e-2'", "the hash does not follow")]
    [InlineData("update journal set judged = '{\"person\":\"jon\"}' where id = 'e-2'", "the hash does not follow")]
    [InlineData("update journal set source = '/devices/bench-9/1' where id = 'e-2'", "the hash does not follow")]
    [InlineData("delete from journal where id = 'e-2'", "comes")]
    [InlineData("update site set last_position = last_position + 1", "the journal ends at position")]
    [InlineData("update site set last_hash = salt from (select salt from journal limit 1) as other", "is not the one the site keeps")]
    [InlineData("update job set document = '{}'", "its document is not what its entries fold to")]
    [InlineData("update job set stage = 'ready'", "its columns say")]
    [InlineData("update job set case_serial_key = 'X'", "its columns say")]
    [InlineData("update job set version = version + 1", "its row is at version")]
    [InlineData("update job set fold_version = 0", "folded as of 0")]
    [InlineData("update holding set holder = 'people/jon' where until_at is null", "is not in the fold")]
    [InlineData("delete from holding", "has no row")]
    [InlineData("insert into agenda (site, stream, kind, ref, due, task, wake, level, line) select site, 'job/' || label, 'review', 'nobody', 1, 1, 1, 'due', 'x' from job", "does not follow from the job")]
    [InlineData("insert into agenda (site, stream, kind, ref, due, task, wake, level, line) values ('main', 'job/J7K3MQ4T', 'review', 'nobody', 1, 1, 1, 'due', 'x')", "which does not exist")]
    [InlineData("delete from job", "has entries and no row")]
    public async Task What_somebody_changed_by_hand_is_found(string statement, string finding)
    {
        foreach (var engine in (StorageEngine[])[StorageEngine.Sqlite, StorageEngine.Postgres])
        {
            await using var storage = await Worked(engine);

            await storage.Writer.Turn(TestStorage.Site, turn => turn.Execute(statement));

            Assert.Contains(storage.Check().Differences, found => found.Contains(finding, StringComparison.Ordinal));
        }
    }

    [Theory, BothEngines]
    public async Task Erased_words_leave_the_chain_whole(StorageEngine engine)
    {
        await using var storage = await Worked(engine);

        await storage.Writer.Turn(TestStorage.Site, turn => turn.Execute("update journal set data = '{\"text\":\"\"}', salt = null where id = 'e-2'"));

        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task It_looks_beside_a_running_writer_at_one_moment(StorageEngine engine)
    {
        await using var storage = await Worked(engine);
        var job = await storage.TakeIn();
        using var enough = new CancellationTokenSource();
        var posting = Task.Run(async () =>
        {
            for (var i = 0; !enough.IsCancellationRequested; i++)
            {
                await storage.Post(job, $"busy-{i}", "piece.put", $$"""{"to":"trays/{{i}}"}""");
            }
        });

        for (var i = 0; i < 5; i++)
        {
            Assert.Empty(storage.Check().Differences);
        }

        await enough.CancelAsync();
        await posting;
    }

    [Fact]
    public async Task The_same_entries_in_another_order_of_arrival_give_the_same_document()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);
        var one = await storage.TakeIn();
        var other = await storage.TakeIn();
        storage.Clock.Advance(Duration.FromHours(8));
        (string Id, string Type, string Data, int Minute)[] events =
        [
            ("1", "piece.put", """{"to":"trays/7"}""", 10),
            ("2", "case.opened", """{"reason":"to see"}""", 20),
            ("3", "damage.seen", """{"part":"dial","condition":"hairline"}""", 30),
            ("4", "rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4}]}""", 40),
        ];

        foreach (var (id, type, data, minute) in events)
        {
            await storage.Post(one, $"a-{id}", type, data, TestStorage.Monday + Duration.FromMinutes(minute));
        }

        foreach (var (id, type, data, minute) in events.Reverse())
        {
            await storage.Post(other, $"a-{id}-other", type, data, TestStorage.Monday + Duration.FromMinutes(minute));
        }

        Assert.Equal(
            (await Document(one)).Replace(one.ToString(), "JOB", StringComparison.Ordinal),
            (await Document(other)).Replace(other.ToString(), "JOB", StringComparison.Ordinal).Replace("-other", "", StringComparison.Ordinal));
        Assert.Empty(storage.Check().Differences);

        async Task<string> Document(Label job) =>
            (await storage.Reader.QueryFirst<string>("select document from job where label = @label", new { label = job.ToString() }))!;
    }

    private static async Task<TestStorage> Worked(StorageEngine engine)
    {
        var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        storage.Clock.Advance(Duration.FromHours(1));
        await storage.Post(job, "e-1", "piece.put", """{"to":"trays/7"}""");
        await storage.Post(job, "e-2", "note.written", """{"text":"seen"}""");
        var held = await storage.Post(job, "e-3", "hold.placed", """{"hold":"parts","until":"2026-03-09"}""");
        Assert.Equal(Outcome.Accepted, held.Outcome);
        return storage;
    }
}
