using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Features.Extracts;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Warranties;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Extracts;

public class SealedExtractTests
{
    [Theory]
    [BothEngines]
    public async Task An_extract_is_genuine_until_a_single_character_changes(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (label, text) = await Given(host);

        var genuine = await Look(host, text);
        var lines = text.TrimEnd('\n').Split('\n');

        Assert.Equal(("genuine", label, "2025-03-14"), (genuine.Text("state"), genuine.Text("job"), genuine.Text("issuedOn")));
        Assert.False(genuine.GetProperty("journalWentOn").GetBoolean());
        Assert.Equal("20-417", genuine.GetProperty("watch").Text("caseSerial"));

        // With the line ends of another system, and pasted with blank lines about it.
        Assert.Equal("genuine", (await Look(host, $"\r\n{text.Replace("\n", "\r\n")}\r\n")).Text("state"));

        var random = new Random(7);
        for (var i = 0; i < 60; i++)
        {
            var at = random.Next(text.Length);
            var other = text[at] == 'x' ? 'y' : 'x';
            var broken = string.Concat(text.AsSpan(0, at), other.ToString(), text.AsSpan(at + 1));
            var found = await Look(host, broken);
            Assert.True(found.Text("state") != "genuine", $"'{text[at]}' at {at} became '{other}', and nobody saw it.");
        }

        // A line left out, two lines swapped, one line told twice, the seal of another extract.
        foreach (var order in (string[][])[[.. lines[..2], .. lines[3..]], [lines[0], lines[2], lines[1], .. lines[3..]], [.. lines[..3], .. lines[2..]], lines[..^1]])
        {
            Assert.Contains((await Look(host, string.Join('\n', order) + "\n")).Text("state"), (string[])["altered", "unreadable"]);
        }
    }

    [Fact]
    public async Task It_holds_days_work_and_figures_and_nobody_nothing_and_nowhere()
    {
        await using var host = await Counter.Open();
        var (_, text) = await Given(host);
        var kinds = text.TrimEnd('\n').Split('\n').Select(line => JsonDocument.Parse(line).RootElement).Where(line => line.TryGetProperty("what", out _)).Select(line => line.Text("what")).ToArray();

        Assert.Equal(["taken-in", "measured", "worn-check", "water-tested", "final-control", "handed-over"], kinds.Distinct().Where(kind => kind is not ("work-done" or "warranty" or "part-fitted")));
        Assert.Contains("warranty", kinds);

        // Names, ways to reach somebody, amounts, people and places of the house.
        foreach (var hidden in (string[])["Marlow", "marlow", "Tallow", "7946", "48000", "240000", "GBP", "mara", "bench", "people/", "mother", "scratch"])
        {
            Assert.DoesNotContain(hidden, text, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public async Task Each_line_names_the_hash_of_the_one_before_it_and_the_digest_of_its_entry()
    {
        await using var host = await Counter.Open();
        var (label, text) = await Given(host);
        var lines = text.TrimEnd('\n').Split('\n');

        for (var i = 1; i < lines.Length; i++)
        {
            Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(lines[i - 1]))), JsonDocument.Parse(lines[i]).RootElement.Text("before"));
        }

        var digests = (await host.Services.GetRequiredService<Reader>().Query<byte[]>("select digest from journal where stream = @stream", new { stream = $"job/{label}" }, default)).Select(Convert.ToHexStringLower).ToHashSet();
        var entries = lines.Select(line => JsonDocument.Parse(line).RootElement).Where(line => line.TryGetProperty("entry", out _)).Select(line => line.Text("entry")).ToArray();
        Assert.True(entries.Length >= 5);
        Assert.All(entries, entry => Assert.Contains(entry, digests));
    }

