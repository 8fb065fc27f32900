using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Hazards;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// The watch is in the house: it gets its label, customer and watch their rows, the journal its first entry. Names and amounts stay in
/// tables of their own; the entry holds what the rules need.
/// </summary>
public static class TakeInJob
{
    internal const string WarrantyReturn = "warranty-return";

    /// <summary>These are always there; what is counted comes on top.</summary>
    private static readonly PieceKind[] OfEveryWatch = [PieceKind.Movement, PieceKind.Case, PieceKind.DialAndHands];

    public static Task<Once<Results<Made<TakenIn>, ProblemHttpResult>>> Handle(JsonBody<TakeInBody> body, Once once, Caller caller, Writer writer) =>
        once.Do(writer, body.Bytes, turn => TakeIn(turn, body.Value, caller));

    internal static Results<Made<TakenIn>, ProblemHttpResult> TakeIn(Turn turn, TakeInBody body, Caller caller)
    {
        if (body.Adopted is not null && caller.Role != Role.Manager)
        {
            return Problems.Of(ProblemCatalogue.NotForThisRole, "Jobs of the paper book are taken over by a manager.", ("roles", Roles.Manager.Select(Word.Of).ToArray()));
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var ownNumber = Said(body.OwnNumber) ?? Said(body.Adopted?.OwnNumber);
        var adopted = body.Adopted?.Read(ownNumber);
        var (expected, notExpected) = ExpectedAtDesk.Find(turn, body.Expected);
        if (notExpected is not null)
        {
            return notExpected;
        }

        body = expected?.Fill(body) ?? body;
        var (customer, customerFaults) = ExpectedAtDesk.Read<CustomerDetails>(body.Customer, "/customer");
        var (watch, watchFaults) = ExpectedAtDesk.Read<WatchDetails>(body.Watch, "/watch");
        var knownWatch = watch?.Id is { } watchId ? WatchStore.Find(turn, watchId) : null;
        var facts = watch?.Described is { } described ? WatchFacts.Of(described) : knownWatch?.ReadFacts();
        var serialNow = watch?.Described?.CaseSerial ?? knownWatch?.CaseSerial;
        var differs = expected?.Differs(body.Variant, facts?.Calibre?.Kind, serialNow) ?? [];
        var (variant, assumed) = VariantOf(body.Variant ?? (body.WarrantyOf is null ? expected?.VariantUnless(differs) : WarrantyReturn), facts?.Calibre?.Kind, turn.Rules);
        if (expected?.IsHere(serialNow) is { } here)
        {
            return here;
        }

        Fault[] faults =
        [
            .. customerFaults,
            .. watchFaults,
            .. customer?.Described?.Faults("/customer", today) ?? [],
            .. watch?.Described?.Faults("/watch", today) ?? [],
            .. customer?.Id is { } id && CustomerStore.Find(turn, id) is null ? [new Fault("/customer", "There is no customer with this id")] : Array.Empty<Fault>(),
            .. watch?.Id is not null && knownWatch is null ? [new Fault("/watch", "There is no watch with this id")] : Array.Empty<Fault>(),
            .. variant is null ? [NoSuchVariant(turn.Rules)] : Array.Empty<Fault>(),
            .. WarrantyFaults(turn, body, variant),
            .. body.Faults(today),
            .. body.Adopted?.Faults(today) ?? [],
            .. adopted?.Faults(variant is null ? null : turn.Rules.Routes[variant], today) ?? [],
            .. OwnFaults(body, today),
        ];
        if (faults.Length > 0)
        {
            return Problems.BadFields(faults);
        }

        var route = turn.Rules.Routes[variant!];
        var fixedDay = body.Wishes?.FixedDate;

        // What was said when a watch of the paper book came in is said.
        var reachable = fixedDay is null || adopted is not null ? null : FixedDates.Reachable(turn, route);
        if (FixedDates.Against(turn, fixedDay, reachable, body.Despite) is { } no)
        {
            return no;
        }

        // Before anything is kept: what refuses now would leave a customer behind.
        var label = body.Label ?? turn.DrawLabel(LabelKind.Job, drawn => StreamEntry.OfJob(drawn));
        if (body.Label is not null && !turn.BindLabel(label, StreamEntry.OfJob(label)))
        {
            return Problems.Of(ProblemCatalogue.LabelBound, $"{label} is on something else already.", ("label", label.ToString()));
        }

        var customerId = customer!.Id ?? KeepCustomer(turn, customer.Described!);
        var watchIdNow = KeepWatch(turn, watch!, knownWatch, customerId);
        var caseSerial = watch!.Described?.CaseSerial ?? knownWatch?.CaseSerial;
        var movementNumber = watch.Described?.MovementNumber ?? knownWatch?.MovementNumber;
        var decision = DeskCommand.Say(
            turn,
            new JobHistory(new Job { Label = label }, () => []),
            caller,
            new JobTakenIn
            {
                Variant = variant!,
                Customer = customerId,
                Watch = watchIdNow,
                CaseSerial = Said(caseSerial),
                MovementNumber = Said(movementNumber),
                Missing = IntakeNeeds.Missing(KnownOf(body, CustomerStore.Find(turn, customerId)!), body.Wishes?.Polish, route, adopted?.At),
                Counted = [.. body.Accessories.Select(one => new CountedPiece(one.Kind, one.Count))],
                Hazards = [.. HazardsOf(body, facts!).Union(HazardsOf(route, facts!))],
                WarrantyOf = body.WarrantyOf,
                FixedDate = fixedDay,
                Polish = body.Wishes?.Polish,
                Adopted = adopted,
                Ordered = expected?.OrderedAs(differs),
            },
            body.Person,
            body.Despite);
        if (body.WarrantyOf is { } old)
        {
            ClaimStays.Came(turn, old, label, turn.Rules.Calendar.DateOf(decision.Job.Intake.TakenInAt ?? turn.Now), caller, body.Person);
        }

        // Nobody at the desk is told; the managers are.
        if (RegisterHitStore.Find(turn, watchIdNow) is { ClearedAt: null })
        {
            DeskCommand.Say(turn, turn.History(label)!, caller, new HoldPlaced { Hold = HoldReason.Legal, Reason = RegisterHitStore.HoldReason }, person: null);
        }

        var sameCustomer = expected?.Taken(label, customerId, caseSerial) ?? [];
        turn.SaveIntake(label, new IntakeSheet { Members = MembersOf(body, ownNumber), Accessories = body.Accessories, VariantAssumed = assumed }.Write(), ownNumber);
        turn.Outside.TakenIn(turn, label);

        if (customer?.Id is not null)
        {
            PartyStandings.TellIfAny(turn, label, CustomerStore.Find(turn, customerId)!);
        }

        // What the order was paid and what is known of the customer stand in the job by now.
        var job = turn.History(label)!.Job;
        return Answer.Made($"/v1/jobs/{label}", turn.Intake(label)!.Version, new TakenIn
        {
            Label = label,
            Version = job.Version,
            Variant = variant!,
            VariantAssumed = assumed,
            Stage = job.Standings.Current,
            Customer = customerId,
            Watch = watchIdNow,
            Missing = job.Intake.Missing,
            Cautions = [.. job.Intake.Hazards.Select(one => Hazard.All[one])],
            SameNumbers = [.. new[] { caseSerial, movementNumber }.OfType<string>().Select(number => turn.OtherJobWithNumber(number, label)).OfType<Label>().Distinct()],
            SameOwnNumber = SearchStore.OthersWithOwnNumber(turn, ownNumber, label),
            FixedDate = FixedDates.Shown(fixedDay, reachable),
            DiffersFromOrder = differs,
            ExpectedBesides = sameCustomer,
            Links = JobLinks.Of(label),
        });
    }

    private static IEnumerable<Fault> OwnFaults(TakeInBody body, LocalDate today)
    {
        foreach (var (i, one) in body.Accessories.Index().Where(pair => OfEveryWatch.Contains(pair.Item.Kind)))
        {
            yield return new Fault($"/accessories/{i}/kind", "Movement, case, dial and hands belong to every watch and are not counted");
        }

        if (body.Label is { Kind: not LabelKind.Job })
        {
            yield return new Fault("/label", "A watch's label begins with J");
        }

        foreach (var (i, one) in body.Hazards.Index().Where(pair => !Hazard.All.ContainsKey(pair.Item)))
        {
            yield return new Fault($"/hazards/{i}", $"This is none of {string.Join(", ", Hazard.All.Keys.Order(StringComparer.Ordinal))}");
        }

        if (Said(body.OwnNumber) is { } own && Said(body.Adopted?.OwnNumber) is { } inTheBook && own != inTheBook)
        {
            yield return new Fault("/adopted/ownNumber", "This is another number than the job's own");
        }

        if (body.LabelScannedBack is not null)
        {
            yield return new Fault("/labelScannedBack", "The label is given out by this very request; it is read back afterwards");
        }

        if (body.Wishes?.FixedDate < today)
        {
            yield return new Fault("/wishes/fixedDate", $"This day is over; today is {today:uuuu-MM-dd}");
        }
    }

    private static IEnumerable<Fault> WarrantyFaults(Turn turn, TakeInBody body, string? variant)
    {
        if (body.WarrantyOf is { } old)
        {
            if (turn.History(old)?.Job is not { } job)
            {
                yield return new Fault("/warrantyOf", "There is no job with this label");
            }
            else if (!job.Standings.HandedOver)
            {
                yield return new Fault("/warrantyOf", "This job is still in the house");
            }
        }
        else if (variant == WarrantyReturn)
        {
            yield return new Fault("/warrantyOf", "A warranty return names the job it comes from");
        }
    }

    /// <summary>As said, else by the calibre's kind, else the usual work; null where the shop does not do that.</summary>
    private static (string? Variant, bool Assumed) VariantOf(string? said, CalibreKind? kind, ShopRules rules)
    {
        if (said is not null)
        {
            return (rules.Routes.ContainsKey(said) ? said : null, false);
        }

        var usual = kind is { } known ? rules.UsualVariants.GetValueOrDefault(Word.Of(known)) : null;
        return usual is not null && rules.Routes.ContainsKey(usual)
            ? (usual, false)
            : (rules.Routes.ContainsKey("full-automatic") ? "full-automatic" : rules.Routes.Keys.Min(StringComparer.Ordinal), true);
    }

    private static Fault NoSuchVariant(ShopRules rules) =>
        new("/variant", $"The shop's kinds of work are {string.Join(", ", rules.Routes.Keys.Order(StringComparer.Ordinal))}");

    internal static HashSet<string> KnownOf(IntakeMembers members, StoredCustomer? customer) =>
        [.. members.Known(), .. customer?.SaidHowToWrite == true ? [IntakeMember.Consents] : Array.Empty<string>()];

    private static ImmutableArray<string> HazardsOf(TakeInBody body, WatchFacts facts) =>
    [
        .. Hazard.Suspected(
                facts.MadeInYear, facts.LuminousPaint, string.Join(' ', facts.DialRemarks, facts.Words, body.Condition, body.Remarks),
                facts.WaterOrLeakInside == true, facts.Calibre?.Kind == CalibreKind.Quartz)
            .Concat(body.Hazards).Distinct(),
    ];

    /// <summary>What a kind of work adds: paint that nobody has looked at is taken for radium until somebody has.</summary>
    internal static ImmutableArray<string> HazardsOf(RouteDefinition route, WatchFacts facts) =>
        route.RadiumSuspectedUntilLooked == true && facts.LuminousPaint is null ? [Hazard.RadiumSuspected] : [];

    private static string KeepCustomer(Turn turn, CustomerDetails details)
    {
        var id = DeskCommand.NewId(turn);
        CustomerStore.Add(turn, id, details);
        return id;
    }

    private static string KeepWatch(Turn turn, KnownOrNew<WatchDetails> watch, StoredWatch? known, string customer)
    {
        if (known is null)
        {
            var id = DeskCommand.NewId(turn);
            WatchStore.Add(turn, id, customer, watch.Described!);
            return id;
        }

        if (known.CustomerId != customer)
        {
            WatchStore.ChangeOwner(turn, known.Id, customer);
        }

        return known.Id;
    }

    private static IntakeMembers MembersOf(TakeInBody body, string? ownNumber) => new()
    {
        DeclaredValueMinor = body.DeclaredValueMinor,
        Currency = body.Currency,
        Wishes = body.Wishes,
        Condition = body.Condition,
        ConditionGrid = body.ConditionGrid,
        Arrival = body.Arrival,
        OwnNumber = ownNumber,
        Remarks = body.Remarks,
        Terms = body.Terms,
    };

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

/// <summary>A watch that was taken in just now.</summary>
public sealed record TakenIn
{
    public required Label Label { get; init; }

    public required long Version { get; init; }

    public required string Variant { get; init; }

    /// <summary>Nobody said what kind of work it is: look again before the diagnosis.</summary>
    public required bool VariantAssumed { get; init; }

    public Stage? Stage { get; init; }

    /// <summary>The customer's id.</summary>
    public required string Customer { get; init; }

    /// <summary>The watch's id.</summary>
    public required string Watch { get; init; }

    /// <summary>What is not known yet, and the stage that will ask for it.</summary>
    public required ImmutableArray<MissingMember> Missing { get; init; }

    /// <summary>Reminders; local rules and licensed practice decide.</summary>
    public required ImmutableArray<Caution> Cautions { get; init; }

    /// <summary>Other jobs in the house with one of its numbers: perhaps it is here twice.</summary>
    public ImmutableArray<Label> SameNumbers { get; init; } = [];

    /// <summary>Other jobs with the same number of the paper book: a warning, nothing more.</summary>
    public ImmutableArray<Label> SameOwnNumber { get; init; } = [];

    /// <summary>What the watch is otherwise than ordered: then the customer gets a new quote.</summary>
    public ImmutableArray<OrderDiffers> DiffersFromOrder { get; init; } = [];

    /// <summary>Other watches that are expected of this customer: perhaps one of them is this one.</summary>
    public ImmutableArray<Label> ExpectedBesides { get; init; } = [];

    /// <summary>Whether the day it is needed by can be kept; absent where none is.</summary>
    public FixedDateView? FixedDate { get; init; }

    public required JobLinks Links { get; init; }
}
