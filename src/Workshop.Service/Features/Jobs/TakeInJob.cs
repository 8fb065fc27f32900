using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Hazards;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
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
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var (customer, customerFaults) = KnownOrNew<CustomerDetails>.Read(body.Customer, "/customer");
        var (watch, watchFaults) = KnownOrNew<WatchDetails>.Read(body.Watch, "/watch");
        var knownWatch = watch?.Id is { } watchId ? WatchStore.Find(turn, watchId) : null;
        var facts = watch?.Described is { } described ? WatchFacts.Of(described) : knownWatch?.ReadFacts();
        var (variant, assumed) = VariantOf(body.Variant ?? (body.WarrantyOf is null ? null : WarrantyReturn), facts?.Calibre?.Kind, turn.Rules);
        Fault[] faults =
        [
            .. customerFaults,
            .. watchFaults,
            .. customer?.Described?.Faults("/customer") ?? [],
            .. watch?.Described?.Faults("/watch", today) ?? [],
            .. customer?.Id is { } id && CustomerStore.Find(turn, id) is null ? [new Fault("/customer", "There is no customer with this id")] : Array.Empty<Fault>(),
            .. watch?.Id is not null && knownWatch is null ? [new Fault("/watch", "There is no watch with this id")] : Array.Empty<Fault>(),
            .. variant is null ? [NoSuchVariant(turn.Rules)] : Array.Empty<Fault>(),
            .. WarrantyFaults(turn, body, variant),
            .. body.Faults(today),
            .. OwnFaults(body, today),
        ];
        if (faults.Length > 0)
        {
            return Problems.BadFields(faults);
        }

        var customerId = customer!.Id ?? AddCustomer(turn, customer.Described!);
        var watchIdNow = KeepWatch(turn, watch!, knownWatch, customerId);
        var label = turn.DrawLabel(LabelKind.Job, drawn => StreamEntry.OfJob(drawn));
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
                Missing = MissingOf(body, turn.Rules.Routes[variant!]),
                Counted = [.. body.Accessories.Select(one => new CountedPiece(one.Kind, one.Count))],
                Hazards = [.. HazardsOf(body, facts!).Union(HazardsOf(turn.Rules.Routes[variant!], facts!))],
                WarrantyOf = body.WarrantyOf,
                FixedDate = body.Wishes?.FixedDate,
            },
            body.Person);
        turn.SaveIntake(label, new IntakeSheet { Members = MembersOf(body), Accessories = body.Accessories, VariantAssumed = assumed }.Write());

        var job = decision.Job;
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
            Links = JobLinks.Of(label),
        });
    }

    private static IEnumerable<Fault> OwnFaults(TakeInBody body, LocalDate today)
    {
        foreach (var (i, one) in body.Accessories.Index().Where(pair => OfEveryWatch.Contains(pair.Item.Kind)))
        {
            yield return new Fault($"/accessories/{i}/kind", "Movement, case, dial and hands belong to every watch and are not counted");
        }

        foreach (var (i, one) in body.Hazards.Index().Where(pair => !Hazard.All.ContainsKey(pair.Item)))
        {
            yield return new Fault($"/hazards/{i}", $"This is none of {string.Join(", ", Hazard.All.Keys.Order(StringComparer.Ordinal))}");
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

    /// <summary>What a later stage will ask for; numbers are set by their first reading.</summary>
    internal static ImmutableArray<MissingMember> MissingOf(IntakeMembers members, RouteDefinition route)
    {
        var known = members.Known().Concat(route.PolishOnlyOnRequest == true ? [IntakeMember.Polish] : []).ToHashSet(StringComparer.Ordinal);
        (string Member, Stage[] NeededFor)[] asked =
        [
            (IntakeMember.Terms, [Stage.Diagnosis]),
            (IntakeMember.Condition, [Stage.Diagnosis]),
            (IntakeMember.DeclaredValue, [Stage.Takedown, Stage.CaseStrip, Stage.Casing]),
            (IntakeMember.Polish, [Stage.CaseWork]),
        ];
        return
        [
            .. asked.Where(one => !known.Contains(one.Member) && one.NeededFor.Any(route.Has))
                .Select(one => new MissingMember(one.Member, one.NeededFor.First(route.Has))),
        ];
    }

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

    private static string AddCustomer(Turn turn, CustomerDetails details)
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

    private static IntakeMembers MembersOf(TakeInBody body) => new()
    {
        DeclaredValueMinor = body.DeclaredValueMinor,
        Currency = body.Currency,
        Wishes = body.Wishes,
        Condition = body.Condition,
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

    public required JobLinks Links { get; init; }
}
