using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.WearChecks;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Service.Demo;

/// <summary>
/// Lives through the demo's past in the order of time: each thing is told to the service at its own moment, by the code that serves benches
/// and desk, and whatever falls due between two moments is announced at its own.
/// </summary>
internal sealed class DemoPast(Writer writer, EventSettings settings)
{
    /// <summary>Many moments share a commit: nobody waits for them, and the disk is slow.</summary>
    private const int StepsInATurn = 80;

    // The same labels for the same past, so that what is written about a demo stays true for a day.
    private readonly Random labels = new(DemoLife.Seed);

    private readonly Dictionary<string, Label> worn = new(StringComparer.Ordinal);

    /// <param name="now">Where the past ends.</param>
    /// <exception cref="InvalidOperationException">Something was answered otherwise than the diary expects.</exception>
    public async Task Live(IEnumerable<DemoLife> lives, Instant now, CancellationToken cancel)
    {
        var lived = Instant.MinValue;
        foreach (var steps in InOrder(lives).Chunk(StepsInATurn))
        {
            await writer.Turn(Migrations.FirstSite, turn => Live(turn, steps, lived), cancel);
            lived = steps[^1].At;
        }

        await writer.Turn(Migrations.FirstSite, turn => Announce(turn, lived, until: now), cancel);
    }

    /// <summary>Every step in the order in which the service hears of it; each place counts its own.</summary>
    private static IEnumerable<DemoStep> InOrder(IEnumerable<DemoLife> lives)
    {
        var sequences = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (var step in lives.SelectMany(life => life.Steps.Index().Select(one => (Step: one.Item, life.Number, one.Index)))
            .OrderBy(one => one.Step.At).ThenBy(one => one.Number).ThenBy(one => one.Index)
            .Select(one => one.Step))
        {
            yield return step is SaidStep said ? said with { Sequence = sequences[said.From.Source] = sequences.GetValueOrDefault(said.From.Source) + 1 } : step;
        }
    }

    // Whoever puts a watch on the winder takes a place that is free, where there is one.
    private WorkshopEvent Placed(Turn turn, Label job, WorkshopEvent what)
    {
        if (what is not WearCheckStarted { Place: WearPlace.Winder } started
            || DemoShop.WinderPlaces.FirstOrDefault(place => !worn.TryGetValue(place, out var other) || turn.History(other)?.Job.WearChecks.Running is null) is not { } free)
        {
            return what;
        }

        worn[free] = job;
        return started with { WinderPlace = free };
    }

    private void Live(Turn turn, DemoStep[] steps, Instant lived)
    {
        foreach (var step in steps)
        {
            Announce(turn, lived, until: step.At);
            lived = step.At;
            var then = turn.At(step.At, Draw);
            switch (step)
            {
                case SaidStep said:
                    Say(then, said);
                    break;
                case DeskStep desk:
                    desk.Do(new DemoDesk(then, settings), desk.Life);
                    break;
                default:
                    throw new InvalidOperationException($"Nobody knows how to live a {step.GetType().Name}.");
            }
        }
    }

    private Label Draw(LabelKind kind)
    {
        Span<int> free = stackalloc int[Label.Length - 2];
        foreach (ref var place in free)
        {
            place = labels.Next(Label.Alphabet.Length);
        }

        return Label.Complete(kind, free);
    }

    private static void Announce(Turn turn, Instant lived, Instant until)
    {
        while (AgendaStore.FirstWake(turn) is { } wake && Microseconds.Read(wake) is var moment && moment <= until)
        {
            // What was told late may have been due long ago; it is said when it became known.
            if (SweepDue.SayDue(turn.At(Instant.Max(moment, lived))) == 0)
            {
                return;
            }
        }
    }

    private void Say(Turn turn, SaidStep said)
    {
        var (events, _) = CloudEventReader.Read(JsonSerializer.SerializeToUtf8Bytes(EventOf(said, Placed(turn, said.Life.Label, said.What(said.Life.Label))), WorkshopJson.Options), isBatch: false);
        var post = PostBenchEvents.Receive(turn, said.From.Caller, holdUntil: turn.Now);
        var result = HearEvent.Hear(turn, SaidEvent.Of(events[0]), post, settings).Result;
        if (result.Outcome != said.Expected)
        {
            throw new InvalidOperationException(
                $"Life {said.Life.Number} of the demo, {events[0].Event?.Type} at {said.At}: {result.Outcome}, not {said.Expected}. {result.Say.Line} {result.Problem?.Detail}");
        }
    }

    private static JsonObject EventOf(SaidStep said, WorkshopEvent what)
    {
        var manner = new Manner { Person = said.Person is { } person ? DemoTown.Person(person).Badge : null, Bench = said.From.Bench, Despite = said.Despite };
        return new JsonObject
        {
            ["specversion"] = "1.0",
            ["id"] = $"demo-{said.Sequence}",
            ["source"] = said.From.Source,
            ["sequence"] = $"{said.Sequence}",
            ["time"] = InstantPattern.ExtendedIso.Format(said.Happened ?? said.At),
            ["type"] = what.Type,
            ["subject"] = said.Life.Label.ToString(),
            ["data"] = JsonNode.Parse(EventCodec.Write(what, manner)),
        };
    }
}
