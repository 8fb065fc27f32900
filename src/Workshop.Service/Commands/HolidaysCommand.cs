using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Features.Shop;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Commands;

/// <summary><c>holidays</c>: the public holidays of a region as a calendar would keep them; needs no database.</summary>
internal static class HolidaysCommand
{
    public static Command Make()
    {
        var region = new Option<string>("--region") { Description = "The region, for example DE-BW or TARGET.", HelpName = "REGION", Required = true };
        region.Validators.Add(given =>
        {
            if (HolidayRegions.Find(given.GetValueOrDefault<string>() ?? "") is null)
            {
                given.AddError($"The holidays of this region are not known; known are {string.Join(", ", HolidayRegions.All.Select(one => one.Id))}.");
            }
        });
        var from = Year("--from", "The first year; this one where left out.");
        var through = Year("--through", "The last year; the first where left out.");
        var json = new Option<bool>("--json") { Description = "Print one line of JSON instead, for scripts." };
        var command = new Command("holidays", "Lists the public holidays of a region, one line a day.") { region, from, through, json };
        command.SetAction((given, _) =>
        {
            var first = given.GetValue(from) ?? SystemClock.Instance.GetCurrentInstant().InUtc().Year;
            return Task.FromResult(List(HolidayRegions.Find(given.GetRequiredValue(region))!, first, given.GetValue(through) ?? first, given.GetValue(json)));
        });
        return command;
    }

    private static int List(HolidayRegion region, int from, int through, bool json)
    {
        if (through < from)
        {
            Console.Error.WriteLine("--through is before --from.");
            return WorkshopCommand.NotBegun;
        }

        var dates = HolidayRegions.DatesOf(region.Id, from, through);
        if (json)
        {
            Console.WriteLine(JsonSerializer.Serialize(new RegionDatesView(region.Id, region.Name, region.Disagreement, from, through, dates), WorkshopJson.Options));
            return WorkshopCommand.Well;
        }

        foreach (var day in dates)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{day.Date:uuuu-MM-dd} {day.Name}"));
        }

        if (region.Disagreement is { } disagreement)
        {
            Console.Error.WriteLine(disagreement);
        }

        return WorkshopCommand.Well;
    }

    private static Option<int?> Year(string name, string description)
    {
        var year = new Option<int?>(name) { Description = description, HelpName = "YEAR" };
        year.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<int?>() is < HolidayRegions.Earliest or > HolidayRegions.Latest)
            {
                given.AddError($"{name} is a year from {HolidayRegions.Earliest} to {HolidayRegions.Latest}.");
            }
        });
        return year;
    }
}
