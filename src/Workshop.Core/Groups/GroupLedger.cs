using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Groups;

public sealed record PartsGroup(string Id, ImmutableArray<string> Flags, bool Washed = false);

public sealed record GroupLedger
{
    public ImmutableArray<PartsGroup> Groups { get; init; } = [];

    public PartsGroup? Find(string group) => Groups.FirstOrDefault(one => one.Id == group);

    public GroupLedger Apply(Entry entry) => entry.Event switch
    {
        GroupDeclared declared => With(new PartsGroup(declared.Group, declared.Flags)),
        GroupWashed washed => With((Find(washed.Group) ?? new PartsGroup(washed.Group, [])) with { Washed = true }),
        GroupUnknown unknown => With((Find(unknown.Group) ?? new PartsGroup(unknown.Group, [])) with { Washed = false }),
        _ => this,
    };

    private GroupLedger With(PartsGroup group) => this with { Groups = Find(group.Id) is { } known ? Groups.Replace(known, group) : Groups.Add(group) };
}
