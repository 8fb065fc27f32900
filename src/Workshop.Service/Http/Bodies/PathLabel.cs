using System.Diagnostics.CodeAnalysis;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Http.Bodies;

/// <summary>A label in an address, as typed or scanned.</summary>
public static class PathLabel
{
    /// <summary>Reads the label of a job. What is no label is 400; the label of something else names no job.</summary>
    public static bool TryReadJob(string typed, out Label label, [NotNullWhen(false)] out ProblemHttpResult? refusal)
    {
        label = default;
        refusal = null;
        if (!Label.TryRead(typed, out var read))
        {
            refusal = Problems.Of(ProblemCatalogue.LabelUnreadable, "The label in the address cannot be read.");
            return false;
        }

        if (read.Value.Kind != LabelKind.Job)
        {
            refusal = NoJob();
            return false;
        }

        label = read.Value;
        return true;
    }

    /// <summary>404, also for what the key may not see.</summary>
    public static ProblemHttpResult NoJob() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no job with this label.");
}
