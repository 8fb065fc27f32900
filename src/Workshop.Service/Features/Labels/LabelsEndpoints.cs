using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;

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
        labels.MapDelete("{label}", WithdrawLabel.Handle)
            .WithSummary("Take a lost badge, a torn label of the house or a blank one out of use")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.LabelUnknown, ProblemCatalogue.BadFields)
            .RequireOperation(Operation.NameLabels);
        labels.MapPost("", DrawLabel.Handle)
            .WithSummary("Give out a new label, for a thing of the house or blank")
            .WithExample("""{ "kind": "winder-place", "names": "winder-places/w-1" }""")
            .RequireOperation(Operation.NameLabels);
        labels.MapGet("{label}/print.{form}", PrintLabel.Handle)
            .WithSummary("One label to be printed: svg, png or pdf, in the size the shop's rules say or another")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.LabelUnknown, ProblemCatalogue.BadFields, ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: Print.PdfType, additionalContentTypes: [Print.SvgType, Print.PngType])
            .RequireOperation(Operation.PrintLabels);
        labels.MapGet("sheets.pdf", PrintSheets.Handle)
            .WithSummary("Labels that there are, on sheets of the shop's paper")
            .WithProblems(ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.PdfType)
            .RequireOperation(Operation.PrintLabels);
        labels.MapPost("sheets", MakeSheets.Handle)
            .WithSummary("Give out new labels and print them: sheets of blanks, of things of the house, or intake cards for a power cut")
            .WithExample("""{ "kind": "job", "count": 12, "as": "intake-cards" }""")
            .Produces(StatusCodes.Status201Created, contentType: Print.PdfType)
            .RequireOperation(Operation.MakeLabelSheets);
    }
}
