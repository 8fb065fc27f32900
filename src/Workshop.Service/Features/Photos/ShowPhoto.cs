using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Photos;

public sealed record PhotoShownBody
{
    /// <summary>The customer sees it on their page. None is shown unless somebody says so: what lies beside a watch is another customer's.</summary>
    public required bool ForCustomer { get; init; }
}

/// <summary>The desk marks a photo for the customer, or takes the mark away.</summary>
public static class ShowPhoto
{
    public static async Task<Results<Done<PhotoView>, ProblemHttpResult>> Handle(string label, string sha256, JsonBody<PhotoShownBody> body, Caller caller, Writer writer, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        var shown = !HashName.Is(sha256) ? null : await writer.Turn(
            caller.Site, turn => PhotoStore.Show(turn, job, sha256, body.Value.ForCustomer) ? PhotoStore.Find(turn, job, sha256) : null, cancel);
        return shown is null ? Problems.Of(ProblemCatalogue.NoSuchThing, "This photo has not come yet, or belongs to another job.") : Answer.Done(PhotoView.Of(shown));
    }
}
