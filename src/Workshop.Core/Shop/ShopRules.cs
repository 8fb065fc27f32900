using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Charts;
using Workshop.Core.Cleaning;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Insurance;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Money;
using Workshop.Core.Orders;
using Workshop.Core.Parts;
using Workshop.Core.PersonalData;
using Workshop.Core.Promises;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Recordings;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Shipments;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Core.Shop;

/// <summary>Somebody of the house, as the shop's documents know them.</summary>
/// <param name="Id">A short name, for example <c>mara</c>; entries keep it.</param>
/// <param name="Badge">The label on the badge, where the person has one.</param>
/// <param name="LeftOn">The last day in the house, for somebody who left it.</param>
public sealed record ShopPerson(string Id, string Name, bool Manager, string? Badge = null, LocalDate? LeftOn = null)
{
    /// <summary>Whether the person is no longer of the house on a day.</summary>
    public bool HasLeft(LocalDate on) => LeftOn < on;
}

/// <summary>What a storefront sells, by its own name for it.</summary>
/// <param name="Source">Which storefront.</param>
public readonly record struct StorefrontProduct(string Source, string Product);

/// <summary>
/// The shop's own rules as they are in force: calendar, kinds of work, people, strengths of gates and figures.
/// One value with a version; entries keep the version they were judged by.
/// </summary>
public sealed record ShopRules
{
    public required long Version { get; init; }

    public required ShopCalendar Calendar { get; init; }

    public required FrozenDictionary<string, RouteDefinition> Routes { get; init; }

    /// <summary>People by id.</summary>
    public required FrozenDictionary<string, ShopPerson> People { get; init; }

    /// <summary>Strengths that differ from the defaults, by gate, or by gate family (<c>needs</c>, <c>hold</c>).</summary>
    public FrozenDictionary<string, Strength> GateStrengths { get; init; } = FrozenDictionary<string, Strength>.Empty;

    /// <summary>False where one person runs the shop alone: the final control is then their own.</summary>
    public bool SecondPersonAtFinalControl { get; init; } = true;

    /// <summary>Working time within which a piece that was given is taken. Common practice.</summary>
    public Duration HandOffTakenWithin { get; init; } = HandOffTakenWithinUsually;

    public static readonly Duration HandOffTakenWithinUsually = Duration.FromHours(2);

    /// <summary>Where money is kept.</summary>
    public MoneyRules Money { get; init; } = MoneyRules.Usual;

    /// <summary>How quotes are worded, how long they are good, and what the shop bears of a dearer part.</summary>
    public QuoteRules Quotes { get; init; } = QuoteRules.Usual;

    /// <summary>Carriers, and what they insure.</summary>
    public ShippingRules Shipping { get; init; } = ShippingRules.Usual;

    /// <summary>How days of warranty are counted.</summary>
    public WarrantyRules Warranties { get; init; } = WarrantyRules.Usual;

    /// <summary>Public holidays by the id of their region; under <c>shop</c> those of the shop's own.</summary>
    public FrozenDictionary<string, ImmutableSortedSet<LocalDate>> PublicHolidays { get; init; } = FrozenDictionary<string, ImmutableSortedSet<LocalDate>>.Empty;

    public ImmutableArray<string> Benches { get; init; } = [];

    public IntakeRules Intake { get; init; } = new();

    /// <summary>How labels are printed.</summary>
    public LabelRules Labels { get; init; } = LabelRules.Usual;

    /// <summary>What comes out before what.</summary>
    public TakedownRules Takedown { get; init; } = TakedownRules.Usual;

    /// <summary>Open days until a piece usually is back from a firm, by the firm's id, where the shop has said so.</summary>
    public FrozenDictionary<string, int> FirmWorkingDays { get; init; } = FrozenDictionary<string, int>.Empty;

    /// <summary>After what time things are worth a line on the agenda.</summary>
    public AgendaRules Agenda { get; init; } = AgendaRules.Usual;

    /// <summary>What may be washed in what, and how long fluids last.</summary>
    public CleaningRules Cleaning { get; init; } = CleaningRules.Usual;

    /// <summary>Machines, programmes and cages.</summary>
    public CleaningRoom CleaningRoom { get; init; } = CleaningRoom.Empty;

