using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class WriterTests
{
    [Theory, BothEngines]
    public async Task What_was_answered_stands_in_the_journal(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        const string Sent = """{ "text":"Kronenrad läuft trocken \u00e9",   "audience":"house", "colour": [1.50, 2] }""";

        var job = await storage.TakeIn();
        var decision = await storage.Post(job, "e-1", "note.written", Sent, sequence: 412);

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        var rows = await storage.Reader.Journal(TestStorage.Site, after: 0, Reader.LongestPage);
        var row = rows[^1];
        Assert.Equal("note.written", row.Type);
        Assert.Equal(Sent, row.Data);
        Assert.Equal(412, row.Sequence);
        Assert.Equal("2026-03-02T10:00:00+01:00", row.DeviceTime);
        Assert.Equal(Microseconds.Of(TestStorage.Monday), row.Effective);
        Assert.Equal(2, row.StreamVersion);
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Positions_are_dense_and_the_chain_is_whole_after_many_turns_at_once(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var jobs = new List<Label>();
        for (var i = 0; i < 8; i++)
        {
            jobs.Add(await storage.TakeIn($"S-{i}"));
        }

        var before = (await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage)).Count;
        await Task.WhenAll(Enumerable.Range(0, 200).Select(i => storage.Post(jobs[i % jobs.Count], $"e-{i}", "note.written", """{"text":"seen"}""")));

        var rows = await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage);
        Assert.Equal(before + 200, rows.Count);
        Assert.Equal(Enumerable.Range(1, rows.Count).Select(i => (long)i), rows.Select(row => row.Position));
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Only_the_request_that_failed_hears_of_it(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        using var gate = new ManualResetEventSlim();
        var blocker = storage.Writer.Turn(TestStorage.Site, turn => gate.Wait(TimeSpan.FromSeconds(10)));

        // These wait together and so make one group.
        var good = Enumerable.Range(0, 5).Select(i => storage.Post(job, $"good-{i}", "note.written", """{"text":"seen"}""")).ToList();
        var guilty = storage.Writer.Turn(TestStorage.Site, turn =>
        {
            TestJobs.Post(turn, job, "guilty", "note.written", """{"text":"seen"}""");
            throw new InvalidOperationException("broken on purpose");
        });
        var more = Enumerable.Range(5, 5).Select(i => storage.Post(job, $"good-{i}", "note.written", """{"text":"seen"}""")).ToList();
        gate.Set();
        await blocker;

        var failure = await Assert.ThrowsAsync<InvalidOperationException>(() => guilty);
        Assert.Equal("broken on purpose", failure.Message);
        Assert.All(await Task.WhenAll([.. good, .. more]), one => Assert.Equal(Outcome.Accepted, one.Outcome));

        var rows = await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage);
        Assert.Equal(10, rows.Count(row => row.Id.StartsWith("good-", StringComparison.Ordinal)));
        Assert.DoesNotContain(rows, row => row.Id == "guilty");
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task What_comes_late_is_folded_at_its_own_place(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        storage.Clock.Advance(Duration.FromHours(5));
        await storage.Post(job, "later", "piece.put", """{"to":"places/safe"}""");

        await storage.Post(job, "earlier", "piece.put", """{"to":"trays/7"}""", effective: TestStorage.Monday + Duration.FromHours(1));

        var history = await storage.Reader.History(TestStorage.Site, job);
        Assert.Equal(["take-in/" + job, "earlier", "later"], history!.Entries.Select(entry => entry.Id.Id));
        Assert.All(history.Job.Holdings.Where(one => one.Until is null), one => Assert.Equal("places/safe", one.Holder));
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_turn_sees_what_others_of_its_group_did(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var (first, found) = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            var one = TestJobs.TakeIn(turn, "Z 900-1");
            var other = TestJobs.TakeIn(turn, "Z 900-2");
            return (one, turn.OtherJobWithNumber("z900.1", other));
        });

        Assert.Equal(first, found);
    }

    [Fact]
    public async Task What_another_instance_wrote_is_not_overlooked()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Postgres);
        var other = await storage.StartAnotherInstance();
        var job = await storage.TakeIn();

        for (var i = 0; i < 3; i++)
        {
            await storage.Post(job, $"here-{i}", "note.written", """{"text":"seen here"}""");
            await other.Turn(TestStorage.Site, turn => TestJobs.Post(turn, job, $"there-{i}", "piece.put", $$"""{"to":"trays/{{i}}"}"""));
        }

        await Task.WhenAll(Enumerable.Range(0, 50).Select(i => (i % 2 == 0 ? storage.Writer : other).Turn(
            TestStorage.Site, turn => TestJobs.Post(turn, job, $"both-{i}", "note.written", """{"text":"seen"}"""))));

        var history = await storage.Reader.History(TestStorage.Site, job);
        Assert.Equal(57, history!.Job.Version);
        Assert.Empty(storage.Check().Differences);
    }

    [Fact]
    public async Task Rules_saved_by_another_instance_are_in_force_here()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Postgres);
        var other = await storage.StartAnotherInstance();
        Assert.Empty(await storage.Writer.Turn(TestStorage.Site, turn => turn.Rules.People));

        await other.Turn(TestStorage.Site, turn => ShopDocuments.Put(turn, "people", "mara", """{"id":"mara","name":"Mara Vonlanthen","manager":true}"""));

        Assert.True(await storage.Writer.Turn(TestStorage.Site, turn => turn.Rules.People["mara"].Manager));
    }

    [Theory, BothEngines]
    public async Task Rules_of_a_turn_that_failed_were_never_in_force(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        await Assert.ThrowsAsync<InvalidOperationException>(() => storage.Writer.Turn(TestStorage.Site, turn =>
        {
            ShopDocuments.Put(turn, "people", "mara", """{"id":"mara","name":"Mara Vonlanthen","manager":true}""");
            Assert.Single(turn.Rules.People);
            throw new InvalidOperationException("broken on purpose");
        }));

        Assert.Empty(await storage.Writer.Turn(TestStorage.Site, turn => turn.Rules.People));
    }

    [Theory, BothEngines]
    public async Task Rules_saved_after_work_in_the_same_turn_are_in_force_at_once(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var rules = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            TestJobs.TakeIn(turn);
            ShopDocuments.Put(turn, "people", "mara", """{"id":"mara","name":"Mara Vonlanthen","manager":true}""");
            return turn.Rules;
        });

        Assert.Single(rules.People);
        Assert.Single(await storage.Writer.Turn(TestStorage.Site, turn => turn.Rules.People));
    }

    [Theory, BothEngines]
    public async Task A_position_given_out_twice_is_refused(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();

        await Assert.ThrowsAsync<InvalidOperationException>(() => storage.Writer.Turn(TestStorage.Site, turn =>
        {
            var entry = turn.Compose(StreamEntry.OfJob(job), new EventId("/desk/front", "x"), new Core.Notes.NoteWritten { Text = "one" });
            turn.Append([entry]);
            turn.Append([entry with { Entry = entry.Entry with { Id = new EventId("/desk/front", "y") } }]);
        }));
    }

    [Theory, BothEngines]
    public async Task A_full_queue_turns_away_and_says_so(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        using var gate = new ManualResetEventSlim();
        var blocker = storage.Writer.Turn(TestStorage.Site, turn => gate.Wait(TimeSpan.FromSeconds(30)));
        var waiting = new List<Task>();

        var turnedAway = Assert.Throws<WriterBusyException>(() =>
        {
            for (var i = 0; i < 3000; i++)
            {
                waiting.Add(storage.Writer.Turn(TestStorage.Site, turn => turn.NextPosition));
            }
        });
        gate.Set();

        Assert.Contains("wait", turnedAway.Message);
        Assert.InRange(waiting.Count, new WriterSettings().QueueLength - 1, 3000);
        await Task.WhenAll([blocker, .. waiting]);
    }

    [Theory, BothEngines]
    public async Task Who_gives_up_waiting_leaves_nothing_behind(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        using var gate = new ManualResetEventSlim();
        using var patience = new CancellationTokenSource();
        var blocker = storage.Writer.Turn(TestStorage.Site, turn => gate.Wait(TimeSpan.FromSeconds(10)));

        var givenUp = storage.Writer.Turn(TestStorage.Site, turn => TestJobs.Post(turn, job, "given-up", "note.written", """{"text":"seen"}"""), patience.Token);
        await patience.CancelAsync();
        gate.Set();
        await blocker;

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => givenUp);
        Assert.Equal(1, (await storage.Reader.History(TestStorage.Site, job))!.Job.Version);
    }

    [Theory, BothEngines]
    public async Task The_first_verdict_about_an_event_is_remembered(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var refused = new ReceivedEvent
        {
            Id = new EventId(TestJobs.Bench, "e-9"),
            Digest = ChainHash.Digest([], "{}"),
            Body = "{}",
            Sequence = 7,
            DeviceTime = "2026-03-02T10:00:00+01:00",
            Received = TestStorage.Monday,
            ApiKey = "k-1",
            State = ReceivedState.Refused,
            Answer = """{"outcome":"refused"}""",
        };

        var seenInTheSameTurn = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            Assert.Null(turn.FindReceived(refused.Id));
            turn.SaveReceived(refused);
            return turn.FindReceived(refused.Id);
        });
        var seenLater = await storage.Writer.Turn(TestStorage.Site, turn => turn.FindReceived(refused.Id));

        Assert.Same(refused, seenInTheSameTurn);
        Assert.Equal(refused with { Digest = seenLater!.Digest }, seenLater);
        Assert.Equal(refused.Digest, seenLater.Digest);
    }

    [Theory, BothEngines]
    public async Task Jobs_beyond_what_fits_in_memory_are_folded_from_the_journal(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var memory = new SiteMemory(jobsAtMost: 4);
        var labels = Enumerable.Range(0, 9).Select(_ => Labels.Draw(LabelKind.Job)).ToList();

        foreach (var label in labels)
        {
            memory.Keep(new HeldJob(new Job { Label = label }));
        }

        Assert.InRange(labels.Count(label => memory.Find(label) is not null), 1, 4);
        Assert.NotNull(memory.Find(labels[^1]));
    }

    [Theory, BothEngines]
    public async Task Numbers_that_were_exchanged_hold_both_jobs(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var one = await storage.TakeIn("A 100");
        var other = await storage.TakeIn("B 200");

        var decision = await storage.Post(one, "e-1", "case.closed", $$"""{"jobLabel":"{{one}}","caseSerial":"b-200"}""");

        Assert.Equal(Outcome.Refused, decision.Outcome);
        foreach (var job in (Label[])[one, other])
        {
            var history = await storage.Reader.History(TestStorage.Site, job);
            Assert.True(history!.Job.Holds.Holds(Core.Holds.HoldReason.MixUp));
            Assert.Equal(2, history.Job.Version);
        }

        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Whoever_waits_for_what_falls_due_is_woken(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var commits = new System.Collections.Concurrent.ConcurrentQueue<Commit>();
        storage.Writer.Committed += commits.Enqueue;
        var job = await storage.TakeIn();
        storage.Clock.Advance(Duration.FromDays(10));

        await storage.Post(job, "later", "hold.placed", """{"hold":"parts","until":"2026-04-01"}""");
        await storage.Post(job, "past", "hold.placed", """{"hold":"person","until":"2026-03-04"}""");

        // The answer comes before the news of it; the next turn comes after both.
        await storage.Writer.Turn(TestStorage.Site, turn => turn.NextPosition);
        Assert.Equal([false, false, true], commits.Take(3).Select(commit => commit.DueNow));
        Assert.Equal((await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage))[^1].Position, commits.Last().Position);
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_new_calendar_moves_what_is_due_in_open_jobs(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        await storage.Post(job, "e-1", "hold.placed", """{"hold":"parts","until":"2026-03-09"}""");
        var before = await Due();

        await storage.Writer.Turn(TestStorage.Site, turn => ShopDocuments.Put(
            turn, ShopRulesReader.Calendar, ShopDocuments.Only, """{"week":{"wednesday":[{"opens":"13:00","closes":"17:00"}]}}"""));

        Assert.NotNull(before);
        Assert.NotEqual(before, await Due());
        Assert.Empty(storage.Check().Differences);

        Task<long?> Due() => storage.Reader.QueryFirst<long?>("select task from agenda where stream = @stream", new { stream = StreamEntry.OfJob(job) });
    }

    [Fact]
    public async Task A_connection_that_was_cut_while_nobody_wrote_harms_nobody()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Postgres);
        var job = await storage.TakeIn();

        await CutConnections(storage);

        Assert.Equal(Outcome.Accepted, (await storage.Post(job, "e-1", "note.written", """{"text":"seen"}""")).Outcome);
        Assert.Empty(storage.Check().Differences);
    }

    [Fact]
    public async Task A_connection_that_is_cut_in_a_turn_is_told_and_opened_anew()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Postgres);
        var job = await storage.TakeIn();

        await Assert.ThrowsAsync<StorageUnavailableException>(() => storage.Writer.Turn(TestStorage.Site, turn =>
        {
            TestJobs.Post(turn, job, "e-1", "note.written", """{"text":"seen"}""");
            CutConnections(storage).GetAwaiter().GetResult();
        }));

        Assert.Equal(Outcome.Accepted, (await storage.Post(job, "e-1", "note.written", """{"text":"seen"}""")).Outcome);
        Assert.Equal(2, (await storage.Reader.History(TestStorage.Site, job))!.Job.Version);
        Assert.Empty(storage.Check().Differences);
    }

    // Behind the back of every pool: a server that restarted looks like this.
    private static async Task CutConnections(TestStorage storage)
    {
        await using var connection = new Npgsql.NpgsqlConnection(storage.Settings.Postgres + ";Pooling=false");
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = "select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()";
        await command.ExecuteNonQueryAsync();
        await Task.Delay(TimeSpan.FromMilliseconds(100));
    }
}
