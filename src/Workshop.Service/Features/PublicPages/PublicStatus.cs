using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.PublicPage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// What a customer may see of their watch, whoever asks for it and whatever else is known. Every member is put in by hand from what the
/// house knows; nothing gets here by not being taken out. No person, bench, firm, supplier, lot, run, cage, place, declared value, cost,
/// hold, gate, waiver or number of tries has a member here. Dates are days of the shop's calendar.
/// </summary>
public record PublicStatus
{
    /// <summary>The label of the job.</summary>
    public required Label Reference { get; init; }

    /// <summary>When this was so.</summary>
    public required Instant AsOf { get; init; }

    /// <summary>Of the job; it grows with everything that happens to it.</summary>
    public required long Version { get; init; }

    /// <summary><c>en</c> or <c>de</c>: of the words in here.</summary>
    public required string Language { get; init; }

    public required PublicShop Shop { get; init; }

    public required PublicWatch Watch { get; init; }

    public required PublicStage Stage { get; init; }

    public LocalDate? Since { get; init; }

    /// <summary>What usually follows; absent at the end.</summary>
    public PublicStage? Next { get; init; }

    public required WaitingOn WaitingOn { get; init; }

    public WaitingFor? WaitingFor { get; init; }

    /// <summary>While it waits for a part, where a day is known.</summary>
    public LocalDate? PartExpectedOn { get; init; }

    /// <summary>Absent before the first promise and after hand-over.</summary>
    public PublicPromise? Promise { get; init; }

    /// <summary>What was reached, each stage once, in the order in which it was first reached.</summary>
    public ImmutableArray<PublicDone> Done { get; init; } = [];

    /// <summary>While an answer is asked for.</summary>
    public PublicDecision? Decision { get; init; }

    /// <summary>What was handed in with the watch.</summary>
    public ImmutableArray<PublicAccessory> Accessories { get; init; } = [];

    /// <summary>Photos that the desk has marked for the customer; none without a page of their own to be seen on.</summary>
    public ImmutableArray<PublicPhoto> Photos { get; init; } = [];

    /// <summary>What the house has written to the customer.</summary>
    public ImmutableArray<PublicNote> Notes { get; init; } = [];

    /// <summary>After the final control: the measurements the watch leaves by.</summary>
    public PublicTested? Tested { get; init; }

    public PublicReady? Ready { get; init; }

    public PublicShipment? Shipment { get; init; }

    /// <summary>After hand-over.</summary>
    public ImmutableArray<PublicWarranty> Warranty { get; init; } = [];

    /// <summary>The newest claim.</summary>
    public PublicClaim? Claim { get; init; }

    public required PublicLinks Links { get; init; }

    /// <summary>Views <c>status-and-amounts</c> and <c>decide</c>.</summary>
    public PublicAmounts? Amounts { get; init; }

    /// <summary>View <c>decide</c>, while the newest version waits for an answer.</summary>
    public PublicQuote? Quote { get; init; }
}

/// <summary>The shop as it presents itself.</summary>
/// <param name="OpeningHours">The usual week; nothing for a day on which it is closed.</param>
public sealed record PublicShop(string? Name, string? Telephone, string? Email, ImmutableArray<PublicHours> OpeningHours);

/// <param name="Day">Monday is <c>monday</c>.</param>
public sealed record PublicHours(string Day, LocalTime Opens, LocalTime Closes);

/// <summary>No digit of any number, no material, no value.</summary>
public sealed record PublicWatch(CalibreKind? Kind, string? Maker, string? Model);

/// <param name="By">The day by which it is ready.</param>
/// <param name="MostLikely">Absent where it is not before that day.</param>
/// <param name="Was">The date that was said before.</param>
/// <param name="MovedOn">The day on which it was moved.</param>
public sealed record PublicPromise(LocalDate By, LocalDate? MostLikely, LocalDate? Was, LocalDate? MovedOn, PromiseReason? Reason);

public sealed record PublicDone(PublicStage Stage, LocalDate On);

/// <param name="Quote">The version that is asked about.</param>
/// <param name="ValidThrough">The last day on which it can be answered.</param>
public sealed record PublicDecision(int Quote, LocalDate ValidThrough);

public sealed record PublicAccessory(PieceKind Kind, int Count);

/// <param name="Address">Below the address of the page.</param>
public sealed record PublicPhoto(string Address, LocalDate TakenOn);

public sealed record PublicNote(Instant At, string Text);

/// <param name="RatePerDaySeconds">Seconds gained a day as it was worn, by the check that passed; minus loses.</param>
/// <param name="PlusMinus">Expanded uncertainty (k = 2) of it.</param>
/// <param name="OverHours">Hours it was worn for that.</param>
/// <param name="WaterResistance">In words: tested to so many bar on a day, or not water resistant; absent where nobody says either.</param>
public sealed record PublicTested(decimal? RatePerDaySeconds, decimal? PlusMinus, decimal? OverHours, string? WaterResistance);

/// <param name="CollectWithin">Days within which the shop asks to collect it; absent where it says nothing of that.</param>
public sealed record PublicReady(LocalDate Since, int? CollectWithin);

public sealed record PublicShipment(string? Carrier, string? Number, LocalDate SentOn, LocalDate? DeliveredOn);

/// <param name="Words">What holds today, and what stays untouched by it.</param>
public sealed record PublicWarranty(string Line, LocalDate LastDay, string Words);

/// <summary>How far a claim has come.</summary>
public enum PublicClaimState
{
    Reported,
    Received,
    Decided,
}

/// <param name="Covered">Absent until it is decided.</param>
public sealed record PublicClaim(PublicClaimState State, bool? Covered, string Words);

/// <summary>Where the customer may write to, below the address of the page; absent where there is nothing to write.</summary>
public sealed record PublicLinks(string? Answer = null, string? WearReport = null, string? Claim = null);

/// <summary>Minor units of the currency, tax included.</summary>
/// <param name="QuotedMinor">The newest version of the quote.</param>
/// <param name="ApprovedMinor">What was agreed.</param>
/// <param name="PaidMinor">Less what went back.</param>
/// <param name="RefundMinor">Owed to the customer; absent where nothing is.</param>
public sealed record PublicAmounts(string? Currency, long? QuotedMinor, long? ApprovedMinor, long PaidMinor, long DueMinor, long? RefundMinor);
