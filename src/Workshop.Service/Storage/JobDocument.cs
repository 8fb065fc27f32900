using System.Collections;
using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Casing;
using Workshop.Core.Charts;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;
using Workshop.Core.PublicPage;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>What a job's row is searched by; all of it folded.</summary>
public sealed record JobColumns
{
    /// <summary>The first required stage that does not stand.</summary>
    public string? Stage { get; init; }

    public string? Branch { get; init; }

    public string? Variant { get; init; }

    public string? CustomerId { get; init; }

    public string? WatchId { get; init; }

    public string? CaseSerialKey { get; init; }

    public string? MovementNumberKey { get; init; }

    /// <summary>YYYY-MM-DD.</summary>
    public string? PromisedOn { get; init; }

    /// <summary>Microseconds.</summary>
    public long? TakenInAt { get; init; }

    /// <summary>1 while any piece is not the customer's again.</summary>
    public long InHouse { get; init; }

    /// <summary>0 or 1.</summary>
    public long Closed { get; init; }

    /// <summary>When the work was done, in microseconds; empty for a job of the paper book, which enters no figure.</summary>
    public long? ReadyAt { get; init; }

    public static JobColumns Of(Job job)
    {
        var stage = job.Standings.Current;
        return new JobColumns
        {
            Stage = stage is { } known ? Word.Of(known) : null,
            Branch = stage is { } current && job.Standings.InPlan(current) is { } planned ? Word.Of(planned.Branch) : null,
            Variant = Known(job.Intake.Variant),
            CustomerId = Known(job.Intake.Customer),
            WatchId = Known(job.Intake.Watch),
            CaseSerialKey = WatchNumber.Key(job.Case.CaseSerial),
            MovementNumberKey = WatchNumber.Key(job.Case.MovementNumber),
            PromisedOn = job.Promise.On is { } day ? LocalDatePattern.Iso.Format(day) : null,
            TakenInAt = Microseconds.Of(job.Intake.TakenInAt),
            InHouse = job.Pieces.Pieces.Any(piece => piece.Holder != Piece.Customer) ? 1 : 0,
            Closed = job.Standings.Of(Core.Route.Stage.Closed).State == StageState.Done ? 1 : 0,
            ReadyAt = job.Intake.Adopted is null && job.Standings.Of(Core.Route.Stage.Ready) is { State: StageState.Done, Since: { } ready } ? Microseconds.Of(ready) : null,
        };
    }

    private static string? Known(string text) => text.Length == 0 ? null : text;
}

/// <summary>A folded job as text.</summary>
public static class JobDocument
{
    /// <summary>Counts up when the same entries fold to another document, to other columns, holdings or agenda rows; migrate then refolds every job.</summary>
    public const long FoldVersion = 6;

    private static readonly JsonSerializerOptions Canonical =
        WorkshopJson.Make(Shorten, WorkshopJson.LeaveOutWhatIsComputed, LeaveOutWhatStandsElsewhere, LeaveOutEmptyLists);

    private static readonly JsonTypeInfo Shape = Canonical.GetTypeInfo(typeof(Job));

    /// <summary>
    /// Equal jobs give equal texts. Positions are left out, so that the same entries give the same document in whatever order they
    /// arrived; the route, the rules of a warranty and the readings of a rate set stand in the entry they were frozen in, the holdings and what is charted in tables of their own. What a customer is shown is computed when it is asked for.
    /// </summary>
    /// <remarks>
    /// It is written with every event and read by nobody but the check: moments are microseconds as in the columns, an entry is
    /// <c>source#id</c>, and empty lists are not written, so that a usual job stays within one page of the database.
    /// </remarks>
    public static string Of(Job job) => JsonSerializer.Serialize(job, Shape);

    private static void Shorten(JsonSerializerOptions options)
    {
        options.Converters.Insert(0, new MomentAsNumber());
        options.Converters.Insert(0, new EntryAsText());
    }

    private static void LeaveOutWhatStandsElsewhere(JsonTypeInfo type)
    {
        for (var i = type.Properties.Count - 1; i >= 0; i--)
        {
            var property = type.Properties[i];
            if (property is { Name: "position", PropertyType: var kept } && kept == typeof(long)
                || type.Type == typeof(Place) && property.PropertyType == typeof(long?)
                || type.Type == typeof(Standings) && property.PropertyType == typeof(RouteDefinition)
                || type.Type == typeof(WarrantyTerm) && (property.PropertyType == typeof(WarrantyRuleSet) || property.PropertyType == typeof(DaysOff))
                || type.Type == typeof(RateSet) && (property.PropertyType == typeof(RateSetRecorded) || property.PropertyType == typeof(RateTerms) || IsReckoned(property))
                || type.Type == typeof(Job) && (property.PropertyType == typeof(RateLedger) || property.PropertyType == typeof(PublicProgress))
                || type.Type == typeof(PieceLedger) && property.PropertyType == typeof(ImmutableArray<Holding>))
            {
                type.Properties.RemoveAt(i);
            }
        }
    }

    private static bool IsReckoned(JsonPropertyInfo property) => property is { Set: null, AssociatedParameter: null };

    private static void LeaveOutEmptyLists(JsonTypeInfo type)
    {
        foreach (var property in type.Properties.Where(property => property.PropertyType.IsAssignableTo(typeof(ICollection))))
        {
            property.ShouldSerialize = (_, list) => list is ICollection { Count: > 0 };
        }
    }

    private abstract class WrittenOnly<T> : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            throw new NotSupportedException("A job is folded from its entries, never read from its document.");
    }

    private sealed class MomentAsNumber : WrittenOnly<Instant>
    {
        public override void Write(Utf8JsonWriter writer, Instant value, JsonSerializerOptions options) => writer.WriteNumberValue(Microseconds.Of(value));
    }

    private sealed class EntryAsText : WrittenOnly<EventId>
    {
        public override void Write(Utf8JsonWriter writer, EventId value, JsonSerializerOptions options) => writer.WriteStringValue(value.ToString());
    }
}
