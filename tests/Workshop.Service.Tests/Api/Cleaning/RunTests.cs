using System.Collections.Immutable;
using System.Net;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;
using static Workshop.Service.Tests.Api.Cleaning.CageTests;

namespace Workshop.Service.Tests.Api.Cleaning;

/// <summary>What may run with what, and what becomes of it in the jobs.</summary>
public class RunTests
{
    [Theory, BothEngines]
    public async Task Shellac_is_refused_by_the_standard_programme_naming_the_jar_and_taken_by_the_gentle_one(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", ("pallets-and-settings", ["shellac"]), ("train", ["wheels"]));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(job, "pallets-and-settings", "cage-01", run));
        CleaningHouse.Accepted(await house.Load(job, "train", "cage-02", run));

        foreach (var machine in new[] { "machine-1", "machine-2" })
        {
            var refused = await house.Start(run, machine, "standard");
            Assert.Equal((HttpStatusCode.Conflict, "never-in-jar"), (refused.Status, refused.Code));
            Assert.Equal((job, "pallets-and-settings", "rinse-3 (alcohol)", $"gentle, {machine}"), (Name(refused, "job"), Name(refused, "group"), Name(refused, "jar"), Name(refused, "instead")));
        }

        var manager = await house.Start(run, "machine-1", "standard", house.Manager, more: """, "despite": ["never-in-jar", "unfit-for-jar"]""");
        Assert.Equal("never-in-jar", manager.Code);

        CleaningHouse.Accepted(await house.Start(run, "machine-1", "gentle"));
        CleaningHouse.Accepted(await house.Finish(run));
        var washed = (await Entries(house, job)).Where(entry => entry.Event is GroupWashed).ToArray();
        Assert.Equal([("pallets-and-settings", "cage-01", run, "gentle"), ("train", "cage-02", run, "gentle")], washed.Select(entry => (GroupWashed)entry.Event).Select(one => (one.Group, one.Cage, one.Run, one.Programme)));
        Assert.All(washed, entry => Assert.Equal(house.First.Source, entry.CausedBy!.Value.Source));
        Assert.Equal("finished", (await house.RunOf(run)).Text("state"));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_dial_is_refused_in_any_programme_even_for_a_manager(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", ("never-washed", ["dial-or-hands"]), ("calendar", ["luminous"]), ("case", ["case-part"]));
        var run = CleaningHouse.NewRun();

        foreach (var by in new[] { house.First, house.Manager })
        {
            var dial = await house.Load(job, "never-washed", "cage-01", run, by, more: """, "despite": ["never-washed"]""");
            Assert.Equal(("never-washed", "dial-or-hands", "closed box; dust blower, putty"), (dial.Code, Name(dial, "flag"), Name(dial, "instead")));
            Assert.Equal("radium-suspected", Name(await house.Load(job, "calendar", "cage-01", run, by), "caution"));
            Assert.Equal("other-machine", (await house.Load(job, "case", "cage-01", run, by)).Code);
        }

        var waiver = await house.Manager.Say(job, "waiver.given", """{ "gate": "never-washed", "reason": "in a hurry", "person": "ines" }""");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, waiver.Status);
        using var rules = await house.Host.Manager.Put("/v1/rules", """{ "gates": { "never-washed": "ask" } }""", await Tag(house, "/v1/rules"));
        Assert.Equal("gate-is-fixed", (await rules.Problem()).Code);
        using var table = await house.Host.Manager.Put("/v1/rules", """{ "cleaning": { "parts": { "dial-or-hands": { "never": false } } } }""", await Tag(house, "/v1/rules"));
        Assert.Contains("/cleaning/parts/dial-or-hands", (await table.Problem()).Pointers);

        // The case goes into its own cage and its own bath.
        CleaningHouse.Accepted(await house.Load(job, "case", "case-cage", run));
        Assert.Equal("other-machine", (await house.Start(run, "machine-1", "gentle")).Code);
        CleaningHouse.Accepted(await house.Start(run, "case-bath", "case"));
    }

