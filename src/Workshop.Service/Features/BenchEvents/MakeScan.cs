using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.People;
using Workshop.Core.Pieces;
using Workshop.Core.Scans;
using Workshop.Core.Words;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// A scan without logic of its own becomes the event it means, judged as every event is, at the scan's own time and with the scan as
/// its cause; or it is answered with what is to be asked. A scan that comes late tells what was done, as any late event does.
/// </summary>
internal static class MakeScan
{
    /// <summary>Ids longer than this are shortened before something is added to them; a receiver takes 200.</summary>
    private const int IdAtMost = 180;

    public static EventResult Judge(Turn turn, SaidEvent scan, CloudEvent one, Post post, EventSettings settings)
    {
        var (data, language, caller) = (scan.Data!, scan.Language, post.Caller);
        var codes = ReadCodes.Of(turn, ((ScanMade)data.Event!).Codes, language);
        if (codes.Problem is { } unreadable)
        {
            return Refused(one, codes, unreadable, language, codes.Line);
        }

        var time = EventTime.Of(turn, one, data.Manner, post, codes.History?.Job.Intake.TakenInAt, settings);
        var job = codes.History is { } history ? JobAt(history, time) : null;
        var setting = new ScanSetting
        {
            Person = SaidBy.Person(turn, new EventId(one.Source, one.Id), data.Manner.Person, time.Effective, one.Sequence ?? 0),
            Bench = caller.Bench ?? data.Manner.Bench,
            Role = Word.Of(caller.Role),
            At = time.Effective,
            Rules = turn.Rules,
            MaySay = said => WhoMayPost.May(caller.Role, said),
        };
        if (job is not null && Replaced(job, codes, data, setting) is { } gone)
        {
            return Refused(one, codes, GateProblems.Details([gone], language), language, gone.Line);
        }

        var contents = codes.Contents with { Job = job };
        var manner = data.Manner with { Already = !time.Live, Bench = setting.Bench };
        return ScanReading.Of(contents, setting) switch
        {
            ScanMeaning.Says says => Say(turn, scan, one, codes, says.Event, MannerOf(says.Event), post, settings),
            ScanMeaning.Asks asks => Ask(one, codes, language, asks.Line.Line(language), [.. asks.Choices.Select((choice, i) =>
                new ScanAnswer(choice.Say.Line(language), EventOf(one, codes.Under, choice.Event, MannerOf(choice.Event), i + 1, time.Live), [.. choice.Fill]))]),
            ScanMeaning.SignsOn on => Say(turn, scan, one, codes, new PersonSignedOn(), manner with { Person = on.Person, Bench = on.Bench }, post, settings),
            ScanMeaning.SaysNothing nothing => Nothing(nothing.Line),
            _ => throw new InvalidOperationException("A scan has a meaning that nobody answers."),
        };

        EventResult Nothing(Phrase line) => Refused(one, codes, ReadCodes.SaysNothing(line, language), language, line);

        // The badge beside a watch says who acts, but for a gift: there it says who is to get it.
        Manner MannerOf(WorkshopEvent said) => manner with { Person = said is PieceGiven ? setting.Person : contents.Person ?? setting.Person };
    }

    private static EventResult Say(Turn turn, SaidEvent scan, CloudEvent one, CodesRead codes, WorkshopEvent said, Manner manner, Post post, EventSettings settings)
    {
        var made = Made(one, codes.Under, said, manner, "did");
        var result = HearEvent.JudgeMade(
            turn, new SaidEvent(new CloudEventRead(made, made.Id, []), new DataReading { Event = said, Manner = manner }, scan.Language) { CausedBy = new EventId(one.Source, one.Id) }, post, settings);
        if (result.Problem is not { } problem)
        {
            return result with { Id = one.Id, Did = new DidEvent(made.Type, made.Source, made.Id, made.Subject) };
        }

        // What a gate only asks about is a question like any other; the answer goes on in spite of it.
        return Named(problem, "strength") is Strength.Ask && Named(problem, "against") is IEnumerable<AgainstView> against
            ? Ask(one, codes, scan.Language, result.Say.Line, [new ScanAnswer(
                Phrase.Of("Go on all the same").In(scan.Language), EventOf(one, codes.Under, said, manner with { Despite = [.. against.Select(gate => gate.Gate)] }, 1, !manner.Already), [])])
            : result with { Id = one.Id };
    }

