using Dapper;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class StoresTests
{
    [Theory, BothEngines]
    public async Task A_key_is_kept_as_its_hash_alone(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var keys = new ApiKeys(storage.Database, storage.Reader);

        var (key, secret) = keys.Add(TestStorage.Site, "/devices/bench-2/1", "bench", "bench-2", TestStorage.Monday);

        Assert.Equal(43 + ApiKeys.KeyPrefix.Length, secret.Length);
        Assert.Equal(key, await keys.Find(secret));
        Assert.Null(await keys.Find(secret + "x"));
        var row = await storage.Reader.Read(connection => connection.QuerySingle("select prefix, hash from api_key"));
        Assert.Equal(ApiKeys.HashOf(secret), (byte[])row.hash);
        Assert.StartsWith((string)row.prefix, secret);
        Assert.True(((string)row.prefix).Length < 12);
    }

    [Theory, BothEngines]
    public async Task A_key_that_was_revoked_elsewhere_is_refused_within_seconds(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var keys = new ApiKeys(storage.Database, storage.Reader);
        var elsewhere = new ApiKeys(storage.Database, storage.Reader);
        var (key, secret) = keys.Add(TestStorage.Site, "/desk/front", "desk", null, TestStorage.Monday);
        Assert.NotNull(await keys.Find(secret));

        Assert.True(elsewhere.Revoke(TestStorage.Site, key.Id, TestStorage.Monday));
        Assert.False(elsewhere.Revoke(TestStorage.Site, key.Id, TestStorage.Monday));

        Assert.Null(await elsewhere.Find(secret));
        await Task.Delay(TimeSpan.FromSeconds(2.1));
        Assert.Null(await keys.Find(secret));
        Assert.NotNull(Assert.Single(await keys.List(TestStorage.Site)).Revoked);
    }

    [Theory, BothEngines]
    public async Task A_key_made_and_revoked_in_a_turn_is_good_in_between(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var keys = new ApiKeys(storage.Database, storage.Reader);

        var (key, secret) = await storage.Writer.Turn(TestStorage.Site, turn => ApiKeys.Add(turn, "/storefront/shop", "storefront", null));

        Assert.Equal(key, await keys.Find(secret));
        Assert.True(await storage.Writer.Turn(TestStorage.Site, turn => ApiKeys.Revoke(turn, key.Id)));
        keys.Forget();
        Assert.Null(await keys.Find(secret));
        Assert.False(await storage.Writer.Turn(TestStorage.Site, turn => ApiKeys.Revoke(turn, key.Id)));
    }

    [Theory, BothEngines]
    public async Task When_a_key_was_last_used_is_written_later(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var keys = new ApiKeys(storage.Database, storage.Reader);
        var (key, _) = keys.Add(TestStorage.Site, "/desk/front", "desk", null, TestStorage.Monday);

        keys.Use(key, TestStorage.Monday + Duration.FromHours(1));
        Assert.Null(Assert.Single(await keys.List(TestStorage.Site)).LastUsed);
        await keys.FlushUse(storage.Writer);

        Assert.Equal(Microseconds.Of(TestStorage.Monday + Duration.FromHours(1)), Assert.Single(await keys.List(TestStorage.Site)).LastUsed);
    }

    [Theory, BothEngines]
    public async Task The_same_key_and_payload_get_the_first_answer_again(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        byte[] payload = ChainHash.Digest([], "payload");
        byte[] other = ChainHash.Digest([], "another payload");
        var answer = new KeptAnswer(201, """{"location":"/v1/jobs/J7K3MQ4T"}""", """{"label":"J7K3MQ4T"}""");

        Assert.Equal(IdempotencyState.New, (await Begin("k-1", payload)).State);
        Assert.Equal(IdempotencyState.Running, (await Begin("k-1", payload)).State);
        Assert.Equal(IdempotencyState.OtherPayload, (await Begin("k-1", other)).State);
        Assert.Equal(IdempotencyState.New, (await Begin("k-2", other)).State);

        await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Finish(turn, "k-1", "once", answer));
        Assert.Equal(new IdempotencyFinding(IdempotencyState.Finished, answer), await Begin("k-1", payload));
        Assert.Equal(IdempotencyState.OtherPayload, (await Begin("k-1", other)).State);

        storage.Clock.Advance(Duration.FromDays(34));
        Assert.Equal(IdempotencyState.Finished, (await Begin("k-1", payload)).State);
        storage.Clock.Advance(Duration.FromDays(1));
        Assert.Equal(2, await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Sweep(turn)));
        Assert.Equal(IdempotencyState.New, (await Begin("k-1", payload)).State);

        Task<IdempotencyFinding> Begin(string apiKey, byte[] digest) =>
            storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Begin(turn, apiKey, "once", digest));
    }

    [Theory, BothEngines]
    public async Task What_came_to_nothing_or_was_cut_off_may_be_asked_again(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        byte[] payload = ChainHash.Digest([], "payload");
        await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Begin(turn, "k-1", "abandoned", payload));
        await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Begin(turn, "k-1", "cut off", payload));

        await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Abandon(turn, "k-1", "abandoned"));
        Assert.Equal(IdempotencyState.New, (await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.Begin(turn, "k-1", "abandoned", payload))).State);

        storage.Clock.Advance(Duration.FromMinutes(10));
        Assert.Equal(2, await storage.Writer.Turn(TestStorage.Site, turn => IdempotencyStore.ForgetRunning(turn, before: turn.Now)));
    }

    [Theory, BothEngines]
    public async Task A_document_of_the_shop_is_never_overwritten(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        const string First = """{"id":"mara","name":"Mara Vonlanthen","manager":true}""";
        var badge = Label.Complete(LabelKind.Badge, [2, 3, 4, 5, 6, 7]).ToString();
        var second = $$"""{ "id":"mara", "name":"Mara Vonlanthen-Rey", "manager":true, "badge":"{{badge}}" }""";

        var (before, one, two, after) = await storage.Writer.Turn(TestStorage.Site, turn =>
            (turn.Rules.Version, ShopDocuments.Put(turn, "people", "mara", First), ShopDocuments.Put(turn, "people", "mara", second, "/desk/front", "jon"), turn.Rules));

        Assert.Equal((1L, 2L), (one.Version, two.Version));
        Assert.Equal(before + 2, after.Version);
        Assert.Equal("Mara Vonlanthen-Rey", after.PersonBehind(badge.ToLowerInvariant())!.Name);
        var (newest, old, versions, all) = await storage.Reader.Read(connection => (
            ShopDocuments.Newest(connection, TestStorage.Site, "people", "mara"),
            ShopDocuments.AtVersion(connection, TestStorage.Site, "people", "mara", 1),
            ShopDocuments.Versions(connection, TestStorage.Site, "people", "mara"),
            ShopDocuments.AllOfKind(connection, TestStorage.Site, "people")));
        Assert.Equal(second, newest!.Document);
        Assert.Equal(First, old!.Document);
        Assert.Equal([2, 1], versions.Select(version => version.Version));
        Assert.Equal(newest, Assert.Single(all));

        var entry = (await storage.Reader.Journal(TestStorage.Site, 0, Reader.LongestPage))[^1];
        Assert.Equal(("shop", after.Version, "shop.document-saved", "jon"), (entry.Stream, entry.StreamVersion, entry.Type, entry.Person));
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_document_that_cannot_be_read_is_not_saved(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        await Assert.ThrowsAsync<ArgumentException>(() => storage.Writer.Turn(TestStorage.Site, turn =>
            ShopDocuments.Put(turn, ShopRulesReader.Calendar, ShopDocuments.Only, """{"week":{"monday":[{"opens":"09:00","closes":"08:00"}]}}""")));

        Assert.Equal(1, (await storage.Reader.Read(connection => ShopDocuments.Newest(connection, TestStorage.Site, "calendar")))!.Version);
    }

    [Theory]
    [InlineData("calendar", "main", """{"week":{"moonday":[]}}""", "/week/moonday")]
    [InlineData("calendar", "main", """{"week":{}}""", "/week")]
    [InlineData("variant", "x-polish", """{"id":"x-polish","stages":[{"stage":"polish","branch":"case"}]}""", "/stages/0/stage")]
    [InlineData("rules", "main", """{"tolerances":[]}""", "/tolerances")]
    [InlineData("variant", "x-polish", """{"id":"x-polish","stages":[]}""", "/stages")]
    [InlineData("people", "mara", """{"id":"jon","name":"Jon","manager":false}""", "/id")]
    [InlineData("rules", "main", """{"gates":{"needs":"maybe"}}""", "/gates/needs")]
    [InlineData("rules", "main", """{"warranties":{"default":"plain"}}""", "/warranties/default")]
    [InlineData("rules", "main", """{"warranties":{"default":"a","ruleSets":[{"id":"a","roll":{"when":"closed-day","calendar":"DE"}}]}}""", "/warranties/ruleSets/0/roll/calendar")]
    [InlineData("rules", "main", """{"warranties":{"default":"a","ruleSets":[{"id":"a","roll":{"when":"weekend-or-holiday","calendar":"XX"}}]}}""", "/warranties/ruleSets/0/roll/calendar")]
    [InlineData("rules", "main", """{"warranties":{"default":"a","ruleSets":[{"id":"a","extension":{"rule":"fixed"}}]}}""", "/warranties/ruleSets/0/extension/fixed")]
    [InlineData("cleaning-machine", "m-1", "[]", "")]
    public async Task What_is_wrong_with_a_document_is_named(string kind, string id, string document, string pointer)
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        var fault = Assert.Single(await storage.Writer.Turn(TestStorage.Site, turn => ShopDocuments.Faults(turn, kind, id, document)));

        Assert.Equal(pointer, fault.Pointer);
        Assert.NotEmpty(fault.Detail);
    }

    [Theory, BothEngines]
    public async Task Strengths_of_gates_are_the_shops_own(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var rules = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            ShopDocuments.Put(turn, "rules", "main", """{"gates":{"needs":"note"},"secondPersonAtFinalControl":false,"money":{"kept":"elsewhere"}}""");
            return turn.Rules;
        });

        Assert.Equal(Strength.Note, rules.GateStrengths["needs"]);
        Assert.False(rules.SecondPersonAtFinalControl);
    }

    [Fact]
    public void Everything_before_means_each_required_stage_earlier_in_the_route()
    {
        var route = ShopRulesReader.ReadRoute(EventCodecTests.Default("variant/full-automatic.json"));

        var control = route.Find(Stage.FinalControl)!;
        Assert.Equal(route.RequiredBefore(Stage.FinalControl), control.Needs.Select(need => need.Stage));
        Assert.Equal(17, control.Needs.Length);
        Assert.All(control.Needs, need => Assert.True(need.Stop));
        Assert.Equal<Need>([new(Stage.Inspection, false), new(Stage.Quote, true)], route.Find(Stage.Rebuild)!.Needs);
    }

    [Fact]
    public void A_chronograph_differs_from_an_automatic_in_minutes_window_days_and_two_checks()
    {
        var automatic = ShopRulesReader.ReadRoute(EventCodecTests.Default("variant/full-automatic.json"));
        var chronograph = ShopRulesReader.ReadRoute(EventCodecTests.Default("variant/full-chronograph.json"));

        Assert.Equal(automatic.Stages.Select(one => one.Stage), chronograph.Stages.Select(one => one.Stage));
        Assert.Equal(
            [(Stage.Diagnosis, 45), (Stage.Takedown, 90), (Stage.Inspection, 65), (Stage.Rebuild, 270), (Stage.DialAndHands, 65)],
            chronograph.Stages.Where(one => one.Minutes != automatic.Find(one.Stage)!.Minutes).Select(one => (one.Stage, one.Minutes!.Value)));
        Assert.Equal((12m, 35), (chronograph.WornRate!.Value.Highest, chronograph.PromisedWorkingDays));
        Assert.Equal(["chronograph", "reset-to-zero"], chronograph.FinalChecks.Except(automatic.FinalChecks));
    }

    [Theory, BothEngines]
    public async Task A_label_names_one_thing(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var (label, again) = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            var badge = turn.DrawLabel(LabelKind.Badge, _ => "people/mara");
            return (badge, turn.BindLabel(badge, "people/jon"));
        });

        Assert.Equal(LabelKind.Badge, label.Kind);
        Assert.False(again);
        Assert.Equal("people/mara", (await storage.Reader.QueryFirst<LabelRow>(Labels.FindSql, new { label = label.ToString() }))!.Names);
    }

    [Theory, BothEngines]
    public async Task A_message_of_the_same_cause_is_put_out_once(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var message = new OutboxMessage { Id = "job.ready/job/J7K3MQ4T/e-1", Type = "job.ready", Stream = "job/J7K3MQ4T", Body = "{}" };

        await storage.Writer.Turn(TestStorage.Site, turn => turn.Put(message));
        await storage.Writer.Turn(TestStorage.Site, turn => turn.Put(message with { Body = """{"again":true}""" }));

        Assert.Equal(["{}"], await storage.Reader.Query<string>("select body from outbox"));
    }

    [Theory, BothEngines]
    public async Task What_a_person_edits_of_a_job_has_a_version_of_its_own(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var job = await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            var label = TestJobs.TakeIn(turn);
            turn.SaveIntake(label, """{"declaredValueMinor":420000}""");
            return label;
        });
        await storage.Post(job, "e-1", "note.written", """{"text":"seen"}""");
        var first = await storage.Writer.Turn(TestStorage.Site, turn => turn.Intake(job));
        await storage.Writer.Turn(TestStorage.Site, turn => turn.SaveIntake(job, """{"declaredValueMinor":430000}"""));
        var second = await storage.Writer.Turn(TestStorage.Site, turn => turn.Intake(job));

        Assert.Equal(new IntakePart { Text = """{"declaredValueMinor":420000}""", Version = 1 }, first);
        Assert.Equal(new IntakePart { Text = """{"declaredValueMinor":430000}""", Version = 2 }, second);
        Assert.Null(await storage.Writer.Turn(TestStorage.Site, turn => turn.Intake(Labels.Draw(LabelKind.Job))));
    }
}
