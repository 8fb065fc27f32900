using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Takedown;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Letters;

/// <summary>A letter leads to the page of the watch it speaks of: the same address whenever it is sent, and kept by nobody but its reader.</summary>
public partial class LetterLinkTests
{
    internal const string Shown = """{ "publicPages": { "address": "https://watches.vennlowe.example/page/{token}" } }""";

    [Theory, BothEngines]
    public async Task A_letter_that_is_sent_again_holds_the_same_address_and_what_was_revoked_meanwhile_stays_so(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail, engine);
        await host.Save("rules", "main", Shown);
        var job = await host.TakeIn();
        var dies = new CancellationTokenSource();
        mail.Took = dies.Cancel;
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => LetterTests.Round(host, dies.Token));
        mail.Took = null;
        var token = Token(Assert.Single(mail.Taken).TextBody);
        Assert.Equal(job, (await host.Stranger.Get($"/v1/public/{token}")).Text("reference"));

        // The desk sees which letter a link stands in, and nobody its address.
        var link = Assert.Single((await host.Desk.Get($"/v1/jobs/{job}/public-links")).GetProperty("items").EnumerateArray());
        Assert.Equal(("status", $"{job}/received-safely/1"), (link.Text("view"), link.Text("letter")));
        Assert.False(link.TryGetProperty("address", out _));
        Assert.Equal(HttpStatusCode.NoContent, (await host.Desk.DeleteAsync($"/v1/jobs/{job}/public-links/{link.Text("id")}")).StatusCode);

        await host.Restart();
        host.Clock.Advance(Duration.FromMinutes(11));
        await LetterTests.Round(host);
        await LetterTests.Round(host);

        Assert.Equal(2, mail.Taken.Count);
        Assert.Equal((mail.Taken[0].TextBody, mail.Taken[0].HtmlBody), (mail.Taken[1].TextBody, mail.Taken[1].HtmlBody));
        Assert.Single((await host.Desk.Get($"/v1/jobs/{job}/public-links")).GetProperty("items").EnumerateArray());
        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync($"/v1/public/{token}")).StatusCode);
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_page_shows_as_much_as_its_letter_is_about_and_its_token_stands_in_the_letter_alone()
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail);
        var job = await host.TakeIn();
        await LetterTests.Round(host);
        Assert.DoesNotContain("http", Assert.Single(mail.Taken).TextBody);
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{job}/public-links")).GetProperty("items").EnumerateArray());

        // From now on the shop shows pages. What is only looked at holds no address that leads anywhere, and makes none.
        await host.Save("rules", "main", Shown);
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        var preview = await (await host.Desk.PostJson($"/v1/jobs/{job}/letters/quote-ready/preview", "{}")).Json();
        Assert.Contains("\nhttps://watches.vennlowe.example/page/made-when-it-is-sent\n", preview.Text("text"));
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{job}/public-links")).GetProperty("items").EnumerateArray());

        host.SetTo(2026, 3, 4, 9);
        await LetterTests.Round(host);
        var (quote, quoteHtml) = (mail.Taken[^1].TextBody!, mail.Taken[^1].HtmlBody);
        var decide = Token(quote);
        Assert.Contains($"\nhttps://watches.vennlowe.example/page/{decide}\n", quote.ReplaceLineEndings("\n"));
        Assert.Contains($"<a href=\"https://watches.vennlowe.example/page/{decide}\">https://watches.vennlowe.example/page/{decide}</a>", quoteHtml);
        var page = await host.Stranger.Get($"/v1/public/{decide}");
        Assert.Equal((1, $"/v1/public/{decide}/answer"), (page.GetProperty("quote").GetProperty("n").GetInt32(), page.GetProperty("links").Text("answer")));

        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
        host.SetTo(2026, 3, 5, 9);
        await LetterTests.Round(host);
        var amounts = await host.Stranger.Get($"/v1/public/{Token(mail.Taken[^1].TextBody)}");
        Assert.True(amounts.TryGetProperty("amounts", out _) && !amounts.TryGetProperty("quote", out _));

        string[] tokens = [.. mail.Taken.Skip(1).Select(letter => Token(letter.TextBody))];
        Assert.Equal(tokens.Length, tokens.Distinct().Count());
        foreach (var text in (await host.Services.GetRequiredService<Reader>().Query<string>("select data from journal union all select body from outbox")).Append((await host.Desk.Get($"/v1/jobs/{job}/letters")).ToString()))
        {
            Assert.DoesNotContain(tokens, token => text.Contains(token));
        }
    }

    [Theory, BothEngines]
    public async Task The_storefronts_letter_leads_to_the_page_too_and_forgetting_a_reader_shuts_their_addresses_alone(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", Shown);
        var job = await host.TakeIn();
        var ida = (await host.Desk.Get($"/v1/jobs/{job}/parties")).GetProperty("owner").Text("customer");
        var tom = (await (await host.Desk.PostJson("/v1/customers", """{ "name": "Tom", "email": "tom@marlow.example", "consents": [ { "kind": "messages", "channels": ["email"] } ] }""")).Json()).Text("id");
        using var saved = await host.Desk.Put($"/v1/jobs/{job}/parties", $$"""{ "told": ["{{ida}}", "{{tom}}"] }""", "*");
        Assert.True(saved.IsSuccessStatusCode, await saved.Content.ReadAsStringAsync());
        await LetterTests.Round(host);

        var letters = (await host.Services.GetRequiredService<Reader>().Query<string>("select body from outbox where type = 'message.due' order by id")).Select(body => System.Text.Json.JsonElement.Parse(body)).ToArray();
        Assert.Equal(["ida@marlow.example", "tom@marlow.example"], letters.Select(letter => letter.Text("to")).Order());
        var pages = letters.ToDictionary(letter => letter.Text("to"), letter => Token(letter.Text("text")));
        Assert.All(letters, letter => Assert.Contains(pages[letter.Text("to")], letter.Text("html")));
        Assert.All(pages.Values, page => Assert.Equal(HttpStatusCode.OK, host.Stranger.GetAsync($"/v1/public/{page}").Result.StatusCode));

        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
        {
            PublicLinkStore.RevokeInLettersTo(turn, ida);
            return true;
        });
        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync($"/v1/public/{pages["ida@marlow.example"]}")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await host.Stranger.GetAsync($"/v1/public/{pages["tom@marlow.example"]}")).StatusCode);
    }

    [Fact]
    public async Task Of_several_watches_each_has_an_address_and_a_shop_is_told_what_is_wrong_with_its_own()
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail);
        foreach (var (address, words) in new[]
        {
            ("https://watches.vennlowe.example/page", "The place {token}"),
            ("https://watches.vennlowe.example/{token}/{token}", "The place {token}"),
            ("watches.vennlowe.example/{token}", "This is no address"),
            ("https://watches.vennlowe.example/my page/{token}", "This is no address"),
            ("http://watches.vennlowe.example/{token}", "It begins with https://"),
            ("https://{token}.vennlowe.example/", "The place {token} comes after"),
            ("https://me:x@watches.vennlowe.example/{token}", "The place {token} comes after"),
        })
        {
            var refused = await (await host.Manager.Put("/v1/rules", $$"""{ "publicPages": { "address": "{{address}}" } }""", "*")).Problem();
            Assert.Equal(["/publicPages/address"], refused.Pointers);
            Assert.Contains(words, refused.Whole.ToString());
        }

        foreach (var address in new[] { "http://localhost:8080/page?of={token}", "https://watches.vennlowe.example/page#{token}" })
        {
            Assert.Equal(HttpStatusCode.OK, (await host.Manager.Put("/v1/rules", $$"""{ "publicPages": { "address": "{{address}}" } }""", "*")).StatusCode);
        }

        host.SetTo(2026, 3, 2, 21);
        var first = await host.TakeIn();
        var customer = (await host.Desk.Get($"/v1/jobs/{first}/parties")).GetProperty("owner").Text("customer");
        var second = await host.TakeIn($$"""{ "customer": "{{customer}}", "watch": { "maker": "Tirvalle", "words": "an old automatic" } }""");
        host.SetTo(2026, 3, 3, 8);
        await LetterTests.Round(host);

        var letter = Assert.Single(mail.Taken).TextBody!;
        var tokens = Tokens().Matches(letter).Select(found => found.Groups[1].Value).ToArray();
        Assert.Equal(2, tokens.Length);
        foreach (var (job, token) in new[] { first, second }.OrderBy(job => letter.IndexOf($"({job})", StringComparison.Ordinal)).Zip(tokens))
        {
            Assert.Equal(job, (await host.Stranger.Get($"/v1/public/{token}")).Text("reference"));
        }
    }

    internal static string Token(string? text) => Assert.Single(Tokens().Matches(text!)).Groups[1].Value;

    // 32 bytes as base64url.
    [GeneratedRegex(@"/page[/#]([A-Za-z0-9_-]{43})\b")]
    private static partial Regex Tokens();
}
