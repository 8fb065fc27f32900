using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Core.Jobs;

/// <summary>What is frozen into an entry when it is accepted, because it rests on a badge, a calendar or a term.</summary>
internal static class Judging
{
    public static Judged Freeze(Job before, Incoming incoming, Facts facts, Asking asking)
    {
        var judged = new Judged { Person = asking.Person, Bench = asking.Bench, Role = facts.Role, Under = WorthKeeping(before, asking.Under) };
        return incoming.Event switch
        {
            JobTakenIn taken => judged with { Route = facts.Rules.Routes.GetValueOrDefault(taken.Variant) },
            VariantChanged changed => judged with { Route = facts.Rules.Routes.GetValueOrDefault(changed.Variant) },
            WearCheckStarted { Kind: WearCheckKind.Static } => judged with { Static = StaticTerms.Of(ToleranceOf(before, facts.Rules)) },
            WearCheckStarted started when before.Route is { Wear: { } rules } route && facts.Rules.WornWindowOf(route) is { } window => judged with
            {
                Wear = WearTermsOf(before, rules, window, started, facts.Rules),
            },

            StageStarted { Stage: Stage.Takedown } or StageFinished { Stage: Stage.Takedown } when before.Groups.Expected.IsEmpty && GroupsOf(before, facts.Rules) is { IsEmpty: false } expected => judged with
            {
                Groups = new GroupTerms { Expected = expected },
            },
            GroupDeclared declared when Compatibility.NeverWashed(declared.Flags, facts.Rules.Cleaning).Any() => judged with { Groups = new GroupTerms { NeverWashed = true } },

            // A manager's word about repeats waits for the next start, whenever that is; any other waiver is gone with the day.
            WaiverGiven given when GateTable.FamilyOf(given.Gate) != "repeats-decided" => judged with
            {
                UsableUntil = facts.Rules.Calendar.EndOfDay(facts.Rules.Calendar.DateOf(incoming.Effective)),
            },
            RateSetRecorded => judged with { Rate = facts.Rate },
            FunctionChecked told => judged with
            {
                Function = new FunctionTerms
                {
                    ToShow = facts.Watch?.Movement.ToShow(facts.Rules.Functions) ?? [],
                    ByFigures = facts.Rules.Functions.Of(told.Function)?.ByFigures(told),
                    BackTo = facts.Rules.Functions.Of(told.Function)?.BackTo,
                },
            },
            ReserveTestStarted started when facts.Watch is { } watch => judged with { Reserve = watch.ReserveBy(started.Hours, facts.Rules.Reserve) },
            WaterTestRecorded told when facts.Watch is { } watch && watch.Water.Against(told, before.WaterTests.DryPassed, facts.Rules.Water) is { IsEmpty: false } against => judged with { Water = against },
            StopExplained => judged with { Calibre = facts.Watch?.Calibre },
            WearReported => judged with { WearReport = ComparedWith(before, facts.Rules) },
            TakedownEvent => judged with { Takedown = asking.Takedown },
            JobHandedOver over when IsTheLast(before, over) => judged with { Warranty = WarrantyOf(before, over, facts.Rules) },
            _ => judged,
        };
    }

    private static ToleranceKind? ToleranceOf(Job before, ShopRules rules) =>
        before.Route?.ToleranceKind is { } named ? rules.Tolerances.GetValueOrDefault(named) : null;

    private static WearTerms WearTermsOf(Job before, WearRules rules, RateWindow window, WearCheckStarted started, ShopRules shop)
    {
        var terms = before.WearChecks.TermsFor(
            rules, window, WearArithmetic.ReadingUncertainty(started.ReadBy, started.StepSeconds, started.RoundTripMilliseconds, rules.ReadingResolutionSeconds), started.Owed, before.Stops.ComesAndGoes());
        var aWeek = terms.Owed >= Duration.FromDays(7);
        return terms with
        {
            Zone = shop.Calendar.Zone.Id,
            PredictedPerDaySeconds = before.PredictedRate(shop.Timekeeping.WearProfile)?.RatePerDaySeconds,
            UnlikePredictionSeconds = shop.WearChecks.UnlikePredictionSeconds,
            MidnightsAtLeast = aWeek ? shop.WearChecks.MidnightsInAWeek : null,

            // Only a chronograph has anything to reset: its tolerance has limits for the running one.
            ResetsADay = aWeek && ToleranceOf(before, shop)?.Running is not null ? shop.WearChecks.ResetsADay : null,
        };
    }

    // What the kind of work has is asked when the movement comes apart, not when the watch came in.
    private static ImmutableArray<ExpectedGroup> GroupsOf(Job before, ShopRules rules) =>
        before.Route is { } route ? rules.Routes.GetValueOrDefault(route.Id)?.Groups ?? [] : [];

    private static WearReportTerms ComparedWith(Job before, ShopRules rules) => new()
    {
        Window = before.WearChecks.LastJudged?.Terms.Window ?? (before.Route is { } route ? rules.WornWindowOf(route) : null),
        PredictedPerDaySeconds = before.PredictedRate(rules.Timekeeping.WearProfile)?.RatePerDaySeconds,
        ByEyeSeconds = before.Route?.Wear?.ReadingResolutionSeconds ?? new WearRules().ReadingResolutionSeconds,
        FreeUntil = before.Warranty.HandedOverOn?.PlusDays(rules.WearReports.FreeAdjustmentDays),
        LeastDays = rules.WearReports.LeastDays,
    };

    private static Label? WorthKeeping(Job before, Label? under) =>
        under is { } label && (label != before.Label || before.Labels.ReplacementOf(label) is not null) ? under : null;

    private static bool IsTheLast(Job before, JobHandedOver over) =>
        before.Pieces.Pieces.All(piece => piece.Holder == Piece.Customer || (piece.IsHome && over.Pieces?.Contains(piece.Id) != false));

    // A watch that goes back unrepaired goes without a warranty.
    private static ImmutableArray<WarrantyTerm> WarrantyOf(Job before, JobHandedOver over, ShopRules rules)
    {
        if (before.Standings.ReturnsUnrepaired || before.Route is not { } route)
        {
            return [];
        }

        // The customer may have it from the final control on: that is told, and paying may wait until they come.
        var ready = before.FinalControl.PassedAt ?? (before.Standings.IsReady ? before.Standings.Of(Stage.Ready).Since : null);
        var leaving = new Leaving(over.How, over.On, ready is { } since ? rules.Calendar.DateOf(since) : null);
        return [.. route.Warranty
            .Where(offer => !offer.None && (offer.OnlyIf is not { } stage || before.Standings.Of(stage).State == StageState.Done))
            .Select(offer => WarrantyBeginning.Begin(offer, leaving, rules))];
    }
}