    [Fact]
    public async Task A_watch_that_is_here_has_no_extract_and_a_newer_entry_is_said()
    {
        await using var host = await Counter.Open();
        var here = await host.TakeIn();
        var (label, text) = await Given(host);

        Assert.Equal("not-handed-over", (await (await host.Desk.GetAsync($"/v1/jobs/{here}/sealed-extract")).Problem()).Code);
        await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "amount": 4, "direction": "gains", "overDays": 7 }""");
        Assert.True((await Look(host, text)).GetProperty("journalWentOn").GetBoolean());
    }

    [Fact]
    public async Task A_retired_key_still_checks_what_it_sealed_and_a_strange_one_is_not_ours()
    {
        await using var host = await Counter.Open();
        var (label, old) = await Given(host);
        await (await host.Manager.PostJson("/v1/seals/keys", "{}")).Json();
        var anew = await host.Desk.GetStringAsync($"/v1/jobs/{label}/sealed-extract");

        Assert.Equal("genuine", (await Look(host, old)).Text("state"));
        Assert.Equal("genuine", (await Look(host, anew)).Text("state"));
        Assert.NotEqual(old.Split('\n')[^2], anew.Split('\n')[^2]);
        Assert.Equal("Ed25519 Ed25519", string.Join(' ', (await host.Stranger.Get("/v1/seals/keys")).GetProperty("keys").EnumerateArray().Select(key => key.Text("algorithm"))));

        await using var other = await Counter.Open();
        Assert.Equal("unknown-key", (await Look(other, old)).Text("state"));
        Assert.Equal(HttpStatusCode.Forbidden, (await host.Desk.PostJson("/v1/seals/keys", "{}")).StatusCode);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{}")]
    [InlineData("not json\nnot json either")]
    [InlineData("[1]\n[2]")]
    [InlineData("{\"form\":\"sealed-extract/1\"}\n{\"seal\":\"ed25519\",\"key\":\"00\",\"signature\":\"AAAA\"}")]
    [InlineData("{\"form\":\"sealed-extract/1\"}\n{\"seal\":5}")]
    public void What_is_no_extract_is_unreadable(string shown) => Assert.Equal(ExtractState.Unreadable, SealedText.Read(shown, _ => null).State);

    [Fact]
    public async Task The_page_tells_anybody_without_a_script()
    {
        await using var host = await Counter.Open();
        var (_, text) = await Given(host);

        var empty = await host.Stranger.GetStringAsync("/seal");
        using var answer = await host.Stranger.PostAsync("/seal", new FormUrlEncodedContent([KeyValuePair.Create("extract", text.Replace("\n", "\r\n"))]));
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Contains("<textarea", empty, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Genuine: every line is as it was written on", page, StringComparison.Ordinal);
        using var nonsense = await host.Stranger.PostAsync("/seal", new FormUrlEncodedContent([KeyValuePair.Create("extract", "<script>alert(1)</script>")]));
        Assert.DoesNotContain("<script>alert", await nonsense.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_watch_of_which_little_is_known_is_sealed_and_checked_all_the_same()
    {
        var secret = RandomNumberGenerator.GetBytes(32);
        var key = new SealKey { Site = "main", Id = "k", PrivateKey = secret, PublicKey = new Org.BouncyCastle.Crypto.Parameters.Ed25519PrivateKeyParameters(secret).GeneratePublicKey().GetEncoded(), Created = 0 };
        var head = new ExtractHead(SealedText.Form, Workshop.Core.Labels.Label.Read("J7K3MQ43"), 3, new NodaTime.LocalDate(2026, 3, 2), "A workshop", new ExtractWatch(), "");

        var verdict = SealedText.Read(Encoding.UTF8.GetString(SealedText.Write(head, [], new Dictionary<long, byte[]>(), key)), id => id == "k" ? key : null);

        Assert.Equal((ExtractState.Genuine, new ExtractWatch()), (verdict.State, verdict.Head!.Watch));
    }

    [Theory]
    [InlineData("application/json", "{}")]
    [InlineData("text/plain", "extract")]
    [InlineData("multipart/form-data; boundary=x", "nothing of a form")]
    [InlineData("application/x-www-form-urlencoded", "other=1")]
    public async Task The_page_takes_whatever_is_sent_to_it(string mediaType, string body)
    {
        await using var host = await Counter.Open();
        using var content = new StringContent(body);
        content.Headers.ContentType = System.Net.Http.Headers.MediaTypeHeaderValue.Parse(mediaType);

        using var answer = await host.Stranger.PostAsync("/seal", content);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("<textarea", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    /// <summary>Given back on 14 Mar 2025, with its extract.</summary>
    private static async Task<(string Label, string Text)> Given(WorkshopHost host)
    {
        var label = await HandOverTests.Ready(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        return (label, await host.Desk.GetStringAsync($"/v1/jobs/{label}/sealed-extract"));
    }

    private static async Task<JsonElement> Look(WorkshopHost host, string text) =>
        await (await host.Stranger.PostAsync("/v1/seals/check", new StringContent(text, Encoding.UTF8, "text/plain"))).Json();
}
