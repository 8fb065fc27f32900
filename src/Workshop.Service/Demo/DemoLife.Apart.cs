using Workshop.Core.Groups;
using Workshop.Core.Takedown;

namespace Workshop.Service.Demo;

/// <summary>How a movement of the demo's past came apart, and how its parts were cleaned.</summary>
internal sealed partial class DemoLife
{
    private bool cameApart;
    private bool wasCleaned;

    private void ComeApart(string person)
    {
        if (Route.Quartz == true)
        {
            return;
        }

        var step = 0;
        Say(person, new TakedownStep { Step = ++step, System = WatchSystem.DialSide, Part = "hands", Text = "Hands off" });
        if (Route.Groups.Any(group => group is { Group: "automatic", Required: true }))
        {
            Say(person, new TakedownStep { Step = ++step, System = WatchSystem.Automatic, Part = "automatic-bridge", Text = "Automatic works off in one piece" });
        }

        Say(person, new TakedownLetDown { Step = ++step });
        Say(person, new TakedownStep { Step = ++step, System = WatchSystem.Escapement, Part = "pallets", Text = "Pallets out", Caution = "spring-tension" });
        foreach (var group in Apart)
        {
            Say(person, new GroupDeclared { Group = group.Group, Flags = group.Flags, Count = chance.Next(4, 14) });
        }
    }

    // The shop of the demo washed by hand until its machines were entered.
    private void CleanByHand(string person)
    {
        if (Route.Quartz == true)
        {
            return;
        }

        foreach (var group in Apart)
        {
            Say(person, new GroupHandCleaned { Group = group.Group });
        }
    }

    private IEnumerable<ExpectedGroup> Apart => Route.Groups.Where(group => group is { Required: true, NeverWashed: false });
}
