using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Words;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Outgoing;

/// <summary>
/// What a job newly came to is told outside, in the turn that decided it: each message names the job, its order where it has one, and
/// shows <c>public</c>, what the customer's page shows. Nothing else of the house gets into one.
/// </summary>
public static class TellOutside
{
    /// <summary>For the writer, whose turns lie below.</summary>
    public static readonly Outside Doors = new(After, TakenIn, Look);

    /// <summary>After a decision about a job.</summary>
    /// <param name="before">The job as it was.</param>
    /// <param name="cause">What was decided about.</param>
    /// <param name="at">When that happened.</param>
    public static void After(Turn turn, Job before, Decision decision, EventId cause, Instant at)
    {
        // An intake is told by whoever takes in, once all of it is kept.
        if (!before.TakenIn || decision.Entries.IsEmpty)
        {
            return;
        }

        var job = decision.Job;
        var stream = StreamEntry.OfJob(job.Label);
        var said = new Said(turn, job);
        foreach (var (_, entry) in decision.Entries.Where(one => one.Stream == stream && one.Entry.Counts))
        {
            said.Tell(OfEntry(turn, job, entry), entry);
        }

        foreach (var news in StateNews.Between(before, job, turn.Rules))
        {
            said.Tell(news, cause, at);
        }

        Place(turn, before, job, said);
        foreach (var other in decision.Entries.Where(one => one.Stream != stream && one.Stream.StartsWith("job/", StringComparison.Ordinal)).Select(one => one.Stream).Distinct())
        {
            Look(turn, Label.Read(other["job/".Length..]));
        }
    }

    /// <summary>A watch came into the house, and all that is known of it is kept.</summary>
    public static void TakenIn(Turn turn, Label label)
    {
        if (turn.History(label)?.Job is not { TakenIn: true } job || PublicWords.Find(turn, label) is not null)
        {
            return;
        }

        // One of the paper book has been here for a while; that is no news.
        var said = new Said(turn, job);
        if (job.Intake.Adopted is null)
        {
            var received = new JsonObject { ["differsFromOrder"] = Node(job.Intake.Ordered?.Differs), ["publicAddress"] = PageFor(turn, job, PublicView.Status) };
            said.Tell(new News("job.received", received), $"job.received/{StreamEntry.OfJob(label)}", job.Intake.TakenInAt ?? turn.Now);
        }

        Remember(turn, job, PublicStanding.Of(job, turn.Rules, turn.Now), new PublicWord { Number = 0, Stage = "", WaitingOn = "" });
    }

    /// <summary>Looks whether a watch is where it was last said to be: after what another stream wrote into it, and when a day has passed.</summary>
    public static void Look(Turn turn, Label label)
    {
        if (turn.History(label)?.Job is { TakenIn: true } job)
        {
            Compare(turn, job, new Said(turn, job));
        }
    }

    /// <summary>Looks at the watches that time alone may have changed.</summary>
    /// <returns>How many there were, at most <paramref name="limit"/>.</returns>
    public static int LookAgain(Turn turn, int limit)
    {
        var waiting = PublicWords.Waiting(turn, limit);
        foreach (var label in waiting)
        {
            Look(turn, label);
        }

        return waiting.Count;
    }

    // Most of what happens changes nothing that anybody outside sees; the memory is asked only where something may have.
    private static void Place(Turn turn, Job before, Job job, Said said)
    {
        var (rules, now) = (turn.Rules, turn.Now);
        var (was, stands) = (PublicStanding.Of(before, rules, now), PublicStanding.Of(job, rules, now));
        if ((was.Stage, was.WaitingOn) != (stands.Stage, stands.WaitingOn) || PublicStandingChange.Next(before, rules, now) != PublicStandingChange.Next(job, rules, now))
        {
            Compare(turn, job, said);
        }
    }

    private static void Compare(Turn turn, Job job, Said said)
    {
        var (rules, now) = (turn.Rules, turn.Now);
        var stands = PublicStanding.Of(job, rules, now);
        var last = PublicWords.Find(turn, job.Label) ?? new PublicWord { Number = 0, Stage = "", WaitingOn = "" };
        var stream = StreamEntry.OfJob(job.Label);
        if (PublicStandingChange.RunOut(job, rules, now) is { } quote && quote.Version != last.ExpiredQuote)
        {
            said.Tell(
                new News("quote.expired", new JsonObject { ["quote"] = quote.Version, ["validThrough"] = Node(quote.ValidThrough) }),
                $"quote.expired/{stream}/{quote.Version}", rules.Calendar.EndOfDay(quote.ValidThrough));
            last = last with { ExpiredQuote = quote.Version };
        }

        if ((last.Stage, last.WaitingOn) != (Word.Of(stands.Stage), Word.Of(stands.WaitingOn)))
        {
            said.Tell(
                new News("job.stage-changed", new JsonObject
                {
                    ["publicStage"] = Word.Of(stands.Stage),
                    ["since"] = Node(stands.Since),
                    ["next"] = stands.Next is { } next ? Word.Of(next) : null,
                    ["waitingOn"] = Word.Of(stands.WaitingOn),
                    ["waitingFor"] = stands.WaitingFor is { } what ? Word.Of(what) : null,
                }),
                $"job.stage-changed/{stream}/{last.Number + 1}", now);
        }

        Remember(turn, job, stands, last);
    }