    /// <summary>How promised dates are forecast and moved.</summary>
    public PromiseRules Promises { get; init; } = PromiseRules.Usual;

    /// <summary>What the pages of customers ask and say.</summary>
    public PublicRules PublicPages { get; init; } = PublicRules.Usual;

    /// <summary>How long parts usually take.</summary>
    public PartRules Parts { get; init; } = PartRules.Usual;

    /// <summary>The safe, the evening list, and what the shop's policy covers.</summary>
    public InsuranceRules Insurance { get; init; } = InsuranceRules.Usual;

    /// <summary>How long it is kept who people are.</summary>
    public PersonalDataRules PersonalData { get; init; } = PersonalDataRules.Usual;

    /// <summary>How rates are looked at.</summary>
    public TimekeepingRules Timekeeping { get; init; } = TimekeepingRules.Usual;

    /// <summary>How long recordings are kept, and clocks of recorders good.</summary>
    public RecordingRules Recordings { get; init; } = RecordingRules.Usual;

    /// <summary>What functions a watch has to show, and what is right.</summary>
    public FunctionRules Functions { get; init; } = FunctionRules.Usual;

    /// <summary>What a reserve is judged by.</summary>
    public ReserveRules Reserve { get; init; } = ReserveRules.Usual;

    /// <summary>How watches are tested for tightness.</summary>
    public WaterRules Water { get; init; } = WaterRules.Usual;

    /// <summary>What a stopped watch makes one suspect.</summary>
    public StopRules Stops { get; init; } = StopRules.Usual;

    /// <summary>How worn rates are charted, and instruments held against each other.</summary>
    public ChartRules Charts { get; init; } = ChartRules.Usual;

    /// <summary>How long an ordered watch is waited for.</summary>
    public OrderRules Orders { get; init; } = OrderRules.Usual;

    /// <summary>Figures of checks after wear.</summary>
    public WearCheckRules WearChecks { get; init; } = WearCheckRules.Usual;

    /// <summary>What is made of reports of customers.</summary>
    public WearReportRules WearReports { get; init; } = WearReportRules.Usual;

    /// <summary>When and by whom customers are written to.</summary>
    public LetterRules Messages { get; init; } = LetterRules.Usual;

    /// <summary>Tolerance kinds by name.</summary>
    public FrozenDictionary<string, ToleranceKind> Tolerances { get; init; } = ToleranceKind.UsualByName;

    /// <summary>The usual kind of work by the kind of calibre (<c>automatic</c>, <c>quartz</c> …).</summary>
    public FrozenDictionary<string, string> UsualVariants { get; init; } = FrozenDictionary<string, string>.Empty;

    /// <summary>The kind of work behind what a storefront sells.</summary>
    public FrozenDictionary<StorefrontProduct, string> VariantsOfProducts { get; init; } = FrozenDictionary<StorefrontProduct, string>.Empty;

    /// <summary>The window a worn check is judged by: the kind of work's own, else that of its tolerance kind.</summary>
    public RateWindow? WornWindowOf(RouteDefinition route) => route.WornRate ?? ToleranceOf(route)?.Worn();

    /// <summary>The tolerance of a kind of work: its own, else the calibre's, else the shop's usual one.</summary>
    /// <param name="ofCalibre">What the calibre's document names.</param>
    public ToleranceKind? ToleranceOf(RouteDefinition? route, string? ofCalibre = null) =>
        new[] { route?.CalibreToleranceFirst == true ? ofCalibre : null, route?.ToleranceKind, ofCalibre, route?.Quartz == true ? null : Timekeeping.UsualTolerance }
            .Select(named => named is null ? null : Tolerances.GetValueOrDefault(named))
            .FirstOrDefault(known => known is not null);

    /// <summary>Finds a person by badge or by id.</summary>
    public ShopPerson? PersonBehind(string? badgeOrId) =>
        badgeOrId is null ? null
        : People.TryGetValue(badgeOrId, out var person) ? person
        : People.Values.FirstOrDefault(one => string.Equals(one.Badge, badgeOrId, StringComparison.OrdinalIgnoreCase));
}
