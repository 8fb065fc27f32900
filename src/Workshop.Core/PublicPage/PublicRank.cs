using System.Collections.Frozen;
using System.Collections.Immutable;
using Workshop.Core.Route;

namespace Workshop.Core.PublicPage;

/// <summary>How far along a public stage is, and which stages of the house a customer sees as which.</summary>
public static class PublicRank
{
    private static readonly FrozenDictionary<PublicStage, int> Ranks = new Dictionary<PublicStage, int>
    {
        [PublicStage.Expected] = 0,
        [PublicStage.Received] = 1,
        [PublicStage.BeingExamined] = 2,
        [PublicStage.YourDecision] = 3,
        [PublicStage.Approved] = 4,
        [PublicStage.AtTheWatchmaker] = 5,
        [PublicStage.CaseInWork] = 5,
        [PublicStage.BeingTested] = 6,
        [PublicStage.FinalControl] = 7,
        [PublicStage.Ready] = 8,
        [PublicStage.OnItsWay] = 9,
        [PublicStage.YoursAgain] = 10,
        [PublicStage.Returned] = 10,
    }.ToFrozenDictionary();

    /// <summary>Work on the movement; the case is in work beside it.</summary>
    internal static readonly ImmutableArray<Stage> Movement = [Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation];

    internal static readonly ImmutableArray<Stage> Case = [Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets];

    internal static readonly ImmutableArray<Stage> Tests = [Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions];

    /// <summary>0 to 10; null for waiting for a part, which is shown over any of them.</summary>
    public static int? Of(PublicStage stage) => Ranks.TryGetValue(stage, out var rank) ? rank : null;

    /// <summary>Shown while it lasts, over what was reached, and leaving that as it was.</summary>
    public static bool IsShownOver(PublicStage stage) => stage is PublicStage.YourDecision or PublicStage.WaitingForPart;

    /// <summary>
    /// What a customer sees once a stage has come to a state; null for what they do not see. A test that failed is a test as well, and
    /// a control that did not pass is nothing to be seen.
    /// </summary>
    internal static PublicStage? Reached(Stage stage, StageState state) => state switch
    {
        StageState.Open or StageState.Void => null,
        _ when Movement.Contains(stage) => PublicStage.AtTheWatchmaker,
        _ when Case.Contains(stage) => PublicStage.CaseInWork,
        _ when Tests.Contains(stage) => PublicStage.BeingTested,
        _ => (stage, Behind: state is StageState.Done or StageState.BeforeOurRecords) switch
        {
            (Stage.Intake, true) => PublicStage.Received,
            (Stage.Diagnosis, _) => PublicStage.BeingExamined,
            (Stage.Quote, true) => PublicStage.Approved,
            (Stage.FinalControl, true) => PublicStage.Ready,
            (Stage.FinalControl, false) => PublicStage.FinalControl,
            (Stage.Ready or Stage.ReturnUnrepaired, true) => PublicStage.Ready,
            _ => null,
        },
    };

    /// <summary>The public stages that a route leads through, in order; whether it is sent or collected at the end nobody knows before.</summary>
    internal static IEnumerable<PublicStage> Planned(Standings standings, bool asks)
    {
        bool Has(ImmutableArray<Stage> any) => standings.Required.Any(planned => any.Contains(planned.Stage));
        return new (PublicStage Stage, bool Comes)[]
        {
            (PublicStage.Received, true),
            (PublicStage.BeingExamined, Has([Stage.Diagnosis])),
            (PublicStage.YourDecision, asks && Has([Stage.Quote])),
            (PublicStage.Approved, asks && Has([Stage.Quote])),
            (Has(Movement) ? PublicStage.AtTheWatchmaker : PublicStage.CaseInWork, Has(Movement) || Has(Case)),
            (PublicStage.BeingTested, Has(Tests)),
            (PublicStage.FinalControl, Has([Stage.FinalControl])),
            (PublicStage.Ready, true),
            (standings.ReturnsUnrepaired ? PublicStage.Returned : PublicStage.YoursAgain, true),
        }.Where(one => one.Comes).Select(one => one.Stage);
    }
}