    [Theory, BothEngines]
    public async Task The_wash_of_a_dial_told_three_hours_late_is_kept_the_job_stands_and_a_manager_sees_it_first_thing(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", ("never-washed", ["dial-or-hands"]), ("train", ["wheels"]));
        var run = CleaningHouse.NewRun();
        var loaded = house.Host.Clock.GetCurrentInstant();
        house.Host.Clock.Advance(Duration.FromMinutes(30));
        var away = Device.Pair(house.Host);
        house.Host.Clock.Advance(Duration.FromHours(3));

        var load = await house.Load(job, "never-washed", "cage-01", run, away, loaded);
        CleaningHouse.Accepted(await house.Start(run, "machine-2", "gentle", away, loaded + Duration.FromMinutes(2)));
        CleaningHouse.Accepted(await house.Finish(run, away, loaded + Duration.FromMinutes(25)));

        Assert.Equal(("noted", 3), (load.Outcome, (await house.Host.Manager.Get($"/v1/jobs/{job}/history?limit=500")).GetProperty("items").EnumerateArray().Count(entry => entry.Text("type") is "cage.loaded" or "group.washed" or "hold.placed")));
        var rows = (await house.Agenda()).Where(row => row.GetProperty("job").GetString() == job && row.GetProperty("level").GetString() == "manager").ToArray();
        Assert.Contains(rows, row => row.Text("kind") == "review");
        var washed = Assert.Single(await Entries(house, job), entry => entry.Event is GroupWashed);
        Assert.Equal((Disposition.Applied, true), (washed.Disposition, washed.Has(EntryFlag.ForReview)));
        Assert.True((await house.RunOf(run)).GetProperty("cages")[0].GetProperty("doubted").GetBoolean());

        // It did not happen after all: what followed falls with it.
        CleaningHouse.Accepted(await house.Manager.Say(job, "report.settled", $$"""{ "of": { "source": "{{away.Source}}", "id": "{{load.Whole.GetProperty("id").GetString()}}" }, "as": "did-not-happen", "reason": "the dial is in its box, and clean", "person": "ines" }"""));
        Assert.Empty((await house.RunOf(run)).GetProperty("cages").EnumerateArray());
        Assert.DoesNotContain((await JobOf(house, job)).Groups.Groups, group => group is { Id: "never-washed", WashedAgainstTheRule: true });
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_power_cut_in_a_run_leaves_its_groups_unknown_also_when_the_service_died_and_is_told_hours_later(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, other) = (await house.Watch("OF 9", ("train", ["wheels"]), ("bridges", [])), await house.Watch("OF 12", ("train", ["wheels"])));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(one, "train", "cage-01", run));
        CleaningHouse.Accepted(await house.Load(one, "bridges", "cage-02", run));
        CleaningHouse.Accepted(await house.Load(other, "train", "cage-03", run, house.Second));
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        var dark = house.Host.Clock.GetCurrentInstant() + Duration.FromMinutes(5);
        house.Host.Clock.Advance(Duration.FromHours(5));

        // A machine that nobody has ended is asked about before the next run.
        var next = CleaningHouse.NewRun();
        var third = await house.Watch("OF 14", ("train", ["wheels"]));
        CleaningHouse.Accepted(await house.Load(third, "train", "cage-04", next, house.Second));
        var busy = await house.Start(next, "machine-1", "standard", house.Second);
        Assert.Equal(("machine-busy", run), (busy.Code, Name(busy, "run")));

        CleaningHouse.Accepted(await house.Abort(run, at: dark, by: Device.Pair(house.Host)));

        Assert.Equal(["bridges", "train"], (await Entries(house, one)).Select(entry => entry.Event).OfType<GroupUnknown>().Select(unknown => unknown.Group).Order());
        Assert.Equal("power cut", Assert.Single((await Entries(house, other)).Select(entry => entry.Event).OfType<GroupUnknown>()).Reason);
        Assert.Equal(("aborted", "power cut"), ((await house.RunOf(run)).Text("state"), (await house.RunOf(run)).Text("abortReason")));
        CleaningHouse.Accepted(await house.Start(next, "machine-1", "standard", house.Second));

        // Cages are not free before they are scanned empty, whatever became of the run; finishing it changes nothing.
        Assert.Equal("cage-not-free", (await house.Load(third, "bridges", "cage-01", CleaningHouse.NewRun(), house.Second)).Code);
        Assert.Equal("run-not-open", (await house.Finish(run)).Code);
        CleaningHouse.Accepted(await house.Empty(one, "cage-01"));
        Assert.DoesNotContain(await Entries(house, one), entry => entry.Event is GroupWashed);
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task The_same_calibre_runs_together_only_by_a_managers_waiver(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var (one, twin, unknown) = (await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch("OF 9", ("train", ["wheels"])), await house.Watch(null, ("train", ["wheels"])));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(one, "train", "cage-01", run));

        var refused = await house.Load(twin, "train", "cage-02", run, house.Second);
        Assert.Equal(("same-calibre", one, "OF 9"), (refused.Code, Name(refused, "other"), Name(refused, "calibre")));
        CleaningHouse.Accepted(await house.Manager.Say(twin, "waiver.given", """{ "gate": "same-calibre", "reason": "marked screws, one of them gilt", "person": "ines" }"""));
        CleaningHouse.Accepted(await house.Load(twin, "train", "cage-02", run, house.Second));

