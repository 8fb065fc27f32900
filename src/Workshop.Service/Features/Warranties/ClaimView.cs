using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Warranties;

/// <summary>Something that was offered in a quote and declined.</summary>
/// <param name="Quote">The version.</param>
/// <param name="Line">Its id in that version.</param>
/// <param name="AmountMinor">For those who may see amounts; minor units, tax included.</param>
/// <param name="Recommended">The workshop had advised it; absent where it had not.</param>
/// <param name="DeclinedOn">The day in the workshop's own calendar.</param>
public sealed record DeclinedView(int Quote, string Line, string Text, long? AmountMinor, bool? Recommended, LocalDate DeclinedOn);

/// <summary>A fault reported under warranty, and what became of it.</summary>
public sealed record ClaimView
{
    public required Label Job { get; init; }

    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Claim { get; init; }

    public required LocalDate ReportedOn { get; init; }

    public LocalDate? ReceivedOn { get; init; }

    public LocalDate? ReturnedOn { get; init; }

    /// <summary>The customer's words, for those who may see names.</summary>
    public string? Text { get; init; }

    /// <summary>Absent until a manager has decided.</summary>
    public bool? Covered { get; init; }

    /// <summary>The warranty lines the decision is about.</summary>
    public ImmutableArray<string>? Lines { get; init; }

    public string? Reason { get; init; }

    /// <summary>What was put right free of charge although it is not covered.</summary>
    public string? Goodwill { get; init; }

    public Instant? DecidedAt { get; init; }

    /// <summary>The evidence the decision rests on, of both sides; absent where it names none.</summary>
    public ImmutableArray<string>? Because { get; init; }

    /// <summary>The evidence did not decide it, so it was decided for the customer; absent otherwise.</summary>
    public bool? InDoubt { get; init; }

    /// <summary>Where the fault lies.</summary>
    public WatchSystem? System { get; init; }

    /// <summary>The same fault again, or another; absent until it is covered.</summary>
    public Comeback? Comeback { get; init; }

    /// <summary>The job under which the watch came back.</summary>
    public Label? Back { get; init; }

    /// <summary>What was offered and declined: what wears there is not the workshop's.</summary>
    public required ImmutableArray<DeclinedView> Declined { get; init; }

    /// <summary>The day by which the watch is to arrive for the report to count; later, the day it arrives counts.</summary>
    public LocalDate? ArrivesBy { get; init; }

    /// <summary>The day that decides whether the claim is in time.</summary>
    public LocalDate? CountsOn { get; init; }

    /// <summary>The warranty on the day that counts, with the days that claims have added since.</summary>
    public required ImmutableArray<WarrantyLineView> Warranty { get; init; }

    public required string StatutoryRights { get; init; }

    public static ClaimView Of(Job job, IEnumerable<Entry> entries, Claim claim, ShopCalendar calendar, Caller caller, Language language)
    {
        var names = caller.MaySee(Sight.Names);
        var text = names ? entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<ClaimReported>().LastOrDefault(one => one.Claim == claim.Number)?.Text : null;
        var told = claim.ForTheLines();
        var rules = (job.Warranty.Terms.IsEmpty ? WarrantyRuleSet.ShopDefault : job.Warranty.Terms[0].CountedBy).Claim;
        return new ClaimView
        {
            Job = job.Label,
            Claim = claim.Number,
            ReportedOn = claim.ReportedOn,
            ReceivedOn = claim.ReceivedOn,
            ReturnedOn = claim.Stay?.ReturnedOn,
            Text = text,
            Covered = claim.Covered,
            Lines = claim.Lines,
            Reason = names ? claim.Reason : null,
            Goodwill = claim.Goodwill,
            DecidedAt = claim.DecidedAt,
            Because = claim.Because.IsEmpty ? null : claim.Because,
            InDoubt = claim.InDoubt ? true : null,
            System = claim.System,
            Comeback = claim.Comeback,
            Back = claim.Job,
            Declined = [.. DeclinedLine.Of(job, entries).Select(line => new DeclinedView(
                line.Version, line.Line, line.Text, caller.MaySee(Sight.Amounts) ? line.AmountMinor : null, line.Recommended ? true : null, calendar.DateOf(line.At)))],
            ArrivesBy = told.ArrivesBy(rules),
            CountsOn = told.DayThatCounts(rules),
            Warranty = [.. job.Warranty.Lines.Select(line => Of(line, told, language))],
            StatutoryRights = job.Warranty.SentenceIn(language),
        };
    }

    private static WarrantyLineView Of(WarrantyLine line, WarrantyClaim told, Language language)
    {
        var rules = line.Term.CountedBy.Claim;
        return WarrantyLineView.Of(line, told.DayThatCounts(rules)!.Value, language, told.ArrivedOn is null ? told.ArrivesBy(rules) : null);
    }
}
