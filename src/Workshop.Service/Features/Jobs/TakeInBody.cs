using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// A watch over the counter. Needed are one way to reach somebody and a few words about the watch; whatever else is not known yet is
/// asked for by the stage that needs it.
/// </summary>
public sealed record TakeInBody : IntakeMembers
{
    /// <summary>
    /// The id of a customer, or <c>{name?, telephone?, email?, address?, language?, consents?, contact?, contactBy?}</c> with one way to
    /// reach them.
    /// </summary>
    public required JsonElement Customer { get; init; }

    /// <summary>
    /// The id of a watch, or <c>{maker?, model?, reference?, caseSerial?, movementNumber?, words?, calibre?, madeInYear?, luminousPaint?,
    /// dialRemarks?, waterOrLeakInside?}</c>.
    /// </summary>
    public required JsonElement Watch { get; init; }

    /// <summary>The kind of work; where it is left out it follows from the calibre's kind.</summary>
    [StringLength(60)]
    public string? Variant { get; init; }

    [Length(0, 50)]
    public ImmutableArray<Accessory> Accessories { get; init; } = [];

    /// <summary>Ids of cautions that are known to apply; those to be suspected come by themselves.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Hazards { get; init; } = [];

    /// <summary>Gates that ask and are to be passed: <c>fixed-date</c>.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Despite { get; init; } = [];

    /// <summary>The badge of whoever took it in.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}
