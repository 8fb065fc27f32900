using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation;

/// <content>The cleaning room: few cages for many groups, runs that are started, ended and cut off, by whoever comes by.</content>
internal sealed partial class World
{
    private static readonly string[] Cages = ["cage-1", "cage-2", "cage-3"];
    private static readonly string[] Groups = ["train", "bridges", "keyless"];
    private static readonly string[] Programmes = ["standard", "gentle"];

    private readonly List<string> runs = [];

    private Task<int> FurnishTheCleaningRoom() => house.Turn(turn =>
    {
        ShopDocuments.Put(turn, ShopRulesReader.CleaningMachine, "machine-1", """{"places":2,"jars":[{"jar":"clean","fluid":"ammoniated"},{"jar":"rinse-1","fluid":"petroleum-rinse"},{"jar":"rinse-2","fluid":"petroleum-rinse"},{"jar":"rinse-3","fluid":"alcohol"}]}""");
        ShopDocuments.Put(turn, "fluid-batch", "m1-clean-1", """{"fluid":"ammoniated","machine":"machine-1","jar":"clean","filledOn":"2026-03-01"}""");
        foreach (var cage in Cages)
        {
            ShopDocuments.Put(turn, ShopRulesReader.Cage, cage, "{}");
        }

        return 0;
    });

    private Task SomebodyIsInTheCleaningRoom()
    {
        Plan(WhenOpen(After(5, 40)), SomebodyIsInTheCleaningRoom);
        if (jobs.Count == 0)
        {
            return Task.CompletedTask;
        }

        if (runs.Count == 0 || chance.Next(6) == 0)
        {
            runs.Add(new Guid([.. Enumerable.Range(0, 16).Select(_ => (byte)chance.Next(256))]).ToString());
        }

        var tablet = BenchWork.Pick(chance, [.. tablets.Where(one => one != manager)]);
        var label = BenchWork.Pick(chance, [.. jobs]);
        var (run, cage, group) = (runs[Math.Max(0, runs.Count - 1 - chance.Next(3))], BenchWork.Pick(chance, Cages), BenchWork.Pick(chance, Groups));
        var despite = chance.Next(3) == 0 ? ""","despite":["calibre-unknown","run-over","machine-free","run-loaded"]""" : "";
        switch (chance.Next(12))
        {
            case < 5:
                Say(tablet, label, "cage.loaded", $$"""{"cage":"{{cage}}","group":"{{group}}","run":"{{run}}","person":"{{tablet.Person}}"{{despite}}}""");
                break;
            case < 8:
                Say(tablet, label, "cage.emptied", $$"""{"cage":"{{cage}}","person":"{{tablet.Person}}"{{despite}}}""");
                break;
            case 8 or 9:
                Say(tablet, run, "run.started", $$"""{"machine":"machine-1","programme":"{{BenchWork.Pick(chance, Programmes)}}","person":"{{tablet.Person}}"{{despite}}}""");
                break;
            case 10:
                Say(tablet, run, "run.finished", $$"""{"person":"{{tablet.Person}}"}""");
                break;
            default:
                Say(tablet, run, "run.aborted", $$"""{"reason":"the lights went out","person":"{{tablet.Person}}"}""");
                break;
        }

        return Task.CompletedTask;
    }

    private void Say(Tablet tablet, Label label, string type, string data) => Say(tablet, label.ToString(), type, data);
}
