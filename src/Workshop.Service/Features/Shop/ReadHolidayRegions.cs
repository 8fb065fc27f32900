using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Shop;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>A region whose public holidays are known.</summary>
/// <param name="Id">ISO 3166-2, or <c>TARGET</c>.</param>
/// <param name="Disagreement">What is in doubt about its days; absent where two lists that know nothing of each other agree on every weekday of 2025 to 2028.</param>
public sealed record RegionView(string Id, string Name, string? Disagreement);

/// <param name="Regions">By id.</param>
public sealed record RegionsView(IReadOnlyList<RegionView> Regions);

/// <param name="From">The first year.</param>
/// <param name="Through">The last year.</param>
/// <param name="Dates">In order of time. A holiday that is kept on another day since its own is a weekend stands with that day alone.</param>
public sealed record RegionDatesView(string Id, string Name, string? Disagreement, int From, int Through, ImmutableArray<Holiday> Dates);

/// <summary>Which regions a calendar may follow, and what its public holidays would be.</summary>
public static class ReadHolidayRegions
{
    private const int YearsAtMost = 20;

    public static Ok<RegionsView> All() => TypedResults.Ok(new RegionsView([.. HolidayRegions.All.Select(one => new RegionView(one.Id, one.Name, one.Disagreement))]));

    /// <param name="from">The first year; the shop's present one where left out.</param>
    /// <param name="through">The last year; the same as the first where left out.</param>
    public static async Task<Results<Ok<RegionDatesView>, ProblemHttpResult>> One(
        string id, int? from, int? through, Caller caller, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (HolidayRegions.Find(id) is not { } region)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "The holidays of this region are not known; GET /v1/calendar/regions names those that are.");
        }

        var first = from ?? (await rules.Read(caller.Site, cancel)).Calendar.DateOf(clock.GetCurrentInstant()).Year;
        var last = through ?? first;
        return first is < HolidayRegions.Earliest or > HolidayRegions.Latest ? Problems.BadParameter("from", $"This is not a year from {HolidayRegions.Earliest} to {HolidayRegions.Latest}")
            : last < first || last > HolidayRegions.Latest || last - first >= YearsAtMost ? Problems.BadParameter("through", $"This is not a year from {first} to {Math.Min(HolidayRegions.Latest, first + YearsAtMost - 1)}")
            : TypedResults.Ok(new RegionDatesView(region.Id, region.Name, region.Disagreement, first, last, HolidayRegions.DatesOf(id, first, last)));
    }
}
