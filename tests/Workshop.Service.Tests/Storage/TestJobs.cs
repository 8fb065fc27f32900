using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

/// <summary>Jobs for tests of the storage: taken in at the desk, worked on at a bench.</summary>
public static class TestJobs
{
    public const string Bench = "/devices/bench-2/1";

    /// <summary>Takes a watch in and gives its job's label.</summary>
    public static Label TakeIn(Turn turn, string caseSerial = "A 12-34.5")
    {
        var label = turn.DrawLabel(LabelKind.Job, one => StreamEntry.OfJob(one));
        turn.Append([turn.Compose(
            StreamEntry.OfJob(label),
            new EventId("/desk/front", $"take-in/{label}"),
            new JobTakenIn { Variant = "full-automatic", Customer = "c-1", Watch = "w-1", CaseSerial = caseSerial, MovementNumber = "M.77-1", Counted = [new(PieceKind.Bracelet, 1)] },
            new Judged { Person = "mara", Role = "desk", Route = turn.Rules.Routes["full-automatic"] })]);
        return label;
    }

    /// <summary>An event that a bench posts at once, decided and appended.</summary>
    public static Decision Post(Turn turn, Label job, string id, string type, string data, Instant? effective = null, long sequence = 0)
    {
        var read = EventCodec.Read(type, data);
        Assert.Empty(read.Faults);
        var decision = JobRules.Decide(
            turn.History(job)!,
            new Incoming
            {
                Id = new EventId(Bench, id),
                Job = job,
                Event = read.Event!,
                Manner = read.Manner,
                Effective = effective ?? turn.Now,
                Received = turn.Now,
                OrderSequence = sequence,
                Live = effective is null && !read.Manner.Already,
            },
            new Facts
            {
                Rules = turn.Rules,
                Role = "manager",
                NextPosition = turn.NextPosition,
                OtherJobWithNumber = number => turn.OtherJobWithNumber(number, job),
                NextStreamVersion = turn.NextStreamVersion,
            });
        turn.Append(decision, new AsSent { Id = new EventId(Bench, id), Data = data, Sequence = sequence, DeviceTime = "2026-03-02T10:00:00+01:00" });
        return decision;
    }

    /// <summary>The same, in a turn of its own.</summary>
    public static Task<Decision> Post(this TestStorage storage, Label job, string id, string type, string data, Instant? effective = null, long sequence = 0) =>
        storage.Writer.Turn(TestStorage.Site, turn => Post(turn, job, id, type, data, effective, sequence));

    public static Task<Label> TakeIn(this TestStorage storage, string caseSerial = "A 12-34.5") =>
        storage.Writer.Turn(TestStorage.Site, turn => TakeIn(turn, caseSerial));
}
