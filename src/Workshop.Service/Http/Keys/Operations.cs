using System.Collections.Frozen;
using Microsoft.AspNetCore.Authorization;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Keys;

/// <summary>Everything that can be asked of the service with a key. One row of <see cref="Operations"/> each.</summary>
public enum Operation
{
    ReadOneself,
    ReadTime,
    ReadWords,
    ReadGates,
    ReadProblems,
    PostBenchEvents,
    ReadOutcomes,
    ReadReceived,
    ReadLabel,
    NameLabels,
    PrintLabels,
    MakeLabelSheets,
    TakeInJob,
    ListJobs,
    SearchJobs,
    ReadJob,
    EditIntake,
    ChangeVariant,
    ReadHistory,
    ReadRateSets,
    CompareRateSets,
    ReadGroups,
    ReadChronometerTrial,
    ReadFunctions,
    ReadReserveTests,
    ReadWaterTests,
    ReadStops,
    ReadCharts,
    ReadPieces,
    ReadTakedown,
    SaveTakedownPlan,
    KeepPhotos,
    ReadPhotos,
    ShowPhotos,
    KeepRecordings,
    ReadRecordings,
    SetRecordingClocks,
    MakeRateSets,
    EditPublicLinks,
    SendQuote,
    ReadQuotes,
    AnswerQuote,
    ChangeQuotePrice,
    RecordPayments,
    ReadAccounts,
    ReadPromise,
    MovePromises,
    HandOver,
    RecordDelivery,
    ReadArrivals,
    EditArrivals,
    PrintSlips,
    ReadStorefronts,
    EditStorefronts,
    ReadOrders,
    EditMessages,
    ReadWarranty,
    ReportClaim,
    DecideClaim,
    RecordClaimStay,
    ReadClaimEvidence,
    OpenDispute,
    ReadDisputes,
    CloseDispute,
    SendShipment,
    ReadShipments,
    TellOfShipment,
    AddWatchOwner,
    SaveRegisterHit,
    ReportWear,
    AnswerWearReport,
    ReadLetters,
    ReleaseLetters,
    TellUnsentLetters,
    ReadParties,
    EditParties,
    ReadCustomers,
    EditCustomers,
    ReadWatches,
    EditWatches,
    ReadAgenda,
    ReadChanges,
    ReadCleaning,
    ReadShop,
    EditShop,
    ReadParts,
    EditParts,
    ReadEveningList,
    ReadWhatLiesWith,
    PairDevices,
    ReadDevices,
    EditProofs,
    SealExtracts,
    ReplaceSealKeys,
    EditFeeds,
    ExportCustomers,
    EraseCustomers,
    KeepBackUps,
    LookAtTasks,
    ReadMetrics,
    EditWebhooks,
}

/// <summary>What of a job or of the shop an answer may hold for a role.</summary>
public enum Sight
{
    /// <summary>Stages, holders, measurements, holds.</summary>
    Work,

    /// <summary>Names, addresses, telephone numbers, e-mail.</summary>
    Names,

    /// <summary>Prices, payments, the declared value.</summary>
    Amounts,
}

