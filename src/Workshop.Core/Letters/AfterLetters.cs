using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.WaterTests;
using Workshop.Core.WearReports;

namespace Workshop.Core.Letters;

/// <summary>What is asked and said after a watch has left: how it runs, claims, and care.</summary>
internal static class AfterLetters
{
    public static IEnumerable<LetterOccasion> Of(Job job, LetterSurroundings around, ShopRules rules)
    {
        if (job.Warranty.HandedOverOn is not { } handedOver || !job.Standings.HandedOver)
        {
            return [];
        }

        // A parcel is worn from the day it came.
        var from = job.Warranty.DeliveredOn is { } delivered ? LocalDate.Max(handedOver, delivered) : handedOver;
        return [.. Asked(job, from, around, rules), .. Reports(job, around), .. Claims(job), .. Care(job, from, around, rules)];
    }

    private static bool ClaimOpen(Job job) => job.Warranty.Claims.Any(claim => claim.Covered is null || claim.Stay is { ReturnedOn: null });

    // No answer is no answer: the second question comes all the same, and then no more.
    private static IEnumerable<LetterOccasion> Asked(Job job, LocalDate from, LetterSurroundings around, ShopRules rules)
    {
        if (job.Standings.ReturnsUnrepaired || job.Route?.Has(Stage.WearCheck) != true)
        {
            yield break;
        }

        LetterDrop? passed = ClaimOpen(job) || around.BackInHouse || around.NewerJob || around.Gone ? LetterDrop.Passed : null;
        var letters = rules.Messages;
        yield return new LetterOccasion(
            LetterMoment.WearAskedWeek, "1", LetterJudge.At(from.PlusDays(letters.WearAskedFirstDays), letters.RemindAt, rules),
            passed ?? (job.WearReports.Reports.IsEmpty ? null : LetterDrop.SaidOtherwise));
        yield return new LetterOccasion(LetterMoment.WearAskedMonth, "1", LetterJudge.At(from.PlusDays(letters.WearAskedAgainDays), letters.RemindAt, rules), passed);
    }

    private static IEnumerable<LetterOccasion> Reports(Job job, LetterSurroundings around)
    {
        foreach (var report in job.WearReports.Reports)
        {
            LetterMoment? moment = report.Verdict switch
            {
                WearReportVerdict.AskedBack => LetterMoment.WearAskedBack,
                WearReportVerdict.Outside or WearReportVerdict.Stopped => LetterMoment.WearInvitation,
                _ => null,
            };
            if (moment is { } asks)
            {
                yield return new LetterOccasion(
                    asks, $"{report.Number}", report.At,
                    ClaimOpen(job) || around.BackInHouse || around.Gone || report.Answer is not null ? LetterDrop.Passed
                    : report != job.WearReports.Reports[^1] ? LetterDrop.Newer
                    : null);
            }
        }
    }

    private static IEnumerable<LetterOccasion> Claims(Job job)
    {
        foreach (var claim in job.Warranty.Claims)
        {
            yield return new LetterOccasion(LetterMoment.ClaimReceived, $"{claim.Number}", claim.ReportedAt);
            if (claim.DecidedAt is { } decided)
            {
                yield return new LetterOccasion(LetterMoment.ClaimDecided, $"{claim.Number}", decided);
            }
        }
    }

    // Care ends with a newer service, with another owner, and while something is wrong.
    private static IEnumerable<LetterOccasion> Care(Job job, LocalDate from, LetterSurroundings around, ShopRules rules)
    {
        if (job.Standings.ReturnsUnrepaired)
        {
            yield break;
        }

        LetterDrop? passed = ClaimOpen(job) || around.BackInHouse || around.NewerJob || around.Gone ? LetterDrop.Passed : null;
        var letters = rules.Messages;
        foreach (var day in job.Warranty.Lines.Select(line => line.LastDay).Distinct())
        {
            yield return new LetterOccasion(LetterMoment.WarrantyEndsSoon, $"{day:uuuu-MM-dd}", LetterJudge.At(day.PlusDays(-letters.WarrantyEndsDays), letters.RemindAt, rules), passed);
        }

        if (job.WaterTests.Tests.Any(test => test.Validity == WaterValidity.Valid))
        {
            yield return After(LetterMoment.WaterTestDue, letters.WaterTestMonths);
        }

        if (job.Route?.Quartz == true)
        {
            yield return After(LetterMoment.CellDue, letters.CellMonths);
        }
        else if (job.Route?.Has(Stage.Rebuild) == true)
        {
            yield return After(LetterMoment.ServiceDue, around.Chronograph ? letters.ChronographServiceMonths : letters.ServiceMonths);
        }

        LetterOccasion After(LetterMoment moment, int months) => new(moment, "1", LetterJudge.At(from.PlusMonths(months), letters.RemindAt, rules), passed);
    }
}
