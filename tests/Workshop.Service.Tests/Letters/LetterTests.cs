using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Letters;

/// <summary>From what happens to a watch to what its people are told of it, through a mail server or the storefront.</summary>
public class LetterTests
{
    [Theory, BothEngines]
    public async Task A_watch_that_came_is_told_once_with_the_letters_own_id(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail, engine);
        var job = await host.TakeIn();

        await Task.WhenAll(Round(host), Round(host));
        await Round(host);

        var letter = Assert.Single(mail.Taken);
        Assert.Equal($"{job}/received-safely/1@vennlowe.example", letter.MessageId);
        Assert.Equal(("ida@marlow.example", $"Your watch is here: {job}"), (letter.To.Mailboxes.Single().Address, letter.Subject));
        Assert.Contains("Orrery & Finch Halyard", letter.TextBody);
        Assert.Contains("Orrery &amp; Finch Halyard", letter.HtmlBody);
        var item = Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "received-safely");
        Assert.Equal(("said", "email", $"{job}/received-safely/1"), (item.Text("standing"), item.Text("channel"), item.Text("letter")));

        // Said is an entry; a bench sees no customer in it.
        Assert.Equal(1, await Entries(host, job));
        Assert.DoesNotContain(item.Text("customer"), await host.Bench.GetStringAsync($"/v1/jobs/{job}/history"));
        Assert.Empty(await Messages(host));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Without_a_mail_server_the_storefront_is_given_the_letter_under_the_same_id(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();

        await Round(host);
        await Round(host);

        var message = Assert.Single(await Messages(host));
        Assert.Equal(($"message.due/job/{job}/received-safely/1", $"{job}/received-safely/1", "received-safely"), (message.Id, message.Body.Text("letter"), message.Body.Text("moment")));
        Assert.Equal(("ida@marlow.example", "en", $"Your watch is here: {job}"), (message.Body.Text("to"), message.Body.Text("language"), message.Body.Text("subject")));
        Assert.Equal("storefront", Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "received-safely").Text("channel"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task The_shop_says_who_speaks_of_a_moment_and_the_other_is_silent()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        await host.Save("rules", "main", """{ "messages": { "spokenBy": { "received-safely": "storefront", "quote-ready": "nobody" } } }""");
        var job = await host.TakeIn();
        await Round(host);
        Assert.Empty(mail.Taken);
        Assert.Equal("received-safely", Assert.Single(await Messages(host)).Body.Text("moment"));

        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        host.Clock.Advance(Duration.FromDays(1));
        await Round(host);
        Assert.Empty(mail.Taken);
        Assert.Single(await Messages(host));
        Assert.Equal("nobody-writes", Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "quote-ready").Text("drop"));

        // What is still to come is the workshop's: one of them each time.
        host.Clock.Advance(Duration.FromDays(3));
        await Round(host);
        Assert.Equal($"{job}/quote-reminder/1-3@vennlowe.example", Assert.Single(mail.Taken).MessageId);
        Assert.Single(await Messages(host));
    }

    [Fact]
    public async Task At_20_00_a_letter_waits_for_08_00_and_what_has_passed_by_then_is_not_said()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        host.SetTo(2026, 3, 2, 19, 59);
        var early = await host.TakeIn();
        await Round(host);
        Assert.Equal($"{early}/received-safely/1@vennlowe.example", Assert.Single(mail.Taken).MessageId);

        // Another customer, so that one a day does not hide the hour.
        host.SetTo(2026, 3, 2, 20, 0);
        var late = await host.TakeIn(Other("tom"));
        await Round(host);
        Assert.Single(mail.Taken);
        Assert.Equal(("waiting", "quiet-hours"), (Item(await host.Desk.Get($"/v1/jobs/{late}/letters"), "received-safely").Text("standing"), Item(await host.Desk.Get($"/v1/jobs/{late}/letters"), "received-safely").Text("wait")));
        host.SetTo(2026, 3, 3, 7, 59);
        await Round(host);
        Assert.Single(mail.Taken);
        host.SetTo(2026, 3, 3, 8, 0);
        await Round(host);
        Assert.Equal($"{late}/received-safely/1@vennlowe.example", mail.Taken[^1].MessageId);

        // A quote sent in the evening and answered before the morning.
        await host.Say(late, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        host.SetTo(2026, 3, 3, 20, 30);
        await host.SendQuote(late);
        await Round(host);
        host.SetTo(2026, 3, 4, 7, 55);
        await (await host.Desk.PostJson($"/v1/jobs/{late}/quotes/1/answer", """{ "accepted": true }""")).Json();
        host.SetTo(2026, 3, 4, 8, 0);
        await Round(host);
        Assert.Equal($"{late}/approval-confirmed/1@vennlowe.example", mail.Taken[^1].MessageId);
        Assert.DoesNotContain(mail.Taken, letter => letter.MessageId!.Contains("quote-ready"));
    }

    [Fact]
    public async Task Whoever_collects_at_five_to_nine_is_not_reminded_at_nine()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        var (stays, goes) = (await Ready(host), await Ready(host, "tom"));
        await Round(host);
        host.SetTo(2026, 3, 4, 12);
        await Round(host);
        var before = mail.Taken.Count;

        // Both were ready on 3 March; the reminder is due on the 10th at nine.
        host.SetTo(2026, 3, 10, 8, 55);
        Assert.True((await (await host.Desk.PostJson($"/v1/jobs/{goes}/hand-over", """{ "how": "collected" }""")).Json()).GetProperty("handedOver").GetBoolean());
        host.SetTo(2026, 3, 10, 9, 0);
        await Round(host);

        Assert.Equal(
            new[] { $"tom@marlow.example {goes}/handed-over/1", $"ida@marlow.example {stays}/ready-reminder/1-7" }.Order(),
            mail.Taken.Skip(before).Select(letter => $"{letter.To.Mailboxes.Single().Address} {string.Join('/', letter.MessageId!.Split('@')[0].Split('/').Take(3))}").Order());
        Assert.Equal(("dropped", "passed"), (Item(await host.Desk.Get($"/v1/jobs/{goes}/letters"), "ready-reminder").Text("standing"), Item(await host.Desk.Get($"/v1/jobs/{goes}/letters"), "ready-reminder").Text("drop")));
    }

    [Theory, BothEngines]
    public async Task What_is_due_on_one_day_stands_in_one_letter_also_of_two_watches(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail, engine);
        host.SetTo(2026, 3, 2, 21);
        var first = await host.TakeIn();
        var customer = (await host.Desk.Get($"/v1/jobs/{first}/parties")).GetProperty("owner").Text("customer");
        var second = await host.TakeIn($$"""{ "customer": "{{customer}}", "watch": { "maker": "Tirvalle", "words": "an old automatic" } }""");
        await Round(host);
        host.SetTo(2026, 3, 3, 8);
        await Round(host);

        var letter = Assert.Single(mail.Taken);
        Assert.Equal("News of your watches", letter.Subject);
        Assert.Contains($"Orrery & Finch Halyard ({first})", letter.TextBody);
        Assert.Contains($"Tirvalle ({second})", letter.TextBody);
        Assert.Equal((1, 1), (await Entries(host, first), await Entries(host, second)));

        // A second letter on the same day waits for the next.
        await host.Say(first, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(first);
        host.SetTo(2026, 3, 3, 17);
        await Round(host);
        Assert.Single(mail.Taken);
        host.SetTo(2026, 3, 4, 8);
        await Round(host);
        Assert.Equal(2, mail.Taken.Count);
        Assert.Equal($"{first}/quote-ready/1@vennlowe.example", mail.Taken[^1].MessageId);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_process_that_dies_after_the_mail_server_took_it_sends_it_again_under_the_same_id(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail, engine);
        var job = await host.TakeIn();
        var dies = new CancellationTokenSource();
        mail.Took = dies.Cancel;
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Round(host, dies.Token));
        mail.Took = null;
        Assert.Equal(0, await Entries(host, job));

        // Nobody else takes it meanwhile; after ten minutes its process is lost.
        await host.Restart();
        host.Clock.Advance(Duration.FromMinutes(9));
        await Round(host);
        Assert.Single(mail.Taken);
        host.Clock.Advance(Duration.FromMinutes(2));
        await Round(host);
        await Round(host);

        Assert.Equal([$"{job}/received-safely/1@vennlowe.example", $"{job}/received-safely/1@vennlowe.example"], mail.Taken.Select(letter => letter.MessageId));
        Assert.Equal(1, await Entries(host, job));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_process_that_dies_before_it_was_decided_or_sent_forgets_nothing()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        var job = await host.TakeIn();
        using var dead = new CancellationTokenSource();
        await dead.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Round(host, dead.Token));
        await host.Restart();
        await Round(host);

        Assert.Equal($"{job}/received-safely/1@vennlowe.example", Assert.Single(mail.Taken).MessageId);
    }

    [Fact]
    public async Task A_server_that_is_busy_is_asked_again_and_one_that_will_not_have_the_address_asks_the_desk()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        var job = await host.TakeIn();
        mail.Recipient = "451 later";
        await Round(host);
        await Round(host);
        Assert.Empty(mail.Taken);

        mail.Recipient = "550 no such user";
        host.Clock.Advance(Duration.FromMinutes(2));
        await Round(host);
        var item = Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "received-safely");
        Assert.Equal(("returned", 2), (item.Text("standing"), item.GetProperty("attempts").GetInt32()));
        Assert.Equal(["email"], (await host.Desk.Get($"/v1/customers/{item.Text("customer")}")).Texts("unreachable"));
        Assert.Contains("unreachable", (await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray().Select(row => row.Text("kind")));

        // Nothing more by that way, until there is another address.
        mail.Recipient = "250 ok";
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        host.Clock.Advance(Duration.FromDays(1));
        await Round(host);
        Assert.Empty(mail.Taken);
        Assert.Equal("came-back", Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "quote-ready").Text("drop"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Whoever_has_died_is_not_written_to_from_that_moment_on()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        host.SetTo(2026, 3, 2, 21);
        var job = await host.TakeIn();
        await Round(host);
        var customer = (await host.Desk.Get($"/v1/jobs/{job}/parties")).GetProperty("owner").Text("customer");
        using var changed = await host.Desk.Put($"/v1/customers/{customer}", """{ "email": "ida@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ], "deceasedOn": "2026-03-02" }""", "*");
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
        host.SetTo(2026, 3, 3, 8);
        await Round(host);

        Assert.Empty(mail.Taken);
        Assert.Equal("deceased", Item(await host.Desk.Get($"/v1/jobs/{job}/letters"), "received-safely").Text("drop"));
    }

    [Fact]
    public async Task A_damage_is_told_in_a_managers_words_and_the_desk_sees_beforehand_what_is_written()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        var job = await host.TakeIn();
        await Round(host);
        var preview = await (await host.Desk.PostJson($"/v1/jobs/{job}/letters/received-safely/preview", "{}")).Json();
        Assert.Contains("Your Orrery & Finch Halyard is with us", preview.Text("text"));
        Assert.Equal("no-such-thing", (await (await host.Desk.PostJson($"/v1/jobs/{job}/letters/damage-told/preview", "{}")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Manager.PostJson($"/v1/jobs/{job}/letters/ready-to-collect/release", """{ "words": "x" }""")).Problem()).Code);

        using var released = await host.Manager.PostJson($"/v1/jobs/{job}/letters/damage-told/release", """{ "words": "The crystal chipped at its edge <when> we opened the case." }""");
        Assert.Equal(HttpStatusCode.Created, released.StatusCode);
        host.Clock.Advance(Duration.FromDays(1));
        await Round(host);
        Assert.Contains("The crystal chipped at its edge <when> we opened the case.", mail.Taken[^1].TextBody);
        Assert.Contains("edge &lt;when&gt; we", mail.Taken[^1].HtmlBody);
        Assert.DoesNotContain("crystal chipped", await host.Bench.GetStringAsync($"/v1/jobs/{job}/history"));
    }

    [Fact]
    public async Task The_shops_own_words_are_looked_at_when_they_are_saved_and_said_from_then_on()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        const string Address = "/v1/letters/received-safely";
        Assert.Equal(["/en/text"], (await (await host.Manager.Put(Address, """{ "en": { "text": "We have it, {{ declaredValue }}." } }""")).Problem()).Pointers);
        Assert.Equal(["/de/subject"], (await (await host.Manager.Put(Address, """{ "de": { "subject": "Da: {{ watch" } }""")).Problem()).Pointers);
        Assert.Equal(["/en/html"], (await (await host.Manager.Put(Address, """{ "en": { "html": "<img src='https://elsewhere.example/x.png'>" } }""")).Problem()).Pointers);
        Assert.Equal(["/id"], (await (await host.Manager.Put("/v1/letters/never", """{ "en": { "text": "x" } }""")).Problem()).Pointers);
        Assert.Equal(["/en/text"], (await (await host.Manager.Put("/v1/letters/letter", """{ "en": { "text": "no place for what is said" } }""")).Problem()).Pointers);

        using var saved = await host.Manager.Put(Address, """{ "en": { "subject": "{{ watch }} is here", "text": "We have your {{ watch }}, number {{ reference }}." } }""");
        Assert.True(saved.IsSuccessStatusCode, await saved.Content.ReadAsStringAsync());
        var job = await host.TakeIn();
        await Round(host);
        Assert.Equal("Orrery & Finch Halyard is here", Assert.Single(mail.Taken).Subject);
        Assert.Contains($"We have your Orrery & Finch Halyard, number {job}.", mail.Taken[0].TextBody);
        Assert.Contains("is with us and in good hands", mail.Taken[0].HtmlBody);
    }

    [Theory, BothEngines]
    public async Task A_watch_that_has_not_come_within_its_days_is_asked_for_once_and_one_that_has_ended_is_not(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail, engine);
        var expected = (await (await host.Desk.PostJson("/v1/arrivals", Expected("tom"))).Json()).Text("label");
        var ended = (await (await host.Desk.PostJson("/v1/arrivals", Expected("una"))).Json()).Text("label");
        await Round(host);
        Assert.Empty(mail.Taken);

        using var over = await host.Desk.PostJson($"/v1/arrivals/{ended}/end", """{ "reason": "cancelled" }""");
        Assert.True(over.IsSuccessStatusCode, await over.Content.ReadAsStringAsync());
        host.SetTo(2026, 3, 17, 9);
        await Round(host);
        host.SetTo(2026, 3, 18, 9);
        await Round(host);

        var letter = Assert.Single(mail.Taken);
        Assert.Equal(($"{expected}/arrival-asked/1@vennlowe.example", "tom@marlow.example"), (letter.MessageId, letter.To.Mailboxes.Single().Address));
        Assert.Contains("Your watch has not come to us yet.", letter.TextBody);

        static string Expected(string name) => $$"""{ "customer": { "name": "{{name}}", "email": "{{name}}@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ] }, "words": "an old automatic" }""";
    }

    [Fact]
    public async Task A_job_that_nobody_can_look_at_keeps_no_other_from_being_told_of()
    {
        await using var mail = new MailServer();
        await using var host = await Open(mail);
        var (sick, well) = (await host.TakeIn(), await host.TakeIn(Other("tom")));
        await host.Services.GetRequiredService<Writer>().Turn(
            WorkshopHost.Site, turn => turn.Execute("update journal set data = 'no JSON' where site = @site and stream = @stream", new { site = turn.Site, stream = $"job/{sick}" }));
        await host.Restart();
        await Round(host);

        Assert.Equal($"{well}/received-safely/1@vennlowe.example", Assert.Single(mail.Taken).MessageId);
    }

    internal static async Task<WorkshopHost> Open(MailServer mail, StorageEngine engine = StorageEngine.Sqlite)
    {
        var host = await WorkshopHost.Start(engine, mail.Settings());
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        return host;
    }

    internal static Task Round(WorkshopHost host, CancellationToken cancel = default) => host.Services.GetRequiredService<SendLetters>().Run(cancel);

    /// <summary>A watch of somebody else, all of it known.</summary>
    internal static string Other(string name) => Counter.WholeIntake
        .Replace("Ida Marlow", name).Replace("ida@marlow.example", $"{name}@marlow.example").Replace("+44 20 7946 0018", "01632 960 117").Replace("20-417", $"20-417{name}").Replace("M 77.1", $"M 77.1{name}");

    private static async Task<string> Ready(WorkshopHost host, string? name = null)
    {
        host.SetTo(2026, 3, 2, 9);
        var job = await host.TakeIn();
        if (name is not null)
        {
            // The same watch in the house twice would be held; its people are others.
            var other = (await (await host.Desk.PostJson("/v1/customers", $$"""{ "name": "{{name}}", "email": "{{name}}@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ] }""")).Json()).Text("id");
            using var saved = await host.Desk.Put($"/v1/jobs/{job}/parties", $$"""{ "owner": "{{other}}", "broughtBy": "{{other}}", "payer": "{{other}}", "recipient": "{{other}}", "decides": "{{other}}", "told": ["{{other}}"] }""", "*");
            Assert.Equal(HttpStatusCode.OK, saved.StatusCode);
        }

        await host.Approve(job);
        await host.Service(job);
        await host.Settle(job);
        return job;
    }

    private static JsonElement Item(JsonElement letters, string moment) => letters.GetProperty("items").EnumerateArray().First(item => item.Text("moment") == moment);

    private static Task<long> Entries(WorkshopHost host, string job) =>
        host.QueryFirst<long>("select count(*) from journal where site = 'main' and stream = @stream and type = 'customer.told'", new { stream = $"job/{job}" });

    private static async Task<IReadOnlyList<(string Id, JsonElement Body)>> Messages(WorkshopHost host) =>
    [
        .. (await host.Services.GetRequiredService<Reader>().Query<OutboxRow>("select id, body from outbox where site = 'main' and type = 'message.due' order by id"))
            .Select(row => (row.Id, JsonDocument.Parse(row.Body).RootElement)),
    ];

    private sealed record OutboxRow
    {
        public required string Id { get; init; }

        public required string Body { get; init; }
    }
}
