using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Workshop.Core.Labels;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// A watch over the counter. Needed are one way to reach somebody and a few words about the watch; whatever else is not known yet is
/// asked for by the stage that needs it.
/// </summary>
public sealed record TakeInBody : IntakeMembers
{
    /// <summary>The id of a customer, or <c>{name?, telephone?, email?, address?, language?}</c> with one way to reach them.</summary>
    public required JsonElement Customer { get; init; }

    /// <summary>
    /// The id of a watch, or <c>{maker?, model?, reference?, caseSerial?, movementNumber?, words?, calibre?, madeInYear?, luminousPaint?,
    /// dialRemarks?, waterOrLeakInside?}</c>.
    /// </summary>
    public required JsonElement Watch { get; init; }

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

    /// <summary>The badge of whoever took it in.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}
