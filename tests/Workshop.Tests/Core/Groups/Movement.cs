using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Groups;

/// <summary>A movement that comes apart into the groups of an automatic; common practice.</summary>
internal static class Movement
{
    public const string Run = "5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10";
    public const string OtherRun = "5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d11";

    public static readonly ImmutableArray<ExpectedGroup> Usual =
    [
        new() { Group = "balance-on-plate", Flags = ["hairspring", "shellac"] },
        new() { Group = "train", Flags = ["wheels", "barrel"], CountNeeded = true },
        new() { Group = "bridges" },
        new() { Group = "automatic", Flags = ["reverser"] },
        new() { Group = "calendar" },
        new() { Group = "keyless" },
        new() { Group = "pallets-and-settings", Flags = ["shellac"] },
        new() { Group = "screws", Required = false, CountNeeded = true },
        new() { Group = "never-washed", Flags = ["dial-or-hands", "gasket-or-glued"], NeverWashed = true },
    ];

    /// <summary>The groups of a calibre without a calendar that are there to be cleaned.</summary>
    public static readonly ImmutableArray<string> Six = ["balance-on-plate", "train", "bridges", "automatic", "keyless", "pallets-and-settings"];

    public static Story InTakedown() => new Story(TestShop.FullAutomatic with { Groups = Usual }).Through(Stage.Quote).After(Duration.FromMinutes(10)).Start(Stage.Takedown);

    /// <summary>The six groups are declared with nine parts each, there is no calendar, and the takedown is finished.</summary>
    public static Story TakenDown()
    {
        var story = InTakedown();
        foreach (var group in Six)
        {
            story.Then().Does(Declared(group));
        }

        return story.Then().Does(new GroupNotWashed { Group = "calendar", Reason = GroupNotWashed.NotFitted }).Then().Finish(Stage.Takedown);
    }

    public static Story Then(this Story story) => story.After(Duration.FromMinutes(1));

    public static GroupDeclared Declared(string group, int? count = 9, params string[] flags) => new() { Group = group, Count = count, Members = ["parts"], Flags = [.. flags] };

    public static CountRecorded Counted(string group, CountPoint at, int count) => new() { Group = group, At = at, Count = count };

    public static CageLoaded Loaded(string group, string cage, string run = Run, int? count = 9) => new() { Group = group, Cage = cage, Run = run, Count = count };

    /// <summary>Puts a group into a cage.</summary>
    /// <returns>The entry that says so.</returns>
    public static EventId Load(this Story story, string group, string cage, string run = Run, int? count = 9) =>
        story.Then().Says(Loaded(group, cage, run, count)).Entries[0].Entry.Id;

    public static Story Empty(this Story story, string cage, int? count = 9) => story.Then().Does(new CageEmptied { Cage = cage, Count = count });

    public static GroupWashed Washed(string group, string cage, string run = Run) => new() { Group = group, Cage = cage, Run = run, Machine = "machine-1", Programme = "gentle" };

    public static GroupUnknown Unknown(string group, string cage, string run = Run) => new() { Group = group, Cage = cage, Run = run, Reason = "power cut" };

    /// <summary>A group goes through a run and out of its cage.</summary>
    public static Story Wash(this Story story, string group, string cage, string run = Run)
    {
        var load = story.Load(group, cage, run);
        Assert.Equal(Outcome.Accepted, story.Then().Hears(Washed(group, cage, run), load).Outcome);
        return story.Empty(cage);
    }

    public static PartsGroup Group(this Story story, string group) => story.Job.Groups.Find(group)!;
}
