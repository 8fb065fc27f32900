using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.WearReports;

public static class WearReportsEndpoints
{
    public static void MapWearReports(this IEndpointRouteBuilder routes)
    {
        var reports = routes.MapGroup("/v1/jobs/{label}/wear-reports").WithTags("Timekeeping");
        reports.MapPost("", ReportWear.Handle)
            .WithSummary("Write down what a customer tells of their watch after hand-over")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NotHandedOver)
            .WithExample("""{ "amount": 2, "unit": "minutes", "direction": "gains", "overDays": 7, "channel": "telephone", "text": "It is two minutes fast after a week." }""")
            .RequireOperation(Operation.ReportWear);
        reports.MapGet("", ReadWearReports.All)
            .WithName("readWearReports")
            .WithSummary("Everything customers told of a watch")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWarranty);
        reports.MapGet("{report}", ReadWearReports.One)
            .WithName("readWearReport")
            .WithSummary("One report of a customer")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWarranty);
        reports.MapPost("{report}/answer", AnswerWearReport.Handle)
            .WithSummary("Say what the customer was answered")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "answer": "invited", "note": "Comes on Tuesday." }""")
            .RequireOperation(Operation.AnswerWearReport);
    }
}
