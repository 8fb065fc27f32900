using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>By how much a device's recorder runs fast, once. Moments in microseconds.</summary>
public sealed record StoredClock
{
    public required long Saved { get; init; }

    /// <summary>Positive: the recorder runs fast.</summary>
    public required double Ppm { get; init; }

    /// <summary>Half width of a 95 % interval.</summary>
    public required double UncertaintyPpm { get; init; }

    public required string MeasuredOn { get; init; }

    public required string How { get; init; }

    /// <summary>Hash of the recording of a reference that it was computed from.</summary>
    public string? Reference { get; init; }

    public string? Measurement { get; init; }

    public required string Source { get; init; }
}

/// <summary>The table <c>recording_clock</c>; rows are added and never changed.</summary>
public static class RecordingClocks
{
    private const string OfDeviceSql = """
        select saved, ppm, uncertainty_ppm, measured_on, how, reference, measurement, source
        from recording_clock
        where site = @site
          and device = @device
        order by measured_on desc, saved desc
        """;

    private const string AddSql = """
        insert into recording_clock (site, device, saved, ppm, uncertainty_ppm, measured_on, how, reference, measurement, source)
        values (@site, @device, @saved, @ppm, @uncertainty_ppm, @measured_on, @how, @reference, @measurement, @source)
        """;

    /// <summary>Every calibration of a device's recorder; the first is the one that counts.</summary>
    public static ImmutableArray<StoredClock> OfDevice(DbConnection connection, string site, string device) =>
        [.. connection.Query<StoredClock>(OfDeviceSql, new { site, device })];

    public static ImmutableArray<StoredClock> OfDevice(Turn turn, string device) => [.. turn.Query<StoredClock>(OfDeviceSql, new { site = turn.Site, device })];

    public static void Add(Turn turn, string device, StoredClock clock) => turn.Execute(AddSql, new
    {
        site = turn.Site,
        device,
        saved = clock.Saved,
        ppm = clock.Ppm,
        uncertainty_ppm = clock.UncertaintyPpm,
        measured_on = clock.MeasuredOn,
        how = clock.How,
        reference = clock.Reference,
        measurement = clock.Measurement,
        source = clock.Source,
    });
}
