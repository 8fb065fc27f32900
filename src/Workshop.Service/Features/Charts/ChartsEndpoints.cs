using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;

namespace Workshop.Service.Features.Charts;

public static class ChartsEndpoints
{
    public static void MapCharts(this IEndpointRouteBuilder routes)
    {
        var charts = routes.MapGroup("/v1/control-charts").WithTags("Charts");
        charts.MapGet("", ReadControlCharts.List)
            .WithSummary("Every chart of worn rates there is: of each bench, of each instrument, and of both together")
            .WithName("listControlCharts")
            .RequireOperation(Operation.ReadCharts);
        charts.MapGet("worn-rate", ReadControlCharts.One)
            .WithSummary("Worn rates of a bench, an instrument or both: the points, their limits or why there are none, and what lies outside")
            .WithName("readControlChart")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .RequireOperation(Operation.ReadCharts);
        charts.MapGet("worn-rate.{form}", ReadControlCharts.Draw)
            .WithSummary("The same drawn, as svg or png: rates above, steps beneath, limits as lines with their figures")
            .WithName("drawControlChart")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.SvgType, additionalContentTypes: Print.PngType)
            .RequireOperation(Operation.ReadCharts);
        routes.MapGet("/v1/instruments/differences", ReadInstrumentDifferences.Handle)
            .WithTags("Charts")
            .WithSummary("What two instruments show differently on the same watches")
            .RequireOperation(Operation.ReadCharts);

        var job = routes.MapGroup("/v1/jobs/{label}").WithTags("Charts");
        job.MapGet("rate-sets/ladder.{form}", DrawJobPlots.Ladder)
            .WithSummary("Two rate sets as a ladder on one scale, before and after, as svg or png")
            .WithName("drawLadder")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.SvgType, additionalContentTypes: Print.PngType)
            .RequireOperation(Operation.ReadRateSets);
        job.MapGet("rate-sets/amplitude.{form}", DrawJobPlots.Amplitude)
            .WithSummary("Amplitude against hours since full wind, as svg or png")
            .WithName("drawAmplitude")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.SvgType, additionalContentTypes: Print.PngType)
            .RequireOperation(Operation.ReadRateSets);
        job.MapGet("wear-checks/readings.{form}", DrawJobPlots.Readings)
            .WithSummary("Readings of a check after wear with the line through them, as svg or png")
            .WithName("drawWearReadings")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.SvgType, additionalContentTypes: Print.PngType)
            .RequireOperation(Operation.ReadRateSets);
    }
}
