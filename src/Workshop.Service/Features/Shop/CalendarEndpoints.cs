using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Shop;

/// <summary>What the calendar has besides reading: asking what it would move, and the regions whose holidays are known.</summary>
internal static class CalendarEndpoints
{
    public const string Example = """
        { "timeZone": "Europe/Berlin", "week": { "monday": [ { "opens": "09:00", "closes": "12:30" }, { "opens": "13:30", "closes": "18:00" } ], "tuesday": [ { "opens": "09:00", "closes": "18:00" } ] },
          "closures": [ { "from": "2026-12-24", "through": "2027-01-04", "reason": "turn of the year" } ], "extraOpenDays": { "2026-12-19": [ { "opens": "10:00", "closes": "14:00" } ] },
          "publicHolidays": { "region": "DE-BW", "own": [ { "date": "2026-07-20", "name": "Town fair" } ], "without": [ "2026-06-04" ] },
          "holidays": [ { "date": "2026-01-01", "name": "Neujahrstag" }, { "date": "2026-07-20", "name": "Town fair" } ], "resolvedFrom": "2024-01-01", "resolvedThrough": "2036-12-31" }
        """;

    private const string Zurich = """ "id": "CH-ZH", "name": "Switzerland, Zürich", "disagreement": "Lists of holidays disagree. Taken here: 2 January. The shop's own list decides." """;

    public static void MapCalendar(this RouteGroupBuilder calendar)
    {
        calendar.MapPut("", AskCalendar.Handle)
            .WithName("saveCalendar")
            .WithSummary("Save when the shop is open, whole, or ask with ?ask=true what that would move")
            .WithExample(Example, $$"""
                { "id": "main", "asked": true, "remarks": [ "The public holidays of Germany, Baden-Württemberg are computed from 2024-01-01 through 2036-12-31; GET /v1/calendar shows each of them." ], "document": {{Example}},
                  "moves": { "counts": { "jobsLookedAt": 214, "jobsConcerned": 2, "promises": 1, "forecasts": 1, "atRisk": 1, "checks": 1, "tasks": 0 },
                    "promises": [ { "job": "J7K3MQ4T", "promisedOn": "2026-12-30", "from": "2026-12-30", "to": "2027-01-08" } ],
                    "forecasts": [ { "job": "J7K3MQ4T", "promisedOn": "2026-12-30", "from": "2026-12-29", "to": "2027-01-07", "atRisk": true, "wasAtRisk": false } ],
                    "checks": [ { "job": "J7K3MQ4T", "kind": "wear-check", "ref": "/devices/bench-2/1#412", "due": "2026-12-24T13:00:00Z", "from": "2026-12-24T13:00:00Z", "to": "2027-01-05T08:00:00Z" } ], "tasks": [] } }
                """)
            .RequireOperation(Operation.EditShop);
        calendar.MapGet("regions", ReadHolidayRegions.All)
            .WithName("listHolidayRegions")
            .WithSummary("Every region whose public holidays are known, and what is in doubt about them")
            .WithExample(answer: $$"""{ "regions": [ {{{Zurich}}}, { "id": "GB-ENG", "name": "England" } ] }""")
            .RequireOperation(Operation.ReadShop);
        calendar.MapGet("regions/{id}", ReadHolidayRegions.One)
            .WithName("readHolidayRegion")
            .WithSummary("The public holidays of a region in some years")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .WithExample(answer: $$"""{ {{Zurich}}, "from": 2026, "through": 2026, "dates": [ { "date": "2026-01-01", "name": "Neujahrstag" }, { "date": "2026-01-02", "name": "Berchtoldstag" } ] }""")
            .RequireOperation(Operation.ReadShop);
    }
}
