using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Parties;

/// <summary>The people round a watch; the ETag is what a change of them needs.</summary>
public static class ReadParties
{
    public static async Task<Results<Seen<PartiesView>, ProblemHttpResult>> Handle(string label, Caller caller, JobStore store, Reader reader, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var view = await reader.Read(connection => PartiesView.Of(read.Job, id => CustomerStore.Find(connection, caller.Site, id)), cancel);
        return Answer.Seen(view.Version, view);
    }
}
