using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Quotes;

public class AgreedTotalTests
{
    /// <summary>
    /// Random quotes with required and optional lines, plain and supplementary, answered in random order, some repeatedly, some never. What is
    /// agreed is reckoned here from the told events alone: the newest accepted plain version and the supplements accepted after it were sent.
    /// </summary>
    [Fact]
    public void What_is_agreed_is_the_sum_of_required_lines_and_accepted_options_and_the_account_agrees()
    {
        for (var seed = 1; seed <= 200; seed++)
        {
            var random = new Random(seed);
            var story = new Story { FoldsOnlyAtItsEnd = true }.Through(Stage.Diagnosis);
            var sent = new List<QuoteSent>();
            var answers = new Dictionary<int, QuoteAnswered>();
            for (var step = 0; step < 12; step++)
            {
                if (sent.Count == 0 || random.Next(3) == 0)
                {
                    var quote = RandomQuote(random, story, sent.Count + 1, supplementary: answers.Values.Any(one => one.Accepted) && random.Next(2) == 0);
                    story.DeskDoes(quote);
                    sent.Add(quote);
                }
                else
                {
                    var answer = RandomAnswer(random, sent[random.Next(sent.Count)]);
                    var decision = story.After(Duration.FromMinutes(1)).Says(answer, TestShop.Desk, source: "/desk/1");
                    Assert.Equal(answer.Version == sent.Count, decision.Outcome == Outcome.Accepted);
                    if (decision.Outcome == Outcome.Accepted)
                    {
                        answers[answer.Version] = answer;
                    }
                }

                var agreed = Reckoned(sent, answers);
                Assert.Equal(agreed, story.Job.Quotes.AgreedMinor);
                if (!story.Job.Standings.ReturnsUnrepaired)
                {
                    Assert.Equal(agreed, Account.Of(story.Job).AskedMinor);
                }
            }

            Assert.Equal(Portrait.Of(Job.Replay(story.Label, story.Entries)), Portrait.Of(story.Job));
        }
    }

    [Fact]
    public void Supplementary_work_that_takes_days_moves_the_promise_once_by_the_stop_and_by_its_days()
    {
        var story = new Story().Through(Stage.Quote);
        var promised = story.Job.Promise.On!.Value;
        var calendar = story.Rules.Calendar;
        story.At(2026, 3, 9, 10).DeskDoes(story.Quote(2, workingDays: 4) with { Supplementary = true });
        story.At(2026, 3, 11, 10).DeskDoes(Story.Answer(version: 2));

        // Stopped on Monday, agreed on Wednesday: two days, and four of work.
        Assert.Equal(calendar.OpenDayAfter(promised, 6), story.Job.Promise.On);
        Assert.Equal([promised, calendar.OpenDayAfter(promised, 6)], story.Job.Promise.History.Select(one => one.On).Distinct());
        Assert.Equal(PromiseReason.SupplementaryWork, story.Job.Promise.History[^1].Reason);
        Assert.Equal(2, story.Job.Promise.StoppedWorkingDays);

        // What stops the clock later counts from there on, and nothing twice.
        story.At(2026, 3, 16, 10).Does(new Workshop.Core.Holds.HoldPlaced { Hold = Workshop.Core.Holds.HoldReason.Customer, Reason = "thinks" });
        story.At(2026, 3, 18, 10).Does(new Workshop.Core.Holds.HoldLifted { Hold = Workshop.Core.Holds.HoldReason.Customer });
        Assert.Equal(calendar.OpenDayAfter(promised, 8), story.Job.Promise.On);
    }

    [Theory]
    [InlineData(4000, 4400, true)]
    [InlineData(4000, 4401, false)]
    [InlineData(4005, 4405, true)]
    [InlineData(4005, 4406, false)]
    [InlineData(0, 1, false)]
    public void The_shop_bears_a_rise_of_its_share_of_the_accepted_amount_and_no_unit_more(long accepted, long now, bool borne) =>
        Assert.Equal(borne, QuoteRules.Usual.Bears(accepted, now));

    private static QuoteSent RandomQuote(Random random, Story story, int version, bool supplementary) => story.Quote(version) with
    {
        Supplementary = supplementary ? true : null,
        WorkingDays = supplementary ? random.Next(3) : 20,
        Lines =
        [
            .. Enumerable.Range(0, random.Next(1, 6)).Select(i => new QuoteLine
            {
                Text = $"line {i}",
                Id = random.Next(2) == 0 ? $"l{i}" : null,
                AmountMinor = random.Next(0, 50_000),
                Optional = random.Next(2) == 0 ? true : null,
            }),
        ],
    };

    private static QuoteAnswered RandomAnswer(Random random, QuoteSent quote) => Story.Answer(random.Next(4) != 0, quote.Version) with
    {
        Options = random.Next(5) == 0 ? null : [.. quote.Named.Where(line => line.IsOptional && random.Next(4) != 0).Select(line => new OptionAnswer(line.Id!, random.Next(2) == 0))],
    };

    private static long? Reckoned(List<QuoteSent> sent, Dictionary<int, QuoteAnswered> answers)
    {
        long? agreed = null;
        foreach (var quote in sent)
        {
            if (answers.GetValueOrDefault(quote.Version) is { Accepted: true } answer)
            {
                var chosen = 0L;
                for (var i = 0; i < quote.Lines.Length; i++)
                {
                    var id = quote.Lines[i].Id ?? $"{i + 1}";
                    if (quote.Lines[i].Optional != true || (answer.Options ?? []).Any(one => one.Option == id && one.Accepted))
                    {
                        chosen += quote.Lines[i].AmountMinor;
                    }
                }

                agreed = quote.Supplementary == true ? agreed + chosen : chosen;
            }
        }

        return agreed;
    }
}
