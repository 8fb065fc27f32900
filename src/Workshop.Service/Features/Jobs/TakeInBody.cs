using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// A watch over the counter. Needed are one way to reach somebody and a few words about the watch; whatever else is not known yet is
/// asked for by the stage that needs it.
/// </summary>
public sealed record TakeInBody : IntakeMembers
{
    /// <summary>
    /// The id of a customer, or <c>{name?, telephone?, email?, address?, language?, consents?, contact?, contactBy?}</c> with one way to
    /// reach them. Left out for an expected watch: its customer.
    /// </summary>
    public JsonElement? Customer { get; init; }

    /// <summary>
    /// The id of a watch, or <c>{maker?, model?, reference?, caseSerial?, movementNumber?, words?, calibre?, madeInYear?, luminousPaint?,
    /// dialRemarks?, waterOrLeakInside?}</c>. Left out for an expected watch: what the customer wrote of it.
    /// </summary>
    public JsonElement? Watch { get; init; }

    /// <summary>The label under which the watch was expected; what was ordered stands for what is left out here.</summary>
    public Label? Expected { get; init; }

    /// <summary>The blank label that is on the watch already, of an intake card or a sheet; one is given out where it is left out.</summary>
    public Label? Label { get; init; }

    /// <summary>The kind of work; where it is left out it follows from the calibre's kind.</summary>
    [StringLength(60)]
    public string? Variant { get; init; }

    /// <summary>For a watch that comes back under warranty: the label of the job it was handed over with; the kind of work is then <c>warranty-return</c>.</summary>
    public Label? WarrantyOf { get; init; }

    [Length(0, 50)]
    public ImmutableArray<Accessory> Accessories { get; init; } = [];

    /// <summary>Ids of cautions that are known to apply; those to be suspected come by themselves.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Hazards { get; init; } = [];

    /// <summary>For a manager: an open job of the paper book that begins here midway.</summary>
    public AdoptedBody? Adopted { get; init; }

    /// <summary>Gates that ask and are to be passed: <c>fixed-date</c>.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Despite { get; init; } = [];

    /// <summary>The badge of whoever took it in.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>What the paper book says of an open job.</summary>
public sealed record AdoptedBody
{
    private const int YearsOpenAtMost = 20;

    /// <summary>The day the watch came.</summary>
    public required LocalDate TakenInOn { get; init; }

    /// <summary>The stage it is in now; what the route has before it counts as done before our records.</summary>
    public required Stage At { get; init; }

    /// <summary>The day the customer was told; it may be over.</summary>
    public LocalDate? PromisedOn { get; init; }

    /// <summary>The number in the paper book; the same as the job's <c>ownNumber</c>.</summary>
    [StringLength(60)]
    public string? OwnNumber { get; init; }

    /// <summary>What the customer agreed to, in minor units.</summary>
    [Range(0, 1_000_000_000_000)]
    public long? QuotedMinor { get; init; }

    /// <summary>Days that no paper book of an open job holds; the rest is asked of the route and the calendar.</summary>
    /// <param name="today">In the workshop's own calendar.</param>
    public IEnumerable<Fault> Faults(LocalDate today)
    {
        if (TakenInOn < today.PlusYears(-YearsOpenAtMost))
        {
            yield return new Fault("/adopted/takenInOn", $"No job is open for more than {YearsOpenAtMost} years");
        }

        if (PromisedOn > today.PlusYears(YearsOpenAtMost))
        {
            yield return new Fault("/adopted/promisedOn", $"Nothing is promised for more than {YearsOpenAtMost} years ahead");
        }
    }

    /// <param name="ownNumber">The job's, as it is kept.</param>
    public Adopted Read(string? ownNumber) => new()
    {
        TakenInOn = TakenInOn,
        At = At,
        PromisedOn = PromisedOn,
        OwnNumber = ownNumber,
        QuotedMinor = QuotedMinor,
    };
}
