using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Benchmarks.Posts;

/// <summary>
/// What a bench says of one watch from takedown to the worn check, in order: the mix of events that is measured.
/// </summary>
internal sealed class BenchWork(ReadyJob job, string bench)
{
    private const string Rates =
        """[{"position":"dial-up","ratePerDaySeconds":4.2,"amplitudeDegrees":291,"beatErrorMilliseconds":0.2},{"position":"dial-down","ratePerDaySeconds":5.1,"amplitudeDegrees":288,"beatErrorMilliseconds":0.2},{"position":"crown-down","ratePerDaySeconds":-1.4,"amplitudeDegrees":262,"beatErrorMilliseconds":0.3},{"position":"crown-left","ratePerDaySeconds":0.6,"amplitudeDegrees":259,"beatErrorMilliseconds":0.3},{"position":"crown-up","ratePerDaySeconds":2.3,"amplitudeDegrees":264,"beatErrorMilliseconds":0.3}]""";

    private readonly (string Type, string Data)[] events = EventsOf($"{job.Label}", job.CaseSerial, job.MovementNumber, bench);

    private int next;

    public static int EventsOfAJob { get; } = EventsOf("", "", "", "").Length;

    /// <summary>How many of which type, for whoever reads the figures.</summary>
    public static string Description { get; } = string.Join(", ", EventsOf("", "", "", "").CountBy(one => one.Type).Select(of => $"{of.Value} {of.Key}"));

    public bool IsOver => next == events.Length;

    /// <summary>The next event, in its envelope.</summary>
    public string Next(string source, long sequence, Instant now)
    {
        var (type, data) = events[next++];
        return string.Create(CultureInfo.InvariantCulture,
            $$"""{"specversion":"1.0","id":"{{Guid.CreateVersion7(now.ToDateTimeOffset())}}","source":"{{source}}","sequence":"{{sequence}}","time":"{{InstantPattern.ExtendedIso.Format(now)}}","type":"{{type}}","subject":"{{job.Label}}","data":{{data}}}""");
    }

    private static (string Type, string Data)[] EventsOf(string label, string caseSerial, string movementNumber, string bench) =>
    [
        ("piece.taken", $$"""{"to":"benches/{{bench}}","bench":"{{bench}}","person":"mara"}"""),
        Started("takedown"),
        Note("Case opened with the usual key, nothing loose inside"),
        Finished("takedown"),
        ("piece.put", $$"""{"kind":"movement","to":"trays/{{bench}}","person":"mara"}"""),
        Finished("cleaning"),
        ("piece.taken", $$"""{"kind":"movement","from":"trays/{{bench}}","to":"benches/{{bench}}","person":"mara"}"""),
        Started("inspection"),
        Note("Third wheel pivot polished, barrel arbor within its limits"),
        Finished("inspection"),
        Started("rebuild"),
        Note("Oiled by the plan of the calibre"),
        Finished("rebuild"),
        Started("regulation"),
        RateSet(cased: false),
        ("index.touched", """{"person":"mara"}"""),
        RateSet(cased: false),
        Finished("regulation"),
        Started("case-strip"),
        Finished("case-strip"),
        Started("case-work"),
        Note("Lugs brushed, bezel polished, one deep scratch left by agreement"),
        Finished("case-work"),
        Finished("gaskets"),
        Started("dial-and-hands"),
        Finished("dial-and-hands"),
        ("case.closed", $$"""{"jobLabel":"{{label}}","caseSerial":"{{caseSerial}}","movementNumber":"{{movementNumber}}","person":"mara"}"""),
        ("water-test.recorded", """{"method":"dry","pressureBar":3,"holdSeconds":60,"deformationMicrometres":4.1,"passed":true,"person":"jonas"}"""),
        RateSet(cased: true),
        ("wear-check.started", """{"kind":"worn","offsetSeconds":-1,"place":"winder","fullyWound":true,"readBy":"eye","reference":"server","person":"jonas"}"""),
        ("piece.put", """{"to":"places/winder-cabinet","person":"jonas"}"""),
        Finished("reserve-and-functions"),
    ];

    private static (string, string) Started(string stage) => ("stage.started", $$"""{"stage":"{{stage}}","person":"mara"}""");

    private static (string, string) Finished(string stage) => ("stage.finished", $$"""{"stage":"{{stage}}","person":"mara"}""");

    private static (string, string) Note(string text) => ("note.written", $$"""{"text":"{{text}}","audience":"house","person":"mara"}""");

    private static (string, string) RateSet(bool cased) =>
        ("rate-set.recorded", $$"""{"windState":"full","liftAngleDegrees":52,"vibrationsPerHour":28800,"cased":{{(cased ? "true" : "false")}},"person":"mara","readings":{{Rates}}}""");
}
