using System.Data.Common;
using NodaTime.Text;
using Workshop.Beats.Listening;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>With what a recording is listened to: its own lift angle or the calibre's, what the calibre swings at, and the newest calibration of the clock.</summary>
internal sealed record ListeningTerms(ListeningParameters Parameters, bool LiftAngleTold, ClockThatCounted? Clock)
{
    /// <summary>As it is known now.</summary>
    /// <returns>null where nobody has said the lift angle.</returns>
    public static ListeningTerms? Find(DbConnection connection, string site, Label job, RecordingTold told, ShopRules rules) =>
        Reader.Entries(connection, site, job) is { IsEmpty: false } entries
            ? Of(CalibreOfJob.Find(connection, site, Job.Replay(job, entries), rules), told, device => RecordingClocks.OfDevice(connection, site, device).FirstOrDefault())
            : null;

    public static ListeningTerms? Of(CalibreOfJob calibre, RecordingTold told, Func<string, StoredClock?> clockOf)
    {
        if ((told.LiftAngleDegrees ?? calibre.Watch?.Calibre?.LiftAngleDegrees ?? calibre.Document?.LiftAngleDegrees) is not { } lift)
        {
            return null;
        }

        var clock = told.Device is { } device && clockOf(device) is { } stored
            ? new ClockThatCounted(device, stored.Saved, stored.Ppm, stored.UncertaintyPpm, LocalDatePattern.Iso.Parse(stored.MeasuredOn).Value)
            : null;
        return new ListeningTerms(
            new ListeningParameters((double)lift, clock?.Ppm, clock?.UncertaintyPpm ?? 0, calibre.Watch?.Calibre?.VibrationsPerHour ?? calibre.Document?.VibrationsPerHour),
            told.LiftAngleDegrees is not null,
            clock);
    }
}
