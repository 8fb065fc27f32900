using NodaTime;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;

namespace Workshop.Service.Tests.Letters;

/// <summary>
/// A month of a shop in which things happen by chance, from one seed; every letter is held against what this test itself knows of the
/// watch at the moment the mail server took it.
/// </summary>
public class MonthOfLettersTests
{
    private const int Days = 31;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task In_a_month_nobody_has_two_letters_a_day_none_by_night_and_none_that_has_passed(int seed)
    {
        var chance = new Random(seed);
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail);
        var zone = DateTimeZoneProviders.Tzdb["Europe/Zurich"];
        string[] customers = [await Customer(host, "ida"), await Customer(host, "tom"), await Customer(host, "una")];
        var (watches, taken, written) = (new List<Watch>(), 0, new HashSet<(string, LocalDate)>());

        for (var hour = 0; hour < Days * 24; hour += chance.Next(1, 6))
        {
            host.Clock.Reset(Instant.FromUtc(2026, 3, 2, 0, chance.Next(60)) + Duration.FromHours(hour));
            var now = host.Clock.GetCurrentInstant().InZone(zone);
            if (now.Hour is >= 9 and < 22 && chance.Next(2) == 0)
            {
                await Happens(host, chance, watches, customers);
            }

            if (chance.Next(40) == 0)
            {
                await host.Restart();
            }

            await LetterTests.Round(host);
            foreach (var letter in mail.Taken.Skip(taken))
            {
                var to = letter.To.Mailboxes.Single().Address;
                Assert.True(now.Hour is >= 8 and < 20, $"seed {seed}: {letter.MessageId} at {now}");
                Assert.True(written.Add((to, now.Date)), $"seed {seed}: a second letter to {to} on {now.Date}");
                foreach (var watch in watches.Where(one => letter.TextBody!.Contains(one.Job)))
                {
                    watch.Holds(letter, seed);
                }
            }

            taken = mail.Taken.Count;
        }

        // A run in which nothing was written shows nothing.
        Assert.True(taken > 20, $"seed {seed}: {taken} letters");
        var moments = await host.QueryFirst<long>("select count(distinct moment) from letter where site = 'main' and state = 'said'");
        Assert.True(moments >= 5, $"seed {seed}: {moments} moments");
        Assert.Empty(host.Check().Differences);
    }

    private static async Task Happens(WorkshopHost host, Random chance, List<Watch> watches, string[] customers)
    {
        var open = watches.Where(one => one.State != "gone").ToArray();
        if (open.Length < 8 && chance.Next(3) == 0)
        {
            var customer = customers[chance.Next(customers.Length)];
            watches.Add(new Watch(await host.TakeIn($$"""{ "customer": "{{customer}}", "watch": { "words": "an old automatic" }, "terms": { "acceptedOn": "2026-03-01" }, "arrival": { "running": "running" }, "condition": "worn" }""")));
            return;
        }

        if (open.Length == 0)
        {
            return;
        }

        var watch = open[chance.Next(open.Length)];
        switch (watch.State)
        {
            case "here":
                await host.Say(watch.Job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
                watch.State = "diagnosed";
                break;
            case "diagnosed" or "asked" when watch.State == "diagnosed" || chance.Next(3) == 0:
                await host.SendQuote(watch.Job);
                (watch.State, watch.Version) = ("asked", watch.Version + 1);
                break;
            case "asked":
                watch.State = chance.Next(3) == 0 ? "yes" : "no";
                await (await host.Desk.PostJson($"/v1/jobs/{watch.Job}/quotes/{watch.Version}/answer", $$"""{ "accepted": {{(watch.State == "yes" ? "true" : "false")}} }""")).Json();
                break;
            case "no":
                await host.Say(watch.Job, "stage.finished", """{ "stage": "return-unrepaired", "person": "mara" }""");
                watch.State = "ready";
                break;
            case "ready":
                await (await host.Desk.PostJson($"/v1/jobs/{watch.Job}/hand-over", """{ "how": "collected" }""")).Json();
                watch.State = "gone";
                break;
        }
    }

    private static async Task<string> Customer(WorkshopHost host, string name) => (await (await host.Desk.PostJson(
        "/v1/customers", $$"""{ "name": "{{name}}", "email": "{{name}}@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ] }""")).Json()).Text("id");

    private sealed class Watch(string job)
    {
        public string Job => job;

        public string State { get; set; } = "here";

        public int Version { get; set; }

        /// <summary>What the letter says of this watch is so now.</summary>
        public void Holds(MimeKit.MimeMessage letter, int seed)
        {
            var (text, about) = (letter.TextBody!, $"seed {seed}: {letter.MessageId}, {job} is {State}");
            var own = text.Contains($"({job})") ? text[text.IndexOf($"({job})", StringComparison.Ordinal)..] : text;
            if (!text.Contains($"({job})"))
            {
                // Of one watch alone: each sentence is about it.
                Assert.True(!own.Contains("This is what it needs") || State == "asked", about);
                Assert.True(!own.Contains("we wrote to you what") || State == "asked", about);
                Assert.True(!own.Contains("is with us and in good hands") || State != "gone", about);
                Assert.True(!own.Contains("ready for you") || State == "ready", about);
                Assert.True(!own.Contains("Thank you for your yes") || State == "yes", about);
                Assert.True(!own.Contains("went back to you") || State == "gone", about);
            }
        }
    }
}
