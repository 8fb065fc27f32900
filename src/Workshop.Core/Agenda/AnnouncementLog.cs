using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Agenda;

/// <summary>What was said about due things; "once" needs no other memory.</summary>
public sealed record AnnouncementLog
{
    public ImmutableArray<Announcement> Said { get; init; } = [];

    public bool Has(AgendaKind kind, string reference, AgendaLevel level, Instant due) => Said.Contains(new Announcement(kind, reference, level, due));

    public AnnouncementLog Apply(Entry entry) => entry.Event is DueAnnounced said
        ? this with { Said = Said.Add(new Announcement(said.Kind, said.Ref, said.Level, said.Due)) }
        : this;
}

public readonly record struct Announcement(AgendaKind Kind, string Ref, AgendaLevel Level, Instant Due);
