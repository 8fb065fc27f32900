using System.Collections.Frozen;
using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Route;

namespace Workshop.Core.Intake;

/// <summary>Members of the intake that a later stage asks for.</summary>
public static class IntakeMember
{
    public const string DeclaredValue = "declaredValue";
    public const string Terms = "terms";
    public const string Polish = "polish";
    public const string PolishConfirmed = "polishConfirmed";
    public const string Condition = "condition";
    public const string Running = "running";
    public const string Photos = "photos";
    public const string LabelScannedBack = "labelScannedBack";
    public const string Consents = "consents";
    public const string OldPartsBack = "oldPartsBack";
    public const string CaseSerial = "caseSerial";
}

/// <summary>A member and the stages that cannot well do without it.</summary>
/// <param name="NeededFor">The first of these that the route has asks for it.</param>
/// <param name="Strength">How much it is insisted on; null: as the family <c>intake</c> says.</param>
public sealed record IntakeNeed(string Member, ImmutableArray<Stage> NeededFor, Strength? Strength);

/// <summary>What the stages ask the intake for. Common practice; the shop sets other strengths by the names of the gates.</summary>
public static class IntakeNeeds
{
    /// <summary>In the order in which the stages ask.</summary>
    public static ImmutableArray<IntakeNeed> All { get; } =
    [
        new(IntakeMember.Terms, [Stage.Diagnosis], null),
        new(IntakeMember.Condition, [Stage.Diagnosis], null),
        new(IntakeMember.Running, [Stage.Diagnosis], Strength.Note),
        new(IntakeMember.Photos, [Stage.Diagnosis], Strength.Note),
        new(IntakeMember.LabelScannedBack, [Stage.Diagnosis], Strength.Note),
        new(IntakeMember.Consents, [Stage.Quote], Strength.Note),
        new(IntakeMember.DeclaredValue, [Stage.Takedown, Stage.CaseStrip, Stage.Casing], Strength.Stop),
        new(IntakeMember.OldPartsBack, [Stage.Takedown, Stage.CaseStrip], Strength.Note),
        new(IntakeMember.Polish, [Stage.CaseWork], null),

        // Metal that is taken off does not come back, and whoever holds the case is not the customer: no tap.
        new(IntakeMember.PolishConfirmed, [Stage.CaseWork], Strength.Stop),
    ];

    private static readonly FrozenDictionary<string, IntakeNeed> ByMember = All.ToFrozenDictionary(one => one.Member, StringComparer.Ordinal);

    public static Strength? StrengthOf(string member) => ByMember.GetValueOrDefault(member)?.Strength;

    /// <summary>What is missing, each with the stage of the route that will ask for it.</summary>
    /// <param name="known">Members that are known.</param>
    /// <param name="polish">The wish: only a polish that is wished for is confirmed.</param>
    /// <param name="at">The stage at which the work begins; what earlier ones would have asked for is not asked any more.</param>
    public static ImmutableArray<MissingMember> Missing(IReadOnlySet<string> known, PolishWish? polish, RouteDefinition route, Stage? at = null)
    {
        var begun = at is { } stage ? route.Stages.TakeWhile(one => one.Stage != stage).Select(one => one.Stage).ToHashSet() : [];
        return
        [
            .. All.Where(one => !known.Contains(one.Member) && (one.Member != IntakeMember.PolishConfirmed || polish == PolishWish.Yes)
                    && (one.Member != IntakeMember.Polish || route.PolishOnlyOnRequest != true))
                .Select(one => (one.Member, At: one.NeededFor.Where(needed => route.Has(needed) && !begun.Contains(needed)).ToArray()))
                .Where(one => one.At.Length > 0)
                .Select(one => new MissingMember(one.Member, one.At[0])),
        ];
    }
}
