using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>Writes down who somebody is; an intake does the same by itself.</summary>
public static class AddCustomer
{
    public static Task<Once<Results<Made<CustomerView>, ProblemHttpResult>>> Handle(JsonBody<CustomerDetails> body, Once once, Writer writer) =>
        once.Do(writer, body.Bytes, turn => Add(turn, body.Value));

    private static Results<Made<CustomerView>, ProblemHttpResult> Add(Turn turn, CustomerDetails details)
    {
        if (details.Faults("", turn.Rules.Calendar.DateOf(turn.Now)).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        // Ids sort by when they were made.
        var id = Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString();
        CustomerStore.Add(turn, id, details);
        var stored = CustomerStore.Find(turn, id)!;
        return Answer.Made($"/v1/customers/{id}", stored.Version, CustomerView.Of(stored));
    }
}
