using System.Collections.Immutable;
using System.Text.Json;
using Workshop.Core.Corrections;
using Workshop.Core.Journal;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.Warranties;
using Workshop.Core.WearReports;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>
/// What customers said of their watches stands once in the watch's journal, or waits flagged for a person; what was decided for a watch with an
/// order was heard by its storefront.
/// </summary>
internal static class FollowedInside
{
    private const string SaidSql = """
        select id, type, body, flags
        from storefront_message
        where site = @site
          and type in ('quote.answered', 'claim.reported', 'wear.reported', 'shipment.delivered')
        order by number
        """;

    // Nothing else can be wrong with what these customers say.
    private static readonly HashSet<string> Expected = new(["old-quote", "refused", "for-review"], StringComparer.Ordinal);

    public static IEnumerable<string> FaultsIn(Evidence evidence, Shopfront front)
    {
        var said = evidence.Rows<Row>(SaidSql).Select(row => new Said(row)).ToArray();
        foreach (var one in said.Where(one => one.Flags.Any(flag => !Expected.Contains(flag))))
        {
            yield return $"FollowedInside: {one.Id} is flagged {string.Join(", ", one.Flags)}.";
        }

        var heard = front.HeardSoFar().Select(one => JsonElement.Parse(one.Body)).Select(told => $"{told.GetProperty("type").GetString()} {Names(told.GetProperty("data"))}").ToHashSet(StringComparer.Ordinal);
        foreach (var (label, written) in evidence.Jobs)
        {
            var job = label.ToString();
            var entries = Reckoning.InOrder(written);
            var counted = entries.Where(entry => entry.Counts).Select(entry => entry.Event).ToArray();
            foreach (var fault in Answers(job, written, entries, said).Concat(Reports(job, counted, said)))
            {
                yield return fault;
            }

            if (evidence.Ordered.Contains(job))
            {
                foreach (var missing in counted.Select(one => ToldOf(job, one)).OfType<string>().Where(told => !heard.Contains(told)))
                {
                    yield return $"FollowedInside: nobody outside heard {missing}.";
                }
            }
        }
    }

    private static IEnumerable<string> Answers(string job, ImmutableArray<Entry> written, ImmutableArray<Entry> entries, Said[] said)
    {
        // As they were written: what was noted may have been settled as having happened since, beside the one that counted first.
        foreach (var twice in written.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<QuoteAnswered>().GroupBy(one => one.Version).Where(same => same.Count() > 1))
        {
            yield return $"FollowedInside: version {twice.Key} of {job} was answered {twice.Count()} times.";
        }

        foreach (var one in said.Where(one => one.Type == "quote.answered" && one.Job == job && one.Flags.Length == 0))
        {
            var (version, accepted) = (one.Data.GetProperty("quote").GetInt32(), one.Data.GetProperty("accepted").GetBoolean());
            var same = entries.Where(entry => entry.Event is QuoteAnswered answer && answer.Version == version && answer.Accepted == accepted).ToArray();
            if (!same.Any(entry => entry.Counts || WasTakenBack(entry, entries)))
            {
                var there = entries.Where(entry => entry.Event is QuoteAnswered answer && answer.Version == version).Select(entry => $"{entry.Disposition}{(entry.OfNoEffect ? ", of no effect" : "")}, {string.Join(' ', entry.Flags)}");
                yield return $"FollowedInside: {one.Id} was taken, and {job} does not say so; there is {string.Join("; ", there)}.";
            }
        }

        foreach (var answer in entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<QuoteAnswered>().Where(answer => answer.Channel == AnswerChannel.Storefront))
        {
            if (!said.Any(one => one.Type == "quote.answered" && one.Job == job && one.Data.GetProperty("quote").GetInt32() == answer.Version))
            {
                yield return $"FollowedInside: {job} has an answer to version {answer.Version} that nobody gave.";
            }
        }
    }

    // An answer is taken as a repeat of one that counts; whether that one still does is then a manager's word, who may take back the
    // answer or what settled it.
    private static bool WasTakenBack(Entry answer, ImmutableArray<Entry> entries) =>
        answer.OfNoEffect || entries.Any(entry => entry is { Event: ReportSettled settled, OfNoEffect: true } && settled.Of == answer.Id);

    private static IEnumerable<string> Reports(string job, WorkshopEvent[] counted, Said[] said)
    {
        foreach (var (type, number) in new[] { ("claim.reported", counted.Count(one => one is ClaimReported)), ("wear.reported", counted.Count(one => one is WearReported)) })
        {
            // What waited for a person may count by now.
            var taken = said.Count(one => one.Type == type && one.Job == job && one.Flags.Length == 0);
            var waited = said.Count(one => one.Type == type && one.Job == job && one.Flags.Contains("for-review"));
            if (number < taken || number > taken + waited)
            {
                yield return $"FollowedInside: {job} has {number} of {type}; {taken} were taken and {waited} waited.";
            }
        }
    }

    private static string? ToldOf(string job, WorkshopEvent one) => one switch
    {
        QuoteSent sent => $"quote.issued {job} {sent.Version}",
        PromiseGiven { BeforeOurRecords: not true } given => $"promise.made {job} {given.On:uuuu'-'MM'-'dd}",
        PromiseMoved moved => $"promise.moved {job} {moved.To:uuuu'-'MM'-'dd}",
        ClaimDecided decided => $"claim.decided {job} {decided.Claim}",
        _ => null,
    };

    private static string Names(JsonElement data) =>
        string.Join(' ', new[] { "job", "quote", "by", "claim" }.Where(name => data.TryGetProperty(name, out _)).Select(name => data.GetProperty(name).ToString()));

    private sealed record Row
    {
        public required string Id { get; init; }

        public required string Type { get; init; }

        public required string Body { get; init; }

        public required string Flags { get; init; }
    }

    private sealed class Said(Row row)
    {
        public string Id => row.Id;

        public string Type => row.Type;

        public JsonElement Data { get; } = JsonElement.Parse(row.Body).GetProperty("data");

        public string Job => Data.GetProperty("job").GetString()!;

        public string[] Flags { get; } = JsonSerializer.Deserialize<string[]>(row.Flags)!;
    }
}
