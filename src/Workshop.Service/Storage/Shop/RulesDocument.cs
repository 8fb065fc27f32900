using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Charts;
using Workshop.Core.Cleaning;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Insurance;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
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
using Workshop.Core.Shipments;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Service.Storage.Shop;

/// <summary>The shop's rules: strengths of gates and figures of the trade. What is left out is as usual in the trade.</summary>
public sealed record RulesDocument : IShopDocument
{
    /// <summary>Strengths that differ from the defaults, by gate or gate family, for example <c>needs/casing</c> or <c>intake</c>.</summary>
    public Dictionary<string, Strength> Gates { get; init; } = [];

    /// <summary>False where one person runs the shop alone: the final control is then their own.</summary>
    public bool SecondPersonAtFinalControl { get; init; } = true;

    /// <summary>Working time within which a piece that was given is taken.</summary>
    public Duration HandOffTakenWithin { get; init; } = ShopRules.HandOffTakenWithinUsually;

    /// <summary>What is right for each kind of movement; the usual ones where left out, none but these where given.</summary>
    [Length(1, 50)]
    public ImmutableArray<ToleranceKind> Tolerances { get; init; } = ToleranceKind.Usual;

    public MoneyRules Money { get; init; } = MoneyRules.Usual;

    /// <summary>How quotes are worded, how long they are good, and what the shop bears of a dearer part.</summary>
    public QuoteRules Quotes { get; init; } = QuoteRules.Usual;

    /// <summary>Carriers, and what they insure.</summary>
    public ShippingRules Shipping { get; init; } = ShippingRules.Usual;

    /// <summary>How days of warranty are counted: the shop's rule sets, and the one of every line that names none.</summary>
    public WarrantyRules Warranties { get; init; } = WarrantyRules.Usual;

    public AgendaRules Agenda { get; init; } = AgendaRules.Usual;

    public IntakeRules Intake { get; init; } = new();

    /// <summary>How large labels are printed, and on what sheets.</summary>
    public LabelRules Labels { get; init; } = LabelRules.Usual;

    /// <summary>What comes out before what when a movement is taken down.</summary>
    public TakedownRules Takedown { get; init; } = TakedownRules.Usual;

    public PromiseRules Promises { get; init; } = PromiseRules.Usual;

    /// <summary>What the pages of customers ask and say.</summary>
    public PublicRules PublicPages { get; init; } = PublicRules.Usual;

    public PartRules Parts { get; init; } = PartRules.Usual;

    public InsuranceRules Insurance { get; init; } = InsuranceRules.Usual;

    public PersonalDataRules PersonalData { get; init; } = PersonalDataRules.Usual;

    /// <summary>What may be washed in what and together with what, and how many runs a filling is good for.</summary>
    public CleaningRules Cleaning { get; init; } = CleaningRules.Usual;

    /// <summary>How a day on the wrist is spent, by which a rate is predicted.</summary>
    public TimekeepingRules Timekeeping { get; init; } = TimekeepingRules.Usual;

    /// <summary>How long recordings of watches are kept, and clocks of recorders good.</summary>
    public RecordingRules Recordings { get; init; } = RecordingRules.Usual;

    /// <summary>What functions a watch has to show, and what is right.</summary>
    public FunctionRules Functions { get; init; } = FunctionRules.Usual;

    /// <summary>What a reserve is judged by where nobody has written it down.</summary>
    public ReserveRules Reserve { get; init; } = ReserveRules.Usual;

    /// <summary>How watches are tested for tightness.</summary>
    public WaterRules Water { get; init; } = WaterRules.Usual;

    /// <summary>What a stopped watch makes one suspect, and what each test of it takes.</summary>
    public StopRules Stops { get; init; } = StopRules.Usual;

    /// <summary>When worn rates have limits, and within what time two instruments must have measured the same watch.</summary>
    public ChartRules Charts { get; init; } = ChartRules.Usual;

    /// <summary>How long an ordered watch is waited for.</summary>
    public OrderRules Orders { get; init; } = OrderRules.Usual;

    /// <summary>Figures of checks after wear that are the same for every kind of work.</summary>
    public WearCheckRules WearChecks { get; init; } = WearCheckRules.Usual;

    /// <summary>What is made of reports of customers.</summary>
    public WearReportRules WearReports { get; init; } = WearReportRules.Usual;

    /// <summary>When and by whom customers are written to.</summary>
    public LetterRules Messages { get; init; } = LetterRules.Usual;

    /// <summary>Gates whose strength no rule may change.</summary>
    public IEnumerable<string> FixedGates() => Gates.Keys.Where(gate => GateTable.Knows(gate) && GateTable.Of(gate).Fixed).Order(StringComparer.Ordinal);

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        foreach (var gate in Gates.Keys.Order(StringComparer.Ordinal))
        {
            if (!GateTable.Knows(gate))
            {
                yield return new Fault($"/gates{JsonFaults.Pointer(gate)}", $"There is no such gate; the families are {string.Join(", ", GateTable.All.Where(one => !one.Fixed).Select(one => one.Family))}");
            }
            else if (GateTable.Of(gate).Fixed)
            {
                yield return new Fault($"/gates{JsonFaults.Pointer(gate)}", "This gate is fixed: no rule of a shop changes it");
            }
        }

        if (HandOffTakenWithin < Duration.Zero)
        {
            yield return new Fault("/handOffTakenWithin", "This is less than nothing");
        }

        IEnumerable<Fault>[] ofAreas =
        [
            ToleranceKind.Faults(Tolerances, "/tolerances"), VariantFaults.Unnamed(this, check), Warranties.Faults("/warranties"), Agenda.Faults("/agenda"), Intake.Faults("/intake"),
            Labels.Faults("/labels"), Insurance.Faults("/insurance"), Cleaning.Faults("/cleaning"), Takedown.Faults("/takedown"), Timekeeping.Faults("/timekeeping"),
            WearChecks.Faults("/wearChecks"), Functions.Faults("/functions"), Reserve.Faults("/reserve"), Water.Faults("/water"), Stops.Faults("/stops"), Quotes.Faults("/quotes"), Shipping.Faults("/shipping"), Messages.Faults("/messages"),
            PublicPages.Faults("/publicPages"),
        ];
        foreach (var fault in ofAreas.SelectMany(faults => faults))
        {
            yield return fault;
        }

        foreach (var (i, one) in Warranties.RuleSets.Index().Where(one => one.Item.Roll.Calendar != RollRules.ShopCalendar && HolidayRegions.Find(one.Item.Roll.Calendar) is null))
        {
            yield return new Fault($"/warranties/ruleSets/{i}/roll/calendar", $"No holidays are known for '{one.Roll.Calendar}'; it is shop, or one of {string.Join(", ", HolidayRegions.All.Select(region => region.Id))}");
        }

        foreach (var route in check.Rules.Routes.Values.Where(route => Warranties.Unknown(route).Any()).OrderBy(route => route.Id, StringComparer.Ordinal))
        {
            yield return new Fault("/warranties/ruleSets", $"The kind of work '{route.Id}' names a rule set that is not here");
        }
    }
}
