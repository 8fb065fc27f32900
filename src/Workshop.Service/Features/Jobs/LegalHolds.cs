using System.Collections.Immutable;
using Workshop.Core.Holds;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Jobs;

/// <summary>A legal hold is the managers' alone; everybody else sees a query.</summary>
public static class LegalHolds
{
    public static bool Shown(Role role) => role == Role.Manager;

    public static string Word(HoldReason reason, Role role) =>
        Core.Words.Word.Of(reason == HoldReason.Legal && !Shown(role) ? HoldReason.Query : reason);

    /// <summary>Gates by name, as this role may read them.</summary>
    public static ImmutableArray<string> Gates(ImmutableArray<string> gates, Role role) =>
        Shown(role) ? gates : [.. gates.Select(gate => gate == $"hold/{Core.Words.Word.Of(HoldReason.Legal)}" ? $"hold/{Core.Words.Word.Of(HoldReason.Query)}" : gate).Distinct()];
}
