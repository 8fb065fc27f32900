using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Letters;

/// <summary>A letter that could not be sent is somebody's to telephone, until they have or there is nothing to say any more.</summary>
public class UnsentLetterTests
{
    private static readonly LocalDate Day = new(2026, 3, 2);

    [Theory, BothEngines]
    public async Task After_the_last_attempt_the_desk_telephones_and_says_so_and_no_letter_goes_any_more(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail, engine);
        var job = await host.TakeIn();
        mail.Recipient = "451 later";
        await Rounds(host, 11);
        Assert.Empty(await Rows(host));
        await Rounds(host, 1, after: 11);

        var row = Assert.Single(await Rows(host));
        var letter = $"{job}/received-safely/1";
        Assert.Equal((letter, $"A letter about {job} could not be sent: telephone them"), (row.Text("ref"), row.Text("line")));
        Assert.Equal("given-up", Item(await host.Desk.Get($"/v1/jobs/{job}/letters")).Text("drop"));
        var unsent = Assert.Single((await host.Desk.Get("/v1/unsent-letters")).GetProperty("items").EnumerateArray());
        Assert.Equal((letter, 12, job, "received-safely"), (unsent.Text("letter"), unsent.GetProperty("attempts").GetInt32(), unsent.GetProperty("says")[0].Text("about"), unsent.GetProperty("says")[0].Text("moment")));
        Assert.Equal(unsent.Text("customer"), (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("customer").Text("id"));

        Assert.Equal(["/channel"], (await (await Told(host, letter, "email")).Problem()).Pointers);
        Assert.Equal("no-such-thing", (await (await Told(host, "J0/received-safely/1")).Problem()).Code);
        Assert.Equal(HttpStatusCode.NoContent, (await Told(host, letter)).StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, (await Told(host, letter)).StatusCode);

        mail.Recipient = "250 ok";
        await Rounds(host, 1, after: 12);
        Assert.Empty(await Rows(host));
        Assert.Empty((await host.Desk.Get("/v1/unsent-letters")).GetProperty("items").EnumerateArray());
        Assert.Empty(mail.Taken);
        Assert.Equal(("said", "telephone"), (Item(await host.Desk.Get($"/v1/jobs/{job}/letters")).Text("standing"), Item(await host.Desk.Get($"/v1/jobs/{job}/letters")).Text("channel")));
        Assert.Equal(1, await host.QueryFirst<long>("select count(*) from journal where site = 'main' and type = 'customer.told'"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_was_answered_who_has_died_and_a_watch_that_is_not_waited_for_any_more_need_no_call()
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail);
        var quoted = await host.TakeIn(LetterTests.Other("tom"));
        var died = await host.TakeIn(LetterTests.Other("una").Replace("960 117", "960 118"));
        var expected = (await (await host.Desk.PostJson("/v1/arrivals", """{ "customer": { "name": "eve", "email": "eve@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ] }, "words": "an old automatic" }""")).Json()).Text("label");
        mail.Recipient = "451 later";
        await Rounds(host, 30);
        await host.Say(quoted, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(quoted);
        await Rounds(host, 13, after: 30);
        Assert.Superset(
            new HashSet<string> { $"{quoted}/received-safely/1", $"{quoted}/quote-ready/1", $"{died}/received-safely/1", $"{expected}/arrival-asked/1" },
            (await Rows(host)).Select(row => row.Text("ref")).ToHashSet());

        await (await host.Desk.PostJson($"/v1/jobs/{quoted}/quotes/1/answer", """{ "accepted": true }""")).Json();
        var una = (await host.Desk.Get($"/v1/jobs/{died}/parties")).GetProperty("owner").Text("customer");
        using var changed = await host.Desk.Put($"/v1/customers/{una}", """{ "email": "una@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ], "deceasedOn": "2026-04-02" }""", "*");
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, (await Told(host, $"{expected}/arrival-asked/1", "post")).StatusCode);
        await Rounds(host, 1, after: 43);

        Assert.DoesNotContain(await Rows(host), row => row.Text("ref").StartsWith($"{quoted}/quote-", StringComparison.Ordinal) || row.Text("ref").StartsWith(died, StringComparison.Ordinal) || row.Text("ref").StartsWith(expected, StringComparison.Ordinal));

        // That it came is still news: nobody has said it.
        Assert.Contains(await Rows(host), row => row.Text("ref") == $"{quoted}/received-safely/1");
    }

    // One attempt a day, at ten: the longest pause between two is twelve hours.
    private static async Task Rounds(WorkshopHost host, int days, int after = 0)
    {
        for (var day = after; day < after + days; day++)
        {
            var on = Day.PlusDays(day);
            host.SetTo(on.Year, on.Month, on.Day, 10);
            await LetterTests.Round(host);
        }
    }

    private static async Task<JsonElement[]> Rows(WorkshopHost host) =>
        [.. (await host.Desk.Get("/v1/agenda?limit=500")).GetProperty("items").EnumerateArray().Where(row => row.Text("kind") == "letter-unsent")];

    private static Task<HttpResponseMessage> Told(WorkshopHost host, string letter, string channel = "telephone") =>
        host.Desk.PostJson("/v1/unsent-letters/told", $$"""{ "letter": "{{letter}}", "channel": "{{channel}}" }""");

    private static JsonElement Item(JsonElement letters) => letters.GetProperty("items").EnumerateArray().First(item => item.Text("moment") == "received-safely");
}
