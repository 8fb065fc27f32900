using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Warranties;

/// <summary>One line of the warranty as it stands on a day.</summary>
/// <param name="Covered">Whether a fault reported on that day falls under it; the last day included.</param>
/// <param name="LastDay">With what claims added, and rolled where the rule set says so.</param>
/// <param name="StartsOn">The day the term runs from: hand-over, the end of the time for collecting it, or delivery.</param>
/// <param name="Start">How that day was found.</param>
/// <param name="NominalLastDay">Before any extension.</param>
/// <param name="ExtensionDays">Days in the house that claims added.</param>
/// <param name="NewWorkLastDay">The last day of the work of claims, where that has one of its own.</param>
/// <param name="Rules">The rule set it is counted by, frozen at hand-over.</param>
/// <param name="FollowsTheWatch">Whether it goes to a new owner.</param>
/// <param name="Text">What it is worth in the words of the kind of work.</param>
/// <param name="Steps">How the last day comes about, one sentence a step.</param>
/// <param name="Why">The steps one after the other.</param>
/// <param name="Words">The answer in one sentence.</param>
public sealed record WarrantyLineView(
    string Line, bool Covered, LocalDate LastDay, LocalDate HandedOverOn, LocalDate StartsOn, WarrantyStart Start, LocalDate NominalLastDay, int ExtensionDays, LocalDate? NewWorkLastDay,
    string Rules, FollowsTheWatch FollowsTheWatch, string? Text, ImmutableArray<string> Steps, string Why, string Words)
{
    /// <param name="arrivesBy">The day by which the watch is to arrive for a report of that day to count; null where it has arrived, or need not.</param>
    public static WarrantyLineView Of(WarrantyLine line, LocalDate on, Language language, LocalDate? arrivesBy = null)
    {
        var covered = WarrantyArithmetic.Covered(line, on);
        var words = covered && arrivesBy is { } by ? Phrase.Of("Under warranty on {0}, if the watch then arrives by {1}; the last day is {2}.", new Spoken(on), new Spoken(by), new Spoken(line.LastDay))
            : covered ? Phrase.Of("Under warranty on {0}; the last day is {1}.", new Spoken(on), new Spoken(line.LastDay))
            : on < line.HandedOverOn ? Phrase.Of("Not under warranty on {0}: it was handed over on {1}.", new Spoken(on), new Spoken(line.HandedOverOn))
            : Phrase.Of("Not under warranty on {0}: the last day was {1}.", new Spoken(on), new Spoken(line.LastDay));
        var rules = line.Term.CountedBy;
        return new WarrantyLineView(
            line.Line, covered, line.LastDay, line.HandedOverOn, line.StartsOn, line.Term.Start, line.NominalLastDay, line.ExtensionDays, line.NewWorkLastDay,
            rules.Id, rules.FollowsTheWatch, line.Term.Text, [.. line.Steps.Select(step => step.In(language))], line.WhyIn(language), words.In(language));
    }

    /// <summary>Every line for a fault that is reported on a day.</summary>
    public static ImmutableArray<WarrantyLineView> Of(WarrantyBook book, LocalDate on, Language language) =>
        [.. book.Lines.Select(line => Of(
            line, on, language, line.Term.CountedBy.Claim.WatchArrivesWithin is { } within && WarrantyArithmetic.Covered(line, on) ? on + within : null))];
}

/// <summary>What the kind of work names and this job has no warranty on.</summary>
/// <param name="Words">Why.</param>
public sealed record WithoutWarrantyView(string Line, string? Text, string Words)
{
    public static ImmutableArray<WithoutWarrantyView> Of(Job job, Language language) =>
        job.Warranty.HandedOverOn is null || job.Standings.ReturnsUnrepaired ? []
        : [.. (job.Route?.Warranty ?? []).Where(offer => job.Warranty.Terms.All(term => term.Line != offer.Line)).Select(offer => new WithoutWarrantyView(
            offer.Line,
            offer.Text,
            (offer is { None: false, OnlyIf: { } stage } ? Phrase.Of("Promised only with {0}, which was not done or not passed.", stage) : Phrase.Of("This kind of work gives no warranty on it.")).In(language)))];
}

/// <summary>The day a parcel arrived, as far as the warranty goes.</summary>
public sealed record DeliveryDay(LocalDate On, DeliveryBasis Basis);

/// <summary>The warranty of a job on a day.</summary>
/// <param name="HandedOverOn">Absent while nothing has begun.</param>
/// <param name="DeliveredOn">The latest day on which its parcel was proven to be delivered.</param>
/// <param name="Delivery">For a parcel: the day the warranty runs from, and how sure it is. A later day that is told moves it, an earlier one never.</param>
/// <param name="Lines">None before hand-over, and for work that comes without a warranty.</param>
/// <param name="Without">What the kind of work names and gives no warranty on here.</param>
/// <param name="StatutoryRights">Said wherever warranty days are shown.</param>
public sealed record WarrantyView(
    Label Job, LocalDate On, LocalDate? HandedOverOn, LocalDate? DeliveredOn, DeliveryDay? Delivery, ImmutableArray<WarrantyLineView> Lines, ImmutableArray<WithoutWarrantyView> Without, string StatutoryRights);
