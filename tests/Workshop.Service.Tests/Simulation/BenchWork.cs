using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Service.Tests.Simulation;

/// <summary>What is done at a bench, as the events that tell it: the usual work of a stage, and what comes in between.</summary>
internal static class BenchWork
{
    private static readonly string[] People = ["mara", "jon", "vera", "lea"];
    private static readonly string[] Kinds = ["movement", "case", "dial-and-hands"];

    /// <summary>The work of a stage. Empty where a bench has nothing to do there.</summary>
    public static IReadOnlyList<(string Type, string Data)> Of(Stage stage, Job job, string person, Random chance) => stage switch
    {
        Stage.Intake or Stage.Quote or Stage.Queue or Stage.Ready or Stage.Settlement or Stage.HandedOver or Stage.Closed => [],
        Stage.Regulation => [("rate-set.recorded", $$"""{"readings":[{"position":"dial-up","ratePerDaySeconds":{{chance.Next(-6, 12)}}}],"person":"{{person}}"}"""), Finished(stage, person)],
        Stage.Casing => [("case.closed", $$"""{"jobLabel":"{{job.Label}}","caseSerial":"{{job.Case.CaseSerial}}","person":"{{person}}"}""")],
        Stage.WaterTest => [("water-test.recorded", $$"""{"method":"dry","pressureBar":3,"passed":{{(chance.Next(8) > 0 ? "true" : "false")}},"person":"{{person}}"}""")],
        Stage.WearCheck when job.WearChecks.Running is null =>
            [("wear-check.started", $$"""{"kind":"worn","fullyWound":{{(chance.Next(9) > 0 ? "true" : "false")}},"offsetSeconds":0,"place":"winder","person":"{{person}}"}""")],
        Stage.WearCheck => [("wear-check.read", chance.Next(12) == 0
            ? $$"""{"kind":"worn","stopped":true,"shownTime":"04:10","person":"{{person}}"}"""
            : $$"""{"kind":"worn","offsetSeconds":{{chance.Next(-6, 14)}},"person":"{{person}}"}""")],
        Stage.Takedown when chance.Next(2) == 0 => [Started(stage, person), .. LetDown(job, person), .. Groups(job, person, chance), Finished(stage, person)],
        Stage.Cleaning when job.Groups.Open.Any() => [.. job.Groups.Open.Select(group => Ended(group.Id, person, chance)), Finished(stage, person)],
        Stage.FinalControl => [("final-control.passed", Control(job, chance.Next(3) > 0 ? "vera" : person))],
        _ when chance.Next(3) == 0 => [Started(stage, person), Finished(stage, person)],
        _ => [Finished(stage, person)],
    };

    /// <summary>What comes in between: bad news, hand-offs of one half or both, slips of the pen, nonsense.</summary>
    public static IReadOnlyList<(string Type, string Data)> Mishap(Job job, string person, Random chance) => chance.Next(21) switch
    {
        0 => [("case.opened", $$"""{"reason":"a fibre under the glass","person":"{{person}}"}""")],
        1 => [("index.touched", $$"""{"person":"{{person}}"}""")],
        2 => [("stage.sent-back", $$"""{"stage":"{{Any(job, chance)}}","to":"{{Any(job, chance)}}","reason":"not as it should be","person":"{{person}}"}""")],
        3 => [("hold.placed", $$"""{"hold":"{{Pick(chance, "parts", "other", "person", "query")}}","reason":"waits","until":"2026-03-0{{chance.Next(3, 7)}}","person":"{{person}}"}""")],
        4 => [("hold.lifted", $$"""{"hold":"{{Pick(chance, "parts", "other", "person")}}","person":"{{person}}"}""")],
        5 => [("note.written", """{"text":"crown wheel runs dry","audience":"house","further":"from a newer tablet"}""")],
        6 => [("damage.seen", $$"""{"system":"dial-side","part":"dial","condition":"hairline at 4","asReceived":{{Pick(chance, "true", "false")}},"person":"{{person}}"}""")],
        7 => [("stage.finished", """{"stage":"polishing-the-moon"}""")],
        8 or 9 => [("stage.finished", $$"""{"stage":"{{Any(job, chance)}}","person":"{{person}}"}""")],
        10 => [("wear-check.paused", """{"kind":"worn","reason":"off the winder"}""")],
        11 => [("wear-check.resumed", """{"kind":"worn","place":"wrist"}""")],
        12 => [("stage.started", $$"""{"stage":"{{Any(job, chance)}}","person":"{{Pick(chance, People)}}"}""")],
        13 => [("piece.put", $$"""{"kind":"{{Pick(chance, Kinds)}}","to":"places/{{Pick(chance, "safe", "drawer")}}","person":"{{person}}"}""")],
        14 => [Given(person, Pick(chance, People), chance)],
        15 => [Given(person, Pick(chance, People), chance), Taken(Pick(chance, People), chance)],
        16 => [Taken(person, chance)],
        17 when job.Groups.InUse => [("group.reopened", $$"""{"group":"{{AnyGroup(job, chance)}}","reason":"film","person":"{{person}}"}""")],
        18 when job.Groups.InUse => [Ended(AnyGroup(job, chance), person, chance), ("group.inspected", $$"""{"group":"{{AnyGroup(job, chance)}}","person":"{{person}}"}""")],
        19 when job.Groups.InUse =>
        [
            ("count.recorded", $$"""{"group":"{{AnyGroup(job, chance)}}","at":"{{Pick(chance, "inspection", "rebuild")}}","count":{{chance.Next(8, 11)}},"person":"{{person}}"}"""),
            ("part.lost", $$"""{"part":"click spring","person":"{{person}}"}"""), ("part.found", $$"""{"part":"click spring","person":"{{person}}"}"""),
        ],
        _ => [("stage.finished", $$"""{"stage":"{{Any(job, chance)}}","person":"{{person}}","already":true}""")],
    };

