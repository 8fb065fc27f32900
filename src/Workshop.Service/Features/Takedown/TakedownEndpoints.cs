using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Takedown;

public static class TakedownEndpoints
{
    public static void MapTakedown(this IEndpointRouteBuilder routes)
    {
        var job = routes.MapGroup("/v1/jobs/{label}").WithTags("Takedown");
        job.MapGet("takedown", ReadTakedown.Handle)
            .WithSummary("How the movement came apart, what was found, and in what it differs from the plan of its calibre")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadTakedown);
        job.MapPost("takedown/plan", SavePlan.Handle)
            .WithSummary("Save this takedown as the plan of its calibre")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NoCalibre, ProblemCatalogue.BadFields)
            .RequireOperation(Operation.SaveTakedownPlan);
        job.MapGet("reverse-list", ReadReverseList.Handle)
            .WithSummary("The takedown read backwards, system by system: what the rebuild goes by; a page to be printed where text/html is asked for")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadTakedown);
        job.MapGet("reverse-list/page", ReadReverseList.Page)
            .WithName("printReverseList")
            .WithSummary("The takedown read backwards, on A4")
            .Produces(StatusCodes.Status200OK, contentType: PrintedPage.MediaType)
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadTakedown);
    }
}
