using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Parties;
using Workshop.Core.Shop;

namespace Workshop.Core.Letters;

/// <summary>Whether somebody can be and may be written to.</summary>
public sealed record LetterReader
{
    /// <summary>The customer's id.</summary>
    public required string Customer { get; init; }

    /// <summary>There is an address to write to.</summary>
    public bool HasEmail { get; init; }

    /// <summary>They allowed letters of this kind by e-mail.</summary>
    public ImmutableArray<LetterPermission> Allows { get; init; } = [];

    /// <summary>They are not to be reached, or by another way only.</summary>
    public bool NoContact { get; init; }

    public bool Deceased { get; init; }

    public bool CameBack { get; init; }

    /// <summary>They had a letter on this day already.</summary>
    public LocalDate? WrittenToOn { get; init; }
}

/// <summary>What becomes of something that is to be said: dropped, waiting, or to go now.</summary>
/// <param name="Until">When it is to be asked again, where that is known.</param>
public readonly record struct LetterJudgement(LetterDrop? Drop, LetterWait? Wait, Instant? Until)
{
    public bool Goes => Drop is null && Wait is null;

    internal static LetterJudgement Go => default;

    internal static LetterJudgement Falls(LetterDrop why) => new(why, null, null);

    internal static LetterJudgement Waits(LetterWait why, Instant? until) => new(null, why, until);
}

/// <summary>
/// Judged when it falls due, and again when it is sent: what can't go today is asked again tomorrow, what speaks against it first.
/// </summary>
public static class LetterJudge
{
    /// <param name="begun">It was judged to go before and is being sent: it grows too late no more.</param>
    public static LetterJudgement Of(LetterOccasion one, Job job, LetterReader reader, ShopRules rules, Instant now, bool begun = false)
    {
        var (calendar, letters) = (rules.Calendar, rules.Messages);
        var due = DueFor(one, job.Parties, reader.Customer, rules);
        if (one.Drop is { } why)
        {
            return LetterJudgement.Falls(why);
        }

        if (Against(one.Moment, reader) is { } against)
        {
            return LetterJudgement.Falls(against);
        }

        if (now < due)
        {
            return LetterJudgement.Waits(due == one.Due ? LetterWait.NotYet : LetterWait.Gift, due);
        }

        if (!begun && calendar.DateOf(now) > calendar.DateOf(due).PlusDays(letters.TooLateDays))
        {
            return LetterJudgement.Falls(LetterDrop.TooLate);
        }

        var today = calendar.DateOf(now);
        return job.Holds.Holds(HoldReason.Legal) ? LetterJudgement.Waits(LetterWait.Held, Morning(today.PlusDays(1), rules))
            : letters.IsQuiet(now.InZone(calendar.Zone).TimeOfDay) ? LetterJudgement.Waits(LetterWait.QuietHours, EndOfQuiet(now, rules))
            : reader.WrittenToOn == today ? LetterJudgement.Waits(LetterWait.OneADay, Morning(today.PlusDays(1), rules))
            : LetterJudgement.Go;
    }

    /// <summary>When it is due to somebody: to whom a gift is no secret from its day on only.</summary>
    public static Instant DueFor(LetterOccasion one, PartyBook parties, string customer, ShopRules rules) =>
        parties.NotBefore is { } day && customer != parties.Giver ? Instant.Max(one.Due, At(day, rules.Messages.RemindAt, rules)) : one.Due;

    /// <summary>A time of the shop's own day.</summary>
    public static Instant At(LocalDate day, LocalTime time, ShopRules rules) => (day + time).InZoneLeniently(rules.Calendar.Zone).ToInstant();

    private static LetterDrop? Against(LetterMoment moment, LetterReader reader) =>
        reader.Deceased ? LetterDrop.Deceased
        : reader.NoContact ? LetterDrop.NoContact
        : !reader.HasEmail ? LetterDrop.NoAddress
        : reader.CameBack ? LetterDrop.CameBack
        : !reader.Allows.Contains(LetterMoments.Of(moment).Permission) ? LetterDrop.NoPermission
        : null;

    private static Instant EndOfQuiet(Instant now, ShopRules rules)
    {
        var local = now.InZone(rules.Calendar.Zone);
        var today = At(local.Date, rules.Messages.QuietUntil, rules);
        return today > now ? today : At(local.Date.PlusDays(1), rules.Messages.QuietUntil, rules);
    }

    private static Instant Morning(LocalDate day, ShopRules rules) => At(day, rules.Messages.QuietUntil, rules);
}
