using Workshop.Core.Labels;

namespace Workshop.Service.Features.Jobs;

/// <summary>Where more about a job is found.</summary>
public sealed record JobLinks(string Self, string Intake, string History, string Quotes, string RateSets, string Recordings, string NextChecks, string Warranty, string Claims)
{
    public static JobLinks Of(Label label)
    {
        var self = $"/v1/jobs/{label}";
        return new JobLinks(
            self, $"{self}/intake", $"{self}/history", $"{self}/quotes", $"{self}/rate-sets", $"{self}/recordings", $"{self}/next-checks", $"{self}/warranty", $"{self}/claims");
    }
}
