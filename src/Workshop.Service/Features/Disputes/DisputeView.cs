using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Disputes;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Disputes;

/// <summary>What a customer disputes, the evidence of both sides, and how it ended.</summary>
/// <param name="Dispute">1, 2, 3 … within the job.</param>
/// <param name="Claim">The claim it is about; absent where it is about none.</param>
/// <param name="Text">The customer's words, for those who may see names.</param>
/// <param name="Outcome">Absent while it stands.</param>
/// <param name="Because">The evidence the settlement rests on.</param>
/// <param name="ToldOn">The day the customer was told.</param>
/// <param name="Ours">How the watch left the house, or stands now.</param>
/// <param name="Theirs">What the customer told and showed, and how the watch came back.</param>
public sealed record DisputeView(
    Label Job, int Dispute, int? Claim, Instant OpenedAt, string? Text, ImmutableArray<string>? Photos, DisputeOutcome? Outcome, string? Reason, ImmutableArray<string>? Because, LocalDate? ToldOn,
    ImmutableArray<EvidenceItem> Ours, ImmutableArray<EvidenceItem> Theirs)
{
    public static DisputeView Of(Job job, IEnumerable<Entry> entries, Dispute one, ClaimEvidence evidence, Caller caller, Language language)
    {
        var counted = entries.Where(entry => entry.Counts).Select(entry => entry.Event).ToArray();
        var names = caller.MaySee(Sight.Names);
        var opened = counted.OfType<DisputeOpened>().LastOrDefault(told => told.Dispute == one.Number);
        var closed = counted.OfType<DisputeClosed>().LastOrDefault(told => told.Dispute == one.Number);
        return new DisputeView(
            job.Label, one.Number, one.Claim, one.OpenedAt, names ? opened?.Text : null, opened?.Photos, one.Outcome, names ? closed?.Reason : null, closed?.Because, one.ToldOn,
            EvidenceItem.Of(evidence.Ours, caller, language), EvidenceItem.Of(evidence.Theirs, caller, language));
    }
}
