using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Labels;

public static class LabelsEndpoints
{
    public static void MapLabels(this IEndpointRouteBuilder routes)
    {
        var labels = routes.MapGroup("/v1/labels").WithTags("Labels");
        labels.MapGet("{label}", ReadLabel.Handle)
            .WithSummary("What a label is on; a replaced one says stop")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.LabelUnknown)
            .RequireOperation(Operation.ReadLabel);
        labels.MapPut("{label}", NameLabel.Handle)
            .WithSummary("Stick a label on a bench, a badge, a tray, a winder place, or say which word a card says")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.LabelBound)
            .WithExample("""{ "names": "benches/bench-2" }""")
            .RequireOperation(Operation.NameLabels);
        labels.MapPost("", DrawLabel.Handle)
            .WithSummary("Give out a new label, for a thing of the house or blank")
            .WithExample("""{ "kind": "winder-place", "names": "winder-places/w-1" }""")
            .RequireOperation(Operation.NameLabels);
    }
}
