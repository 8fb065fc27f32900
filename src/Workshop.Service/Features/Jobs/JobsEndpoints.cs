using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Jobs;

public static class JobsEndpoints
{
    public static void MapJobs(this IEndpointRouteBuilder routes)
    {
        var jobs = routes.MapGroup("/v1/jobs").WithTags("Jobs");
        jobs.MapPost("", TakeInJob.Handle)
            .WithSummary("Take a watch in: it gets its label, and the answer says what is still missing")
            .WithExample(
                """
                { "customer": { "name": "Ida Marlow", "telephone": "+44 20 7946 0018", "consents": [ { "kind": "messages", "channels": ["email", "telephone"] } ] },
                  "watch": { "maker": "Orrery & Finch", "words": "stops at night", "caseSerial": "20 417", "calibre": { "kind": "automatic", "vibrationsPerHour": 28800 } },
                  "variant": "full-automatic", "declaredValueMinor": 240000, "currency": "GBP", "wishes": { "polish": "no", "oldPartsBack": true },
                  "condition": "scratch at 4 o'clock", "conditionGrid": [ { "place": "bezel", "condition": "light" }, { "place": "lugs", "condition": "clear", "note": "lower left" } ],
                  "arrival": { "running": "running", "crown": "works", "linksCounted": 12, "seal": "intact", "photosTaken": 7 }, "ownNumber": "A-218", "terms": { "acceptedOn": "2026-03-02" }, "accessories": [ { "kind": "bracelet", "count": 1 } ] }
                """)
            .RequireOperation(Operation.TakeInJob);
        jobs.MapGet("", ListJobs.Handle)
            .WithSummary("The jobs of the house, newest first")
            .WithProblems(ProblemCatalogue.BadFields)
            .RequireOperation(Operation.ListJobs);
        jobs.MapPost("search", SearchJobs.Handle)
            .WithSummary("Find jobs by telephone number, name, number on the watch, own number or label")
            .WithExample("""{ "telephone": "020 7946 0018" }""")
            .RequireOperation(Operation.SearchJobs);

        var job = jobs.MapGroup("{label}");
        job.MapGet("", ReadJob.Handle)
            .WithSummary("A job as it stands, what may come next, and what stands against the rest")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadJob);
        job.MapGet("intake", ReadIntake.Handle)
            .WithSummary("The part of a job that the desk edits")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditIntake);
        job.MapPatch("intake", EditIntake.Handle)
            .WithSummary("Add what is known now; null takes away, what is left out stays")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "declaredValueMinor": 240000, "currency": "GBP", "wishes": { "polish": "no" } }""")
            .RequireOperation(Operation.EditIntake);
        job.MapPost("variant", ChangeVariant.Handle)
            .WithSummary("Change the kind of work in the middle of a job: what is done stays, what is missing is added, the customer is asked anew")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "handed-over" or "movement-together")])
            .WithExample("""{ "variant": "full-automatic", "reason": "216° dial up at full wind: the oil is dry" }""")
            .RequireOperation(Operation.ChangeVariant);
        job.MapGet("history", ReadHistory.Handle)
            .WithSummary("The journal of a job, in the order in which things happened")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadHistory);
        job.MapGet("rate-sets", ReadRateSets.Handle)
            .WithSummary("Every rate set of a job")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadRateSets);
        job.MapGet("rate-sets/compared", CompareRateSets.Handle)
            .WithSummary("The rate sets of a job against each other: over a day, before and after, with the amplitude; and by how much to move the rate")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.CompareRateSets);
        job.MapGet("groups", ReadGroups.Handle)
            .WithSummary("The groups of parts of a job: what came apart, how each was cleaned, every count of it, and who had it last")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadGroups);
        job.MapGet("chronometer-trials/{trial}", ReadChronometerTrial.Handle)
            .WithSummary("A 15-day trial: the seven criteria by the definitions of ISO 3159, or the days that are missing")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadChronometerTrial);
        job.MapGet("next-checks", ReadNextChecks.Handle)
            .WithSummary("What falls due in a job: the physical moment, and when somebody is there to do it")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadAgenda);
    }
}
