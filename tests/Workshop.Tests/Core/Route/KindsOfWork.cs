using NodaTime;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Route;

/// <summary>A shop with kinds of work besides the full service, each cut out of it.</summary>
internal static class KindsOfWork
{
    private static readonly Stage[] Front = [Stage.Intake, Stage.Diagnosis, Stage.Quote, Stage.Queue];
    private static readonly Stage[] Movement = [Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation];
    private static readonly Stage[] Release = [Stage.FinalControl, Stage.Settlement, Stage.Ready, Stage.HandedOver];

    public static RouteDefinition Regulation { get; } = Cut("regulation", [.. Front, Stage.Regulation, Stage.Casing, Stage.WearCheck, .. Release]) with
    {
        Forbidden = [Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild],
        IfMoreIsNeeded = "full-automatic",
        RefusedBelowAmplitudeDegrees = 230,
        PromisedWorkingDays = 4,
        TargetWorkingDaysBefore = 1,
        Warranty = [new WarrantyOffer("rate", Period.FromMonths(3))],
    };

    public static RouteDefinition CaseOnly { get; } = Cut(
        "case-or-crystal", [.. Front, Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.Casing, Stage.WaterTest, Stage.WearCheck, .. Release]) with
    {
        Forbidden = [.. Movement],
        PromisedWorkingDays = 10,
    };

    public static RouteDefinition CellAndSeals { get; } = Cut(
        "cell-and-seals", [Stage.Intake, Stage.Queue, Stage.CaseStrip, Stage.Gaskets, Stage.Casing, Stage.WaterTest, .. Release]) with
    {
        Quartz = true,
        ToleranceKind = "quartz",
        WornRate = null,
        Wear = null,
        PromisedWorkingDays = 1,
        TargetWorkingDaysBefore = 0,
    };

    public static RouteDefinition QuartzExchange { get; } = Cut("quartz-exchange", [.. Front, Stage.Rebuild, Stage.DialAndHands, Stage.Casing, Stage.WearCheck, .. Release]) with
    {
        Quartz = true,
        ToleranceKind = "quartz",
        WornRate = null,
        Wear = new WearRules { Owed = Duration.FromHours(72), ForAPass = Duration.FromHours(70) },
    };

    public static RouteDefinition Return { get; } = new()
    {
        Id = "return-unrepaired",
        Sold = false,
        Stages =
        [
            new RouteStage { Stage = Stage.Intake, Branch = Branch.Front },
            new RouteStage { Stage = Stage.ReturnUnrepaired, Branch = Branch.Release },
            new RouteStage { Stage = Stage.HandedOver, Branch = Branch.Release, Needs = [new Need(Stage.ReturnUnrepaired, Stop: true)] },
        ],
    };

    public static RouteDefinition Vintage { get; } = Cut("vintage", [.. TestShop.FullAutomatic.Stages.Select(one => one.Stage).Where(stage => stage != Stage.WaterTest)]) with
    {
        Forbidden = [Stage.WaterTest],
        Statement = new Wording { En = "not water resistant", De = "nicht wasserdicht" },
        ToleranceKind = "vintage",
        WornRate = null,
    };

    public static RouteDefinition Partial { get; } = TestShop.FullAutomatic with
    {
        Id = "x-partial-repair",
        Name = new Wording { En = "partial repair", De = "Teilreparatur" },
        Stages = [.. TestShop.FullAutomatic.Stages.Select(one => Movement.Contains(one.Stage) ? one with { Optional = true } : one)],
    };

    public static ShopRules Shop { get; } = TestShop.With([TestShop.FullAutomatic, TestShop.FullChronograph, Regulation, CaseOnly, CellAndSeals, QuartzExchange, Return, Vintage, Partial]);

    public static Story Begin(RouteDefinition route) => new(route, Shop);

    public static VariantChanged To(RouteDefinition route, RouteDefinition was) => new() { Variant = route.Id, Was = was.Id, Reason = "more is needed" };

    public static Story BecomesBy(this Story story, RouteDefinition route, params string[] despite) => story.After(Duration.FromMinutes(1)).Does(
        To(route, story.Job.Route!), TestShop.Manager, role: "manager", source: "/desk/2", despite: despite);

    private static RouteDefinition Cut(string id, Stage[] stages) => TestShop.FullAutomatic with
    {
        Id = id,
        Stages =
        [
            .. TestShop.FullAutomatic.Stages.Where(one => stages.Contains(one.Stage))
                .Select(one => one with { Needs = [.. one.Needs.Where(need => stages.Contains(need.Stage))] }),
        ],
    };
}
