using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Jobs;

/// <summary>The part of a job that the desk edits, with the ETag that a change of it needs.</summary>
public static class ReadIntake
{
    public static async Task<Results<Seen<IntakeView>, ProblemHttpResult>> Handle(string label, Caller caller, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        return await store.Intake(caller.Site, job, cancel) is { } part
            ? Answer.Seen(part.Version, IntakeView.Of(IntakeSheet.Read(part.Text), part.Version))
            : PathLabel.NoJob();
    }
}
