using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Parts;
using Workshop.Core.Route;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Jobs;

/// <summary>
/// What takes a permission away counts whenever it arrives: reported late it is applied whatever the gates say, and what stood on it
/// becomes void.
/// </summary>
public static class BadNews
{
    /// <param name="before">The job at the event's place.</param>
    /// <param name="after">The job with the event applied there.</param>
    public static bool Is(WorkshopEvent one, Job before, Job after) => one switch
    {
        CaseOpened or IndexTouched or StageSentBack or FinalControlRefused => true,
        SealSeen seal => seal.State == SealState.Broken,
        WaterTestRecorded test => !test.Passed,
        WearCheckPaused => true,
        WearCheckRead => after.WearChecks.TotalFails > before.WearChecks.TotalFails,
        GroupUnknown or GroupReopened or PartLost => true,
        CountRecorded => after.Groups.Differences.Count() > before.Groups.Differences.Count(),
        HoldPlaced or MixUpSuspected or DamageSeen => true,
        _ => false,
    };

    /// <summary>A measurement has no gate and is always applied; so is a note, and what somebody found.</summary>
    public static bool IsMeasurement(WorkshopEvent one) => one is RateSetRecorded or WaterTestRecorded or FunctionChecked or NoteWritten or FindingRecorded;
}
