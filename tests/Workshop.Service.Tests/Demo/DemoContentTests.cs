using Dapper;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Demo;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Demo;

public class DemoContentTests
{
    private static readonly EventSettings Usual = new(LiveWithin: Duration.FromMinutes(2), HoldGapFor: Duration.FromSeconds(10));

    /// <summary>Stages at which a job can stand; the others are behind it or before it at once.</summary>
    private static readonly Stage[] Standable =
    [
        .. Enum.GetValues<Stage>().Except([Stage.Expected, Stage.Intake, Stage.Ready]),
    ];

    [Theory, BothEngines]
    public async Task A_new_demo_has_forty_watches_over_all_stages_and_its_journal_folds_to_what_is_kept(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        await Fill(storage, TestStorage.Monday);

        var jobs = await Jobs(storage);
        Assert.Equal(40, jobs.Count);
        Assert.Equal(["full-automatic", "full-chronograph"], jobs.Select(job => job.Variant).Distinct().Order());
        Assert.Empty(Standable.Select(Word.Of).Except(jobs.Select(job => job.Stage!)));
        var check = storage.Check();
        Assert.Empty(check.Differences);
        Assert.Equal(40, check.Jobs);
    }

    [Fact]
    public async Task A_new_demo_shows_what_can_come_between()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        await Fill(storage, TestStorage.Monday);

