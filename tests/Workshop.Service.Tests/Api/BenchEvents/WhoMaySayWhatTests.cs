using System.Net;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class WhoMaySayWhatTests
{
    private const Role Bench = Role.Bench;
    private const Role Desk = Role.Desk;

    /// <summary>Besides managers, who may say everything. Written down a second time, so that a slip in the service shows.</summary>
    private static readonly Dictionary<string, Role[]> ByType = new()
    {
        ["piece.given"] = [Bench, Desk],
        ["piece.taken"] = [Bench, Desk],
        ["piece.put"] = [Bench, Desk],
        ["part.reserved"] = [Bench, Desk],
        ["part.received"] = [Bench, Desk],
        ["part.checked"] = [Bench, Desk],
        ["part.fitted"] = [Bench],
        ["part.released"] = [Bench, Desk],
        ["safe.counted"] = [Bench, Desk],
        ["control-chart.restarted"] = [],
        ["case.closed"] = [Bench],
        ["case.opened"] = [Bench],
        ["seal.seen"] = [Bench],
        ["polish.confirmed"] = [Bench, Desk],
        ["takedown.step"] = [Bench],
        ["takedown.let-down"] = [Bench],
        ["finding.recorded"] = [Bench, Desk],
        ["inspection.recorded"] = [Bench],
        ["index.touched"] = [Bench],
        ["rate-set.recorded"] = [Bench],
        ["lift-angle.corrected"] = [Bench],
        ["tolerance.excepted"] = [],
        ["trial-day.recorded"] = [Bench],
        ["water-test.recorded"] = [Bench],
        ["function-check.recorded"] = [Bench],
        ["reserve-test.started"] = [Bench],
        ["reserve-test.read"] = [Bench],
        ["stop.explained"] = [Bench],
        ["wear-check.started"] = [Bench],
        ["wear-check.paused"] = [Bench],
        ["wear-check.resumed"] = [Bench],
        ["wear-check.confirmed"] = [Bench],
        ["wear-check.read"] = [Bench],
        ["final-control.passed"] = [Bench],
        ["final-control.refused"] = [Bench],
        ["group.declared"] = [Bench],
        ["group.hand-cleaned"] = [Bench],
        ["group.not-washed"] = [Bench],
        ["group.replaced"] = [Bench],
        ["group.reopened"] = [Bench],
        ["group.inspected"] = [Bench],
        ["count.recorded"] = [Bench],
        ["part.lost"] = [Bench],
        ["part.found"] = [Bench],
        ["cage.loaded"] = [Bench],
        ["cage.emptied"] = [Bench],
        ["run.started"] = [Bench],
        ["run.finished"] = [Bench],
        ["run.aborted"] = [Bench],
        ["fluid.filled"] = [Bench],
        ["fluid.moved"] = [Bench],
        ["fluid.discarded"] = [Bench],
        ["machine.stopped"] = [Bench],
        ["waiver.given"] = [],
        ["note.written"] = [Bench, Desk],
        ["label.attached"] = [Bench, Desk],
        ["label.replaced"] = [Bench, Desk],
        ["scan.made"] = [Bench, Desk],
        ["damage.seen"] = [Bench, Desk],
        ["correction.made"] = [Bench, Desk],
        ["person.corrected"] = [],
        ["report.settled"] = [],
        ["device.gap-declared"] = [Bench, Desk],
        ["device.heard"] = [Bench, Desk],
        ["person.signed-on"] = [Bench, Desk],
        ["person.signed-off"] = [Bench, Desk],
    };

    private static readonly Dictionary<HoldReason, (Role[] Places, Role[] Lifts)> ByHold = new()
    {
        [HoldReason.Approval] = ([Desk], [Desk]),
        [HoldReason.Customer] = ([Desk], [Desk]),
        [HoldReason.Parts] = ([Bench, Desk], [Bench, Desk]),
        [HoldReason.OutsideFirm] = ([Bench, Desk], [Bench, Desk]),
        [HoldReason.Person] = ([Bench, Desk], [Bench, Desk]),
        [HoldReason.Payment] = ([Desk], [Desk]),
        [HoldReason.Damage] = ([Bench, Desk], []),
        [HoldReason.Loss] = ([Bench], []),
        [HoldReason.Query] = ([Bench, Desk], []),
        [HoldReason.MixUp] = ([], []),
        [HoldReason.Dispute] = ([Desk], []),
        [HoldReason.Legal] = ([], []),
        [HoldReason.Other] = ([Bench, Desk], [Bench, Desk]),
    };

    private static readonly Dictionary<Stage, Role[]> ByStage = new()
    {
        [Stage.Diagnosis] = [Bench, Desk],
        [Stage.Takedown] = [Bench],
        [Stage.Cleaning] = [Bench],
        [Stage.Inspection] = [Bench],
        [Stage.Rebuild] = [Bench],
        [Stage.Regulation] = [Bench],
        [Stage.CaseStrip] = [Bench],
        [Stage.CaseWork] = [Bench],
        [Stage.Gaskets] = [Bench],
        [Stage.DialAndHands] = [Bench],
        [Stage.Casing] = [Bench],
        [Stage.WaterTest] = [Bench],
        [Stage.WearCheck] = [Bench],
        [Stage.ReserveAndFunctions] = [Bench],
        [Stage.FinalControl] = [Bench],
        [Stage.Settlement] = [Desk],
        [Stage.ReturnUnrepaired] = [Desk],
    };

    [Fact]
    public void Every_type_that_comes_through_the_door_has_its_roles_here() => Assert.Equal(
        EventCatalogue.Rows.Where(row => row.SentBy == SentBy.Bench).Select(row => row.Type).Order(StringComparer.Ordinal),
        Cases().Select(one => one.Type).Distinct().Order(StringComparer.Ordinal));

    [Theory, BothEngines]
    public async Task Each_role_may_say_what_the_table_says_and_nothing_else(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        var devices = Enum.GetValues<Role>().ToDictionary(role => role, role => Device.Pair(host, role));
        var wrong = new List<string>();

        foreach (var (type, data, roles) in Cases())
        {
            foreach (var (role, device) in devices)
            {
                using var answer = await device.Send(device.Write(type, EventCatalogue.RecordOf(type)!.IsAssignableTo(typeof(SourceEvent)) ? null : watch.Label.ToString(), data));
                var may = role == Role.Manager || roles.Contains(role);
                if (may == (answer.StatusCode == HttpStatusCode.Forbidden) || (!may && (await answer.Problem()).Code != "not-for-this-role"))
                {
                    wrong.Add($"{Word.Of(role)}: {type} {data} → {(int)answer.StatusCode}");
                }
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task In_a_batch_what_a_role_may_not_say_is_refused_by_itself()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);
        var desk = Device.Pair(host, Role.Desk);

        var told = await desk.PostBatch(
            desk.Write("note.written", watch.Label.ToString(), """{"text":"may"}"""), desk.Write("index.touched", watch.Label.ToString(), "{}"));

        Assert.Equal(["accepted", "refused"], told.Select(one => one.Outcome));
        Assert.Equal((403, "not-for-this-role"), (told[1].Problem.GetProperty("status").GetInt32(), told[1].Code));
    }

    private static IEnumerable<(string Type, string Data, Role[] Roles)> Cases()
    {
        foreach (var (type, roles) in ByType)
        {
            yield return (type, EventSamples.Full[type], roles);
        }

        foreach (var (hold, (places, lifts)) in ByHold)
        {
            yield return ("hold.placed", $$"""{"hold":"{{Word.Of(hold)}}"}""", places);
            yield return ("hold.lifted", $$"""{"hold":"{{Word.Of(hold)}}"}""", lifts);
        }

        foreach (var (stage, roles) in ByStage)
        {
            yield return ("stage.started", $$"""{"stage":"{{Word.Of(stage)}}"}""", roles);
            yield return ("stage.finished", $$"""{"stage":"{{Word.Of(stage)}}"}""", roles);
            yield return ("stage.sent-back", $$"""{"stage":"{{Word.Of(stage)}}","to":"diagnosis","reason":"again"}""", roles);
        }
    }
}
