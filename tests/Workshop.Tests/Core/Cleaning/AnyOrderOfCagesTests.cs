using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;

namespace Workshop.Tests.Core.Cleaning;

/// <summary>Whatever is said of cages, live or late, by whomever: no cage is ever two watches' or two groups', and folding again says the same.</summary>
public class AnyOrderOfCagesTests
{
    private static readonly string[] Cages = ["cage-1", "cage-2"];
    private static readonly string[] Groups = ["train", "bridges"];

    [Fact]
    public void Of_100_random_days_none_leaves_a_cage_with_two_watches()
    {
        var (accepted, noted, refused, settled) = (0, 0, 0, 0);
        for (var seed = 0; seed < 100; seed++)
        {
            var day = new Day(seed);
            for (var step = 0; step < 40; step++)
            {
                switch (day.Step())
                {
                    case Outcome.Accepted:
                        accepted++;
                        break;
                    case Outcome.Noted:
                        noted++;
                        break;
                    default:
                        refused++;
                        break;
                }

                day.MustBeWhole();
            }

            settled += day.Settled;
        }

        // A walk that never met a gate would prove nothing.
        Assert.True(accepted > 400 && noted > 100 && refused > 400 && settled > 20, $"{accepted} accepted, {noted} noted, {refused} refused, {settled} settled");
    }

    private sealed class Day(int seed)
    {
        private readonly Random chance = new(seed);
        private readonly Dictionary<Label, ImmutableArray<Entry>> streams = Enumerable.Range(1, 3).ToDictionary(i => Label.Complete(LabelKind.Job, [0, 0, 0, 0, 0, i]), i => TakenIn());
        private long position = 100;
        private int said;
        private Instant now = TestShop.Local(2026, 3, 2, 10);

        public int Settled { get; private set; }

        public Outcome Step()
        {
            now += Duration.FromMinutes(chance.Next(1, 20));
            var label = streams.Keys.ElementAt(chance.Next(streams.Count));
            var entries = streams[label];
            var job = Job.Replay(label, entries);
            var loads = entries.Where(entry => entry.Event is CageLoaded).ToArray();
            WorkshopEvent one = chance.Next(10) switch
            {
                < 5 => new CageLoaded { Cage = Cages[chance.Next(2)], Group = Groups[chance.Next(2)], Run = "5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10" },
                < 8 => new CageEmptied { Cage = Cages[chance.Next(2)] },
                8 when !job.Reviews.IsEmpty => new Workshop.Core.Reports.ReportSettled { Of = job.Reviews[chance.Next(job.Reviews.Length)].Id, As = (Workshop.Core.Reports.SettledAs)chance.Next(2), Reason = "asked" },
                _ when loads.Length > 0 => new Workshop.Core.Corrections.CorrectionMade { Of = loads[chance.Next(loads.Length)].Id, Reason = "the wrong cage" },
                _ => new CageEmptied { Cage = Cages[chance.Next(2)] },
            };
            var live = one is not (CageLoaded or CageEmptied) || chance.Next(2) == 0;
            var at = live ? now : now - Duration.FromMinutes(chance.Next(3, 240));
            var id = new EventId("/devices/bench-1/1", $"e-{++said}");
            var decision = JobRules.Decide(
                new JobHistory(job, () => Workshop.Core.Corrections.Reckoning.Of(entries).Entries),
                new Incoming { Id = id, Job = label, Event = one, Effective = at, Received = now, OrderSequence = said, Live = live, Manner = new Manner { Person = TestShop.Manager, Despite = ["cage-loaded"] } },
                new Facts
                {
                    Rules = TestShop.Rules,
                    Person = TestShop.Rules.People[TestShop.Manager],
                    Role = "manager",
                    NextPosition = position + 1,
                    Cage = one is CageLoaded or CageEmptied ? Known(label, one, at) : null,
                });
            position += decision.Entries.Length;
            streams[label] = entries.AddRange(decision.Entries.Where(written => written.Stream == StreamEntry.OfJob(label)).Select(written => written.Entry));
            Settled += one is Workshop.Core.Reports.ReportSettled && decision.Outcome == Outcome.Accepted ? 1 : 0;
            return decision.Outcome;
        }

        public void MustBeWhole()
        {
            foreach (var cage in AllHoldings().GroupBy(held => held.Held.Thing))
            {
                var held = cage.OrderBy(one => one.Held.From).ThenBy(one => one.Held.Until ?? Instant.MaxValue).ToArray();
                foreach (var (one, next) in held.Zip(held.Skip(1)))
                {
                    if (!(one.Held.Until <= next.Held.From))
                    {
                        Assert.Fail($"seed {seed}, step {said}: {one} and {next}; {string.Join(" | ", streams[one.Job].Select(entry => $"{entry.Id.Id} {entry.Effective} {entry.Event} {entry.Disposition}"))}");
                    }
                }
            }

            // In whatever order its entries came, a job folds to the same cages.
            foreach (var (label, entries) in streams)
            {
                Assert.Equal(Job.Replay(label, entries).Cages.Holdings.AsEnumerable(), Job.Replay(label, entries.OrderBy(_ => chance.Next())).Cages.Holdings.AsEnumerable());
            }
        }

        private CageFacts Known(Label label, WorkshopEvent one, Instant at)
        {
            var cage = one is CageLoaded loaded ? loaded.Cage : ((CageEmptied)one).Cage;
            return new CageFacts
            {
                Bindings = [.. AllHoldings().Where(held => held.Held.Thing == LoadBook.ThingPrefix + cage && (held.Held.Until is not { } until || until > at)).OrderBy(held => held.Held.From)
                    .Select(held => new CageBinding(held.Job, held.Held.Holder.Split('/')[1], held.Held.Run!, held.Held.From, held.Held.Until, held.Held.OpenedBy))],
                Loaded = one is CageLoaded load ? new RunNeighbour(label, load.Group, [], "OF 9") : null,
            };
        }

        private IEnumerable<(Label Job, Holding Held)> AllHoldings() => streams.SelectMany(one => Job.Replay(one.Key, one.Value).Cages.Holdings.Select(held => (one.Key, held)));

        private static ImmutableArray<Entry> TakenIn() =>
        [
            new Entry
            {
                Id = new EventId("/desk/front", "taken-in"),
                Place = new Place(TestShop.Local(2026, 3, 1, 9), "/desk/front", 0, 1),
                StreamVersion = 1,
                Received = TestShop.Local(2026, 3, 1, 9),
                Event = new Workshop.Core.Intake.JobTakenIn { Variant = "full-automatic", Customer = "c-1", Watch = "w-1" },
                Judged = new Judged { Route = TestShop.FullAutomatic },
            },
        ];
    }
}