        var asked = await house.Load(unknown, "train", "cage-03", run, house.Second);
        Assert.Equal(("calibre-unknown", "ask"), (asked.Code, asked.Problem.GetProperty("strength").GetString()));
        CleaningHouse.Accepted(await house.Load(unknown, "train", "cage-03", run, house.Second, more: """, "despite": ["calibre-unknown"]"""));
        Assert.Equal("open-cage", (await house.Load(unknown, "bridges", "open-cage", run, house.Second)).Code);
    }

    [Theory, BothEngines]
    public async Task A_load_told_after_its_run_is_finished_is_washed_at_once(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", ("train", ["wheels"]), ("bridges", []));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(job, "train", "cage-01", run));
        var then = house.Host.Clock.GetCurrentInstant();
        house.Host.Clock.Advance(Duration.FromMinutes(1));
        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        CleaningHouse.Accepted(await house.Finish(run));
        Assert.Equal("run-not-open", (await house.Load(job, "bridges", "cage-02", run)).Code);
        house.Host.Clock.Advance(Duration.FromHours(1));

        var late = await house.Load(job, "bridges", "cage-02", run, Device.Pair(house.Host), then);

        Assert.Equal(("accepted", "late"), (late.Outcome, late.Flags.Single()));
        Assert.Equal(["train", "bridges"], (await Entries(house, job)).OrderBy(entry => entry.Position).Select(entry => entry.Event).OfType<GroupWashed>().Select(washed => washed.Group));
        CleaningHouse.Accepted(await house.Finish(run));
        Assert.Equal(2, (await Entries(house, job)).Count(entry => entry.Event is GroupWashed));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_start_that_is_told_late_against_a_gate_has_happened_and_holds_the_watch_until_a_manager_has_looked(StorageEngine engine)
    {
        await using var house = await CleaningHouse.Open(engine);
        var job = await house.Watch("OF 9", ("pallets-and-settings", ["shellac"]));
        var run = CleaningHouse.NewRun();
        CleaningHouse.Accepted(await house.Load(job, "pallets-and-settings", "cage-01", run));
        var then = house.Host.Clock.GetCurrentInstant();
        house.Host.Clock.Advance(Duration.FromHours(2));

        var told = await house.Start(run, "machine-1", "standard", Device.Pair(house.Host), then);

        Assert.Equal(("accepted", "ask"), (told.Outcome, told.Signal));
        Assert.Equal(["late", "for-review"], told.Flags);
        Assert.Equal("running", (await house.RunOf(run)).Text("state"));
        Assert.Contains(await house.Agenda(), row => row.Text("kind") == "query" && row.Text("job") == job && row.Text("line").Contains("never-in-jar", StringComparison.Ordinal));
        Assert.Empty(house.Host.Check().Differences);
    }

    [Fact]
    public async Task What_is_told_of_a_run_twice_changes_nothing_and_what_cannot_be_is_said()
    {
        await using var house = await CleaningHouse.Open();
        var job = await house.Watch("OF 9", ("train", ["wheels"]));
        var run = CleaningHouse.NewRun();
        Assert.Equal("run-not-started", (await house.Finish(run)).Code);
        Assert.Equal("run-empty", (await house.Start(run, "machine-1", "standard")).Code);
        Assert.Equal(["/data/machine"], (await house.Start(run, "machine-9", "standard")).Pointers);
        Assert.Equal(["/subject"], (await house.Start("no-uuid", "machine-1", "standard")).Pointers);
        CleaningHouse.Accepted(await house.Load(job, "train", "cage-01", run));
        Assert.Equal("programme-unfit", (await house.Start(run, "machine-1", "case")).Code);

        CleaningHouse.Accepted(await house.Start(run, "machine-1", "standard"));
        Assert.Equal(["already-so"], (await house.Start(run, "machine-1", "standard", house.Second)).Flags);
        Assert.Equal("run-not-open", (await house.Start(run, "machine-2", "standard", house.Second)).Code);
        CleaningHouse.Accepted(await house.Finish(run));
        Assert.Equal(["already-so"], (await house.Finish(run, house.Second)).Flags);
        Assert.Single(await Entries(house, job), entry => entry.Event is GroupWashed);

        var list = await house.Host.Bench.Get("/v1/cleaning-runs?state=finished&machine=machine-1");
        Assert.Equal(run, list.GetProperty("items")[0].Text("run"));
        Assert.Equal("no-such-thing", (await (await house.Host.Bench.GetAsync($"/v1/cleaning-runs/{CleaningHouse.NewRun()}")).Problem()).Code);
    }

    internal static async Task<ImmutableArray<Entry>> Entries(CleaningHouse house, string job) =>
        (await house.Host.Services.GetRequiredService<Reader>().History(WorkshopHost.Site, Label.Read(job)))!.Entries;

    internal static async Task<Job> JobOf(CleaningHouse house, string job) =>
        (await house.Host.Services.GetRequiredService<Reader>().History(WorkshopHost.Site, Label.Read(job)))!.Job;

    private static async Task<string> Tag(CleaningHouse house, string address) => (await house.Host.Manager.GetAsync(address)).Headers.ETag!.Tag;
}