/// <summary>
/// Which role may do what and see what: the one table from which endpoints take their policy and the description its
/// sentence "who may", and along which the tests walk all endpoints.
/// </summary>
public static class Operations
{
    private static readonly FrozenDictionary<Operation, IReadOnlyList<Role>> Allowed = new Dictionary<Operation, IReadOnlyList<Role>>
    {
        [Operation.ReadOneself] = Roles.Everybody,
        [Operation.ReadTime] = Roles.Everybody,
        [Operation.ReadWords] = Roles.Everybody,
        [Operation.ReadGates] = Roles.House,
        [Operation.ReadProblems] = Roles.Everybody,
        [Operation.PostBenchEvents] = Roles.Devices,
        [Operation.ReadOutcomes] = Roles.Devices,
        [Operation.ReadReceived] = Roles.Manager,
        [Operation.ReadLabel] = Roles.House,
        [Operation.NameLabels] = Roles.Manager,
        [Operation.PrintLabels] = Roles.Devices,
        [Operation.MakeLabelSheets] = Roles.Desk,
        [Operation.TakeInJob] = Roles.Desk,
        [Operation.ListJobs] = Roles.House,
        [Operation.SearchJobs] = Roles.Desk,
        [Operation.ReadJob] = Roles.Everybody,
        [Operation.EditIntake] = Roles.Desk,
        [Operation.ChangeVariant] = Roles.Manager,
        [Operation.ReadHistory] = Roles.House,
        [Operation.ReadRateSets] = Roles.House,
        [Operation.CompareRateSets] = Roles.House,
        [Operation.ReadGroups] = Roles.House,
        [Operation.ReadChronometerTrial] = Roles.House,
        [Operation.ReadFunctions] = Roles.House,
        [Operation.ReadReserveTests] = Roles.House,
        [Operation.ReadWaterTests] = Roles.House,
        [Operation.ReadStops] = Roles.House,
        [Operation.ReadCharts] = Roles.House,
        [Operation.ReadPieces] = Roles.House,
        [Operation.ReadTakedown] = Roles.Devices,
        [Operation.SaveTakedownPlan] = Roles.Manager,
        [Operation.KeepPhotos] = Roles.Devices,
        [Operation.ReadPhotos] = Roles.Devices,
        [Operation.ShowPhotos] = Roles.Desk,
        [Operation.KeepRecordings] = Roles.Devices,
        [Operation.ReadRecordings] = Roles.Devices,
        [Operation.SetRecordingClocks] = Roles.Devices,
        [Operation.MakeRateSets] = Roles.Devices,
        [Operation.EditPublicLinks] = Roles.Desk,
        [Operation.SendQuote] = Roles.Desk,
        [Operation.ReadQuotes] = Roles.Desk,
        [Operation.AnswerQuote] = Roles.Desk,
        [Operation.ChangeQuotePrice] = Roles.Desk,
        [Operation.RecordPayments] = Roles.Desk,
        [Operation.ReadAccounts] = Roles.Desk,
        [Operation.ReadPromise] = Roles.House,
        [Operation.MovePromises] = Roles.Desk,
        [Operation.HandOver] = Roles.Desk,
        [Operation.RecordDelivery] = Roles.Desk,
        [Operation.ReadArrivals] = Roles.Desk,
        [Operation.EditArrivals] = Roles.Desk,
        [Operation.PrintSlips] = Roles.DeskAndStorefront,
        [Operation.ReadStorefronts] = Roles.Manager,
        [Operation.EditStorefronts] = Roles.Manager,
        [Operation.ReadOrders] = Roles.Desk,
        [Operation.EditMessages] = Roles.Desk,
        [Operation.ReadWarranty] = Roles.Devices,
        [Operation.ReportClaim] = Roles.Desk,
        [Operation.DecideClaim] = Roles.Manager,
        [Operation.RecordClaimStay] = Roles.Desk,
        [Operation.ReadClaimEvidence] = Roles.Desk,
        [Operation.OpenDispute] = Roles.Desk,
        [Operation.ReadDisputes] = Roles.Desk,
        [Operation.CloseDispute] = Roles.Manager,
        [Operation.SendShipment] = Roles.Desk,
        [Operation.ReadShipments] = Roles.Desk,
        [Operation.TellOfShipment] = Roles.Desk,
        [Operation.AddWatchOwner] = Roles.Desk,
        [Operation.SaveRegisterHit] = Roles.Manager,
        [Operation.ReportWear] = Roles.Desk,
        [Operation.AnswerWearReport] = Roles.Desk,
        [Operation.ReadLetters] = Roles.Desk,
        [Operation.ReleaseLetters] = Roles.Manager,
        [Operation.TellUnsentLetters] = Roles.Desk,
        [Operation.ReadParties] = Roles.Desk,
        [Operation.EditParties] = Roles.Desk,
        [Operation.ReadCustomers] = Roles.Desk,
        [Operation.EditCustomers] = Roles.Desk,
        [Operation.ReadWatches] = Roles.Desk,
        [Operation.EditWatches] = Roles.Desk,
        [Operation.ReadAgenda] = Roles.House,
        [Operation.ReadChanges] = Roles.Everybody,
        [Operation.ReadCleaning] = Roles.House,
        [Operation.ReadShop] = Roles.Devices,
        [Operation.EditShop] = Roles.Manager,
        [Operation.ReadParts] = Roles.Devices,
        [Operation.EditParts] = Roles.Desk,
        [Operation.ReadEveningList] = Roles.Devices,
        [Operation.ReadWhatLiesWith] = Roles.Devices,
        [Operation.PairDevices] = Roles.Manager,
        [Operation.ReadDevices] = Roles.Desk,
        [Operation.EditProofs] = Roles.Manager,
        [Operation.SealExtracts] = Roles.Desk,
        [Operation.ReplaceSealKeys] = Roles.Manager,
        [Operation.EditFeeds] = Roles.Desk,
        [Operation.ExportCustomers] = Roles.Manager,
        [Operation.EraseCustomers] = Roles.Manager,
        [Operation.KeepBackUps] = Roles.Manager,
        [Operation.LookAtTasks] = Roles.Manager,
        [Operation.ReadMetrics] = Roles.Operator,
        [Operation.EditWebhooks] = Roles.Manager,
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<Role, IReadOnlyList<Sight>> Seen = new Dictionary<Role, IReadOnlyList<Sight>>
    {
        [Role.Bench] = [Sight.Work],
        [Role.Desk] = [Sight.Work, Sight.Names, Sight.Amounts],
        [Role.Manager] = [Sight.Work, Sight.Names, Sight.Amounts],
        [Role.Storefront] = [],
        [Role.Wall] = [Sight.Work],
        [Role.Operator] = [],
    }.ToFrozenDictionary();

    /// <summary>Every operation with the roles that may do it.</summary>
    public static IEnumerable<KeyValuePair<Operation, IReadOnlyList<Role>>> Rows => Allowed.OrderBy(row => row.Key);

    public static IReadOnlyList<Role> MayDo(Operation operation) => Allowed[operation];

    /// <summary>Whether answers to this role may hold such things. The storefront gets public fields only, of its own orders.</summary>
    public static bool MaySee(Role role, Sight sight) => Seen[role].Contains(sight);

    /// <summary>The operations open to a role, for its own information.</summary>
    public static IEnumerable<Operation> OpenTo(Role role) => Rows.Where(row => row.Value.Contains(role)).Select(row => row.Key);

    /// <summary>The endpoint is this operation: only keys of its roles get through.</summary>
    public static TBuilder RequireOperation<TBuilder>(this TBuilder endpoint, Operation operation) where TBuilder : IEndpointConventionBuilder =>
        endpoint.WithMetadata(new OperationOf(operation)).RequireAuthorization(Policy(operation));

    /// <summary>The policy of an operation, for what is not an endpoint of ours.</summary>
    public static AuthorizationPolicy Policy(Operation operation) => new AuthorizationPolicyBuilder(Bearer.SchemeName)
        .RequireAuthenticatedUser()
        .RequireRole(MayDo(operation).Select(Word.Of))
        .Build();
}

/// <summary>Which operation an endpoint is.</summary>
public sealed record OperationOf(Operation Operation);
