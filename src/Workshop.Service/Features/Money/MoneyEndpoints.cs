using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Money;

public static class MoneyEndpoints
{
    private const string Account = """
        { "job": "J7K3MQ4T", "words": "280.00 GBP still to be paid of 480.00 GBP", "kept": "here", "currency": "GBP", "askedMinor": 48000, "paidMinor": 20000, "refundedMinor": 0, "dueMinor": 28000, "refundMinor": 0, "onAccount": false, "settled": false,
          "lines": [ { "at": "2026-03-03T09:00:00Z", "what": "agreed", "number": 1, "amountMinor": 48000, "dueMinor": 48000 },
                     { "at": "2026-03-03T09:05:00Z", "what": "deposit", "number": 1, "amountMinor": 20000, "dueMinor": 28000, "how": "card", "reference": "R-1042" } ], "version": 9 }
        """;

    public static void MapMoney(this IEndpointRouteBuilder routes)
    {
        var money = routes.MapGroup("/v1/jobs/{label}").WithTags("Money");
        money.MapPost("payments", RecordPayment.Handle)
            .WithSummary("Write down that money changed hands")
            .WithDescription("Nothing is charged. Where the shop keeps its money here, a balance of nothing settles the job once what is owed is final.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "proof" or "proof-locked")])
            .WithExample("""{ "kind": "deposit", "amountMinor": 20000, "currency": "GBP", "how": "card", "reference": "R-1042" }""", Account)
            .RequireOperation(Operation.RecordPayments);
        money.MapPost("payments/{payment}/correction", CorrectPayment.Handle)
            .WithSummary("Say that a payment was written down wrong")
            .WithDescription("It counts no longer, and stays visible with its correction; write down what is right as a payment of its own.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "proof" or "proof-locked")])
            .WithExample("""{ "reason": "typed a nought too many" }""", Account)
            .RequireOperation(Operation.RecordPayments);
        money.MapGet("account", ReadAccount.Handle)
            .WithSummary("What was agreed, paid and is still owed")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample(answer: Account)
            .RequireOperation(Operation.ReadAccounts);
        money.MapPut("account", ChangeAccount.Handle)
            .WithSummary("Say that the job is on account, or no longer, and what is asked for work without a quote")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "proof" or "proof-locked")])
            .WithExample("""{ "onAccount": true, "reason": "pays at the end of the month, as always" }""", Account)
            .RequireOperation(Operation.RecordPayments);
    }
}