    private static void Remember(Turn turn, Job job, PublicStanding stands, PublicWord last)
    {
        var word = last with { Stage = Word.Of(stands.Stage), WaitingOn = Word.Of(stands.WaitingOn), LookAgain = Microseconds.Of(PublicStandingChange.Next(job, turn.Rules, turn.Now)) };
        PublicWords.Save(turn, job.Label, (word.Stage, word.WaitingOn) == (last.Stage, last.WaitingOn) ? word : word with { Number = last.Number + 1 });
    }

    // A storefront shows its customer the page; for a watch without an order the desk makes a link when somebody asks for one. The token stands in the
    // message alone, as it would in a letter; the house keeps its hash.
    private static string? PageFor(Turn turn, Job job, PublicView view) =>
        job.Intake.Ordered is { } ordered ? EditPublicLinks.AddressIn(turn, job.Label, view, ordered.Storefront) : null;

    // What an entry itself says; one that the customer had before our records is no news.
    private static News? OfEntry(Turn turn, Job job, Entry entry) => entry.Event switch
    {
        QuoteSent sent => new News("quote.issued", new JsonObject { ["quote"] = sent.Version, ["validThrough"] = Node(sent.ValidThrough), ["answerAddress"] = PageFor(turn, job, PublicView.Decide) }),
        PromiseGiven { BeforeOurRecords: not true } given => new News("promise.made", Promised(turn, job, given.On)) { At = entry.Received },
        PromiseMoved moved => new News("promise.moved", With(Promised(turn, job, moved.To), new JsonObject
        {
            ["was"] = Node(moved.From),
            ["reason"] = Word.Of(moved.Reason),

            // By more open days than the shop lets pass without writing to the customer.
            ["worthAMessage"] = PromiseArithmetic.OpenDaysMoved(moved, turn.Rules.Calendar) > turn.Rules.Promises.MessageBeyondWorkingDays,
        }))
        { At = entry.Received },
        Core.Warranties.ClaimDecided decided => new News("claim.decided", new JsonObject
        {
            ["claim"] = decided.Claim,
            ["covered"] = decided.Covered,
            ["lines"] = decided.Lines is { } lines ? new JsonArray([.. lines.Select(line => JsonValue.Create(line))]) : null,
            ["goodwill"] = decided.Goodwill,
        }),
        _ => null,
    };

    private static JsonObject Promised(Turn turn, Job job, LocalDate by) => new()
    {
        ["by"] = Node(by),
        ["mostLikely"] = job.Promise.On == by ? Node(PromiseWords.MostLikely(job, turn.Rules, turn.Now)) : null,
    };

    private static JsonObject With(JsonObject one, JsonObject other)
    {
        foreach (var (name, value) in other)
        {
            one[name] = value?.DeepClone();
        }

        return one;
    }

    internal static JsonNode? Node<T>(T? value) => value is null ? null : JsonSerializer.SerializeToNode(value, WorkshopJson.Options);

    /// <summary>What one turn says of one job; the public page is drawn once for all of it.</summary>
    private sealed class Said(Turn turn, Job job)
    {
        private readonly string stream = StreamEntry.OfJob(job.Label);
        private string? shown;

        public void Tell(News? news, Entry entry)
        {
            if (news is not null)
            {
                Put(news, $"{news.Type}/{stream}/{entry.Id}", entry.StreamVersion, news.At ?? entry.Effective);
            }
        }

        public void Tell(News news, EventId cause, Instant at) => Tell(news, $"{news.Type}/{stream}/{cause}", at);

        public void Tell(News news, string id, Instant at) => Put(news, id, job.Version, at);

        private void Put(News news, string id, long version, Instant at)
        {
            var data = new JsonObject { ["job"] = job.Label.ToString() };
            if (job.Intake.Ordered is { } ordered)
            {
                data["order"] = ordered.Order;
                data["line"] = ordered.Line;
                data["piece"] = ordered.Piece;
            }

            data["version"] = version;
            data["at"] = Node(at);
            foreach (var (name, value) in news.Data.Where(one => one.Value is not null))
            {
                data[name] = value!.DeepClone();
            }

            data["public"] = Shown();
            turn.Put(new OutboxMessage { Id = id, Type = news.Type, Stream = stream, Body = data.ToJsonString(WorkshopJson.Options), Storefront = job.Intake.Ordered?.Storefront });
        }

        // What the house has written to the customer in its own words stands on their page alone: it may name them.
        private JsonNode? Shown() => JsonNode.Parse(shown ??= JsonSerializer.Serialize(
            MakePublicStatus.In(turn, job.Label)! with { Notes = ImmutableArray<PublicNote>.Empty }, WorkshopJson.Options));
    }
}