        var jobs = await Histories(storage);
        HoldReason[] held = [HoldReason.Parts, HoldReason.OutsideFirm, HoldReason.Approval, HoldReason.Customer, HoldReason.Person, HoldReason.Damage, HoldReason.MixUp];
        Assert.All(held, reason => Assert.Contains(jobs, job => job.Holds.Holds(reason)));
        Assert.Contains(jobs, job => job.Reviews.Any());
        Assert.Contains(jobs, job => job.Standings.GroundLost.Any());
        Assert.Contains(jobs, job => job.Promise.History.Length > 1);
        Assert.Contains(jobs, job => job.Intake.Hazards.Contains("radium-suspected"));
        Assert.Contains(jobs, job => job.WearChecks.TotalFails == 1 && job.WearChecks.LastJudged!.Verdict == Core.WearChecks.WearVerdict.Outside);
        Assert.Contains(jobs, job => job.WearChecks.LastJudged?.Verdict == Core.WearChecks.WearVerdict.Stopped);
        Assert.Contains(jobs, job => job.WearChecks.Running is { PausedSince: not null });
        Assert.Contains(jobs, job => job.WearChecks.Running is { Due: { } due } && due < TestStorage.Monday);
        Assert.Contains(jobs, job => job.Warranty.Claims.Any(claim => claim.Covered == true) && job.Warranty.Lines.All(line => line.ExtensionDays > 0));
        Assert.Contains(jobs, job => job.Warranty.Claims.Any(claim => claim.Covered == false) && job.Warranty.Lines.All(line => line.ExtensionDays == 0));
        Assert.Contains(jobs, job => job.Standings.ReturnsUnrepaired && !job.Standings.HandedOver);
        Assert.Contains(jobs, job => job.Pieces.Pieces.Any(piece => piece is { IsWithFirm: true, Note: not null, ExpectedBack: not null }));
        Assert.Contains(jobs, job => job.Parts.Awaited().Any(part => part.On < new LocalDate(2026, 3, 2)));
        Assert.Contains(jobs, job => job.Parts.Awaited().Any(part => part.On > new LocalDate(2026, 3, 2)));
        Assert.Contains(jobs, job => job.Pieces.Pieces.Any(piece => piece.Holder == "places/safe"));
        await using var reader = storage.Database.OpenReader();
        Assert.Equal(["part-late"], reader.Query<string>("select distinct kind from agenda where site = 'main' and kind = 'part-late'"));
        Assert.Equal(["house"], reader.Query<string>("select stream from agenda where site = 'main' and kind = 'evening-list'"));
        Assert.Empty(reader.Query<string>("select ref from agenda where site = 'main' and kind = 'safe-missing'"));
    }

    [Theory]
    [InlineData("2026-03-03T07:00", "Tuesday, before opening")]
    [InlineData("2026-03-07T12:00", "Saturday")]
    [InlineData("2026-03-08T23:30", "Sunday night")]
    [InlineData("2026-03-30T10:00", "Monday after the clocks went forward")]
    [InlineData("2026-10-26T17:00", "Monday after they went back")]
    [InlineData("2027-01-01T00:30", "New Year")]
    public async Task A_demo_can_begin_on_any_day_and_has_a_worn_check_to_read(string today, string what)
    {
        var now = NodaTime.Text.LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(today).Value.InZoneLeniently(DemoTown.Zone).ToInstant();
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        await Fill(storage, now);

        var jobs = await Histories(storage);
        Assert.True(jobs.Count == 40, what);
        var soon = now.InZone(DemoTown.Zone).Date;
        Assert.Contains(jobs, job => job.WearChecks.Running?.Due is { } due && Math.Abs(Period.DaysBetween(due.InZone(DemoTown.Zone).Date, soon)) <= 1);
        Assert.All(jobs, job => Assert.True(job.Last!.Value.Effective <= now, $"{what}: {job.Label} ends at {job.Last.Value.Effective}"));
        Assert.Empty(storage.Check().Differences);
    }

    [Fact]
    public async Task Two_demos_begun_at_the_same_moment_are_the_same_but_for_what_chance_must_decide()
    {
        await using var one = await TestStorage.Create(StorageEngine.Sqlite);
        await using var other = await TestStorage.Create(StorageEngine.Sqlite);

        await Fill(one, TestStorage.Monday);
        await Fill(other, TestStorage.Monday);

        Assert.Equal(await Told(one), await Told(other));
    }

    [Fact]
    public async Task An_empty_demo_has_its_shop_and_no_watches()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        await DemoContent.Fill(storage.Writer, Usual, TestStorage.Monday, jobs: false, CancellationToken.None);

        Assert.Empty(await Jobs(storage));
        var (rules, machines) = await storage.Writer.Turn(TestStorage.Site, turn => (turn.Rules, turn.QueryFirst<long>("select count(*) from shop_document where kind = 'cleaning-machine'")));
        Assert.Equal(6, rules.People.Count);
        Assert.Equal(4, rules.Benches.Length);
        Assert.Equal(2, machines);
        Assert.Single(rules.People.Values, person => person.Manager);
        Assert.All(rules.People.Values, person => Assert.True(Label.TryRead(person.Badge, out var badge) && badge.Value.Kind == LabelKind.Badge));
    }

    [Fact]
    public async Task Nobody_and_nothing_in_a_demo_is_without_its_mark()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        await Fill(storage, TestStorage.Monday);

        var names = await storage.Reader.Query<string>("select name from customer union all select address from customer union all select case_serial from watch union all select maker from watch");
        Assert.NotEmpty(names);
        Assert.All(names, name => Assert.Contains("DEMO", name));
        var ways = await storage.Reader.Query<string>("select email from customer");
        Assert.All(ways, mail => Assert.EndsWith("@example.com", mail));
        var numbers = await storage.Reader.Query<string>("select telephone from customer");
        Assert.All(numbers, number => Assert.StartsWith("+44 1632 960", number));
        Assert.Equal(40, numbers.Distinct().Count());
    }

    private static Task Fill(TestStorage storage, Instant now) => DemoContent.Fill(storage.Writer, Usual, now, jobs: true, CancellationToken.None);

    private static Task<IReadOnlyList<JobRow>> Jobs(TestStorage storage) => storage.Reader.Query<JobRow>("select label, stage, variant from job order by label");

    private static async Task<IReadOnlyList<Core.Jobs.Job>> Histories(TestStorage storage)
    {
        var jobs = await Jobs(storage);
        return await storage.Writer.Turn(TestStorage.Site, turn => jobs.Select(job => turn.History(Label.Read(job.Label))!.Job).ToArray());
    }

    // What was said in which job, at which moment, by whom; ids of customers and watches are drawn.
    private static Task<IReadOnlyList<string>> Told(TestStorage storage) => storage.Reader.Query<string>(
        "select stream || ' ' || stream_version || ' ' || type || ' ' || effective || ' ' || coalesce(person, '') from journal where stream <> 'shop' order by position");

    private sealed record JobRow
    {
        public required string Label { get; init; }

        public string? Stage { get; init; }

        public string? Variant { get; init; }
    }
}
