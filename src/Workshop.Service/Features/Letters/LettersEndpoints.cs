using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Letters;

public static class LettersEndpoints
{
    public static void MapLetters(this IEndpointRouteBuilder routes)
    {
        var letters = routes.MapGroup("/v1/jobs/{label}/letters").WithTags("Customers");
        letters.MapGet("", ReadLetters.Handle)
            .WithSummary("What was said about a job and to whom, what is due, and what was let fall and why")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadLetters);
        letters.MapPost("{moment}/preview", PreviewLetter.Handle)
            .WithSummary("A letter as it would be sent today; nothing is sent")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("{}")
            .RequireOperation(Operation.ReadLetters);
        letters.MapPost("{moment}/release", ReleaseLetter.Handle)
            .WithSummary("Let the owner be told of a damage or a loss")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "words": "When we opened the case the crystal chipped at its edge. We put in a new one.", "person": "otto" }""")
            .RequireOperation(Operation.ReleaseLetters);

        var unsent = routes.MapGroup("/v1/unsent-letters").WithTags("Customers");
        unsent.MapGet("", UnsentLetters.All)
            .WithName("listUnsentLetters")
            .WithSummary("Letters that could not be sent, and whom somebody is to tell otherwise; the oldest first")
            .RequireOperation(Operation.ReadLetters);
        unsent.MapPost("told", UnsentLetters.Told)
            .WithName("tellUnsentLetter")
            .WithSummary("The desk has told them what the letter says, by telephone, by post or in person")
            .WithDescription("Told again, it is so already. The agenda's row ends with it.")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "letter": "J7K3MQ4T/quote-ready/1", "channel": "telephone", "person": "una" }""")
            .RequireOperation(Operation.TellUnsentLetters);
    }
}