    private static EventResult Ask(CloudEvent one, CodesRead codes, Language language, string line, ImmutableArray<ScanAnswer> choices)
    {
        var say = new Say(Signal.Ask, line) { Cautions = codes.History is { } history ? Saying.CautionsOf(history.Job, language) : [] };
        return new EventResult
        {
            Id = one.Id,
            Outcome = EventOutcome.Accepted,
            Job = codes.History?.Job.Label.ToString(),
            Version = codes.History?.Job.Version,
            Say = say,
            Ask = new ScanQuestion(say.Line, choices),
        };
    }

    private static EventResult Refused(CloudEvent one, CodesRead codes, ProblemDetails problem, Language language, Phrase? line) => new()
    {
        Id = one.Id,
        Outcome = EventOutcome.Refused,
        Job = codes.History?.Job.Label.ToString(),
        Say = line is null
            ? Saying.Of(problem, language, codes.History?.Job)
            : new Say(Signal.Stop, line.Line(language)) { Cautions = codes.History is { } history ? Saying.CautionsOf(history.Job, language) : [] },
        Problem = problem,
    };

    private static object? Named(ProblemDetails problem, string member) => problem.Extensions.TryGetValue(member, out var value) ? value : null;

    private static Objection? Replaced(Job job, CodesRead codes, DataReading data, ScanSetting setting) => LabelGates.ToldUnder(
        job, new Asking { Event = data.Event!, Role = setting.Role, At = setting.At, Rules = setting.Rules, Under = codes.Under }).FirstOrDefault();

    /// <summary>The job as it was when the scan was made: what came next then is not what comes next now.</summary>
    private static Job JobAt(JobHistory history, EventTime time) => history.Job.Last is not { } last || last.Effective <= time.Effective
        ? history.Job
        : Job.Replay(history.Job.Label, history.Entries.Where(entry => entry.Effective <= time.Effective));

    private static CloudEvent Made(CloudEvent scan, Label? under, WorkshopEvent said, Manner manner, string suffix)
    {
        var id = IdOf(scan, suffix);
        var data = EventCodec.Write(said, manner);
        return new CloudEvent
        {
            Id = id,
            Source = scan.Source,
            Type = said.Type,
            Subject = under?.ToString(),
            TimeText = scan.TimeText,
            Time = scan.Time,
            Sequence = scan.Sequence,
            Data = data,
            Text = Text(scan, id, under, said.Type, data, scan.TimeText, scan.Sequence).ToJsonString(WorkshopJson.Options),
            Digest = ContentDigest.Of(said.Type, under?.ToString(), scan.TimeText, scan.Sequence?.ToString(CultureInfo.InvariantCulture), JsonElement.Parse(data)),
        };
    }

    // Without a time it counts when it is chosen; what was done long ago keeps the time at which it was.
    private static JsonObject EventOf(CloudEvent scan, Label? under, WorkshopEvent said, Manner manner, int choice, bool live) => Text(
        scan, IdOf(scan, choice.ToString(CultureInfo.InvariantCulture)), under, said.Type, EventCodec.Write(said, manner), live ? null : scan.TimeText, sequence: null);

    private static JsonObject Text(CloudEvent scan, string id, Label? under, string type, string data, string? time, long? sequence)
    {
        var text = new JsonObject { ["specversion"] = "1.0", ["id"] = id, ["source"] = scan.Source, ["type"] = type };
        if (under is { } label)
        {
            text["subject"] = label.ToString();
        }

        if (sequence is { } number)
        {
            text["sequence"] = number.ToString(CultureInfo.InvariantCulture);
        }

        if (time is not null)
        {
            text["time"] = time;
        }

        text["data"] = JsonNode.Parse(data);
        return text;
    }

    private static string IdOf(CloudEvent scan, string suffix) =>
        $"{(scan.Id.Length <= IdAtMost ? scan.Id : Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(scan.Id))))}/{suffix}";
}
