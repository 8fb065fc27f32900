using System.Data.Common;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.WaterTests;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>What is written down of a watch: at intake, of the watch itself, and of its calibre.</summary>
public static class KnownOfWatch
{
    private const string VintageKind = "vintage";

    public static WatchKnown Read(Turn turn, Job job) =>
        Of(job, turn.Intake(job.Label), WatchStore.Find(turn, job.Intake.Watch), CalibreOfJob.Find(turn, job), turn.Rules);

    public static WatchKnown Read(DbConnection connection, string site, JobReading read, ShopRules rules) =>
        Of(read.Job, read.Intake, read.Watch, CalibreOfJob.Find(connection, site, read.Job, rules), rules);

    private static WatchKnown Of(Job job, IntakePart? intake, StoredWatch? watch, CalibreOfJob calibre, ShopRules rules)
    {
        var facts = watch?.ReadFacts();
        var members = intake is null ? new IntakeMembers() : IntakeSheet.Read(intake.Text).Members;
        var vintage = job.Intake.Variant == VintageKind || job.Route?.ToleranceKind == VintageKind;
        return new WatchKnown
        {
            Kind = calibre.Kind,
            Calibre = calibre.Id ?? NameOf(facts?.Calibre?.Name),
            Calendar = calibre.Document?.Calendar,
            ReserveHoursOfWatch = facts?.Calibre?.PowerReserveHours,
            ReserveHoursOfCalibre = calibre.Document?.PowerReserveHours,
            MadeInYear = facts?.MadeInYear,
            Vintage = vintage,
            Water = new WaterFacts
            {
                RatingBar = facts?.WaterRatingBar,
                Diver = facts?.Diver,
                Crystal = facts?.Crystal,
                CrystalDamaged = Damaged(members),
                Vintage = vintage ? true : facts?.MadeInYear is { } year ? year < rules.Water.VintageBefore : null,

                // What an earlier repairer sealed says nothing of a case that was closed here.
                Seal = job.Standings.Of(Stage.Casing).State == StageState.Done ? null : members.Arrival?.Seal,
                CustomerWishes = members.Wishes?.WaterTest,
            },
        };
    }

    // One name, however it is spelled: causes are counted by it.
    private static string? NameOf(string? name) => string.IsNullOrWhiteSpace(name) ? null : name.Trim().ToLowerInvariant();

    private static bool? Damaged(IntakeMembers members) => members.ConditionGrid.FirstOrDefault(one => one.Place == ConditionPlace.Crystal)?.Condition switch
    {
        ConditionWord.Deep or ConditionWord.Missing => true,
        ConditionWord.NoneSeen or ConditionWord.Light or ConditionWord.Clear => false,
        _ => null,
    };
}
