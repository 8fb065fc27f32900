using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>What a recording of a reference gave.</summary>
/// <param name="Reference">SHA-256 of that recording; its bytes are not kept.</param>
/// <param name="IntervalSeconds">Between two pulses of the source, in true time.</param>
/// <param name="Pulses">How many it rests on.</param>
/// <param name="ScatterMicroseconds">Standard deviation of a pulse about the line through all.</param>
/// <param name="SourceUncertaintyPpm">Of the source's own spacing, half width of a 95 % interval, as told.</param>
public sealed record ReferenceMeasurementView(string Reference, decimal IntervalSeconds, int Pulses, decimal? ScatterMicroseconds, decimal SourceUncertaintyPpm);

/// <summary>A calibration of a recorder's clock.</summary>
/// <param name="Ppm">By how much it runs fast. A fast clock takes too many samples a second, so that a watch looks slow: the true period is the recorded one divided by 1 + ppm·10⁻⁶. 1 ppm is 0.0864 seconds a day.</param>
/// <param name="UncertaintyPpm">Half width of a 95 % interval; it goes into the rate's interval.</param>
/// <param name="How">In a few words.</param>
/// <param name="Measured">From a recording of a reference; absent where it was stated.</param>
public sealed record RecorderCalibrationView(
    decimal? Ppm, decimal? UncertaintyPpm, LocalDate MeasuredOn, string How, ReferenceMeasurementView? Measured, Instant SavedAt, string Source)
{
    public static RecorderCalibrationView Of(StoredClock clock) => new(
        HeardFigureView.Rounded(clock.Ppm, 4), HeardFigureView.Rounded(clock.UncertaintyPpm, 4), LocalDatePattern.Iso.Parse(clock.MeasuredOn).Value, clock.How,
        clock.Measurement is null ? null : JsonSerializer.Deserialize<ReferenceMeasurementView>(clock.Measurement, WorkshopJson.Options), Microseconds.Read(clock.Saved), clock.Source);
}

/// <summary>The clock of a device's recorder.</summary>
/// <param name="Current">The newest by the day it was measured; it counts for whatever is listened to from now on. Absent: not calibrated.</param>
/// <param name="Earlier">Newest first; a reading says which of them it was corrected by.</param>
public sealed record RecorderClocksView(string Device, RecorderCalibrationView? Current, ImmutableArray<RecorderCalibrationView> Earlier)
{
    public static RecorderClocksView Of(string device, ImmutableArray<StoredClock> all) =>
        new(device, all.FirstOrDefault() is { } newest ? RecorderCalibrationView.Of(newest) : null, [.. all.Skip(1).Select(RecorderCalibrationView.Of)]);
}