    public static (string Type, string Data) Taken(string person, Random chance) =>
        ("piece.taken", $$"""{"kind":"{{Pick(chance, Kinds)}}","to":"people/{{person}}","person":"{{person}}"}""");

    public static string Control(Job job, string person) =>
        $$"""{"checks":[{{string.Join(',', (job.Route?.FinalChecks ?? []).Select(check => $$"""{"check":"{{check}}","result":"ok"}"""))}}],"person":"{{person}}"}""";

    public static T Pick<T>(Random chance, params ReadOnlySpan<T> from) => from[chance.Next(from.Length)];

    private static (string Type, string Data) Given(string person, string to, Random chance) =>
        ("piece.given", $$"""{"kind":"{{Pick(chance, Kinds)}}","to":"people/{{to}}","person":"{{person}}"}""");

    private static (string Type, string Data) Started(Stage stage, string person) => ("stage.started", $$"""{"stage":"{{Word.Of(stage)}}","person":"{{person}}"}""");

    private static (string Type, string Data) Finished(Stage stage, string person) => ("stage.finished", $$"""{"stage":"{{Word.Of(stage)}}","person":"{{person}}"}""");

    private static IEnumerable<(string Type, string Data)> LetDown(Job job, string person) => job.Takedown.LetDown is not null || job.Route?.Quartz == true ? []
        : [("takedown.let-down", $$"""{"step":{{job.Takedown.NextStep}},"despite":["takedown-order/automatic-bridge"],"person":"{{person}}"}""")];

    // Now and then one is forgotten, and the takedown cannot end.
    private static IEnumerable<(string Type, string Data)> Groups(Job job, string person, Random chance) =>
        (job.Route?.Groups ?? []).Where(group => group is { Required: true, NeverWashed: false } && chance.Next(20) > 0).ToArray().Select(group => group.Group == "calendar"
            ? ("group.not-washed", $$"""{"group":"calendar","reason":"not-fitted","person":"{{person}}"}""")
            : ("group.declared", $$"""{"group":"{{group.Group}}","members":["parts"],"count":9,"flags":[{{string.Join(',', group.Flags.Select(flag => $"\"{flag}\""))}}],"person":"{{person}}"}"""));

    private static (string Type, string Data) Ended(string group, string person, Random chance) => chance.Next(4) == 0
        ? ("group.not-washed", $$"""{"group":"{{group}}","reason":"too fragile","person":"{{person}}"}""")
        : ("group.hand-cleaned", $$"""{"group":"{{group}}","person":"{{person}}"}""");

    private static string AnyGroup(Job job, Random chance) => Pick(chance, [.. job.Groups.Groups.Select(group => group.Id)]);

    private static string Any(Job job, Random chance) => Word.Of(Pick(chance, [.. job.Standings.Plan.Select(planned => planned.Stage)]));
}
