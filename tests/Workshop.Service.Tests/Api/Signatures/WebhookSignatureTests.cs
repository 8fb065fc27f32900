using System.Security.Cryptography;
using System.Text;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Tests.Api.Signatures;

public class WebhookSignatureTests
{
    private const string Published = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    // Bytes 00 to 1f.
    private const string Counted = "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=";

    private static readonly Instant At = Instant.FromUnixTimeSeconds(1772442000);

    [Theory]
    // Standard Webhooks 1.0.0, tests of the reference libraries for Go and C#; computed again with node:crypto.
    [InlineData(Published, "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, """{"test": 2432232314}""", "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=")]
    // Id, timestamp and body of the specification's example; its key is not published, the signature is computed under the key above.
    [InlineData(
        Published, "msg_2KWPBgLlAfxdpx2AI54pPJ85f4W", 1674087231,
        """{"type":"contact.created","timestamp":"2022-11-03T20:26:10.344522Z","data":{"id":"1f81eb52-5198-4599-803e-771906343485"}}""",
        "v1,ARw42xaAApl/nxRo+iPGYwSaMQaOwMo2eyH5JBRA+bQ=")]
    // Computed with node:crypto, npm standardwebhooks 1.1.1 and OpenSSL, all three alike.
    [InlineData(Counted, "msg_0001", 1772442000, """{"type":"job.ready","timestamp":"2026-03-02T09:00:00Z","data":{"id":"J-1001"}}""", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=")]
    [InlineData(Counted, "msg_0002", 1772442000, """{"type":"job.ready","timestamp":"2026-03-02T09:00:00Z","data":{"name":"Zoë Müller"}}""", "v1,zTxb8Y7FrUsNnU9VIx/nDyvAosEby/gcCmNE1aTuzkE=")]
    public void A_message_is_signed_as_the_references_sign_it(string secret, string id, long seconds, string body, string signature)
    {
        var bytes = Encoding.UTF8.GetBytes(body);
        var at = Instant.FromUnixTimeSeconds(seconds);

        Assert.Equal(signature, WebhookSignature.Sign(Read(secret), id, at, bytes));
        Assert.True(Verdict(signature, bytes, id, seconds, at, secret).Genuine);
    }

    [Fact]
    public void One_right_signature_among_several_is_enough_and_so_is_one_of_several_secrets()
    {
        var body = "{}"u8.ToArray();
        var good = WebhookSignature.Sign(Read(Counted), "msg_1", At, body);

        // The list of the reference's own test: unreadable, of another version, right.
        Assert.True(Verdict($"v1,AAAA v2,xx {good}", body, "msg_1").Genuine);
        Assert.True(Verdict($"v1a,{good[3..]} {good}", body, "msg_1").Genuine);
        var verdict = Verdict(good, body, "msg_1", secrets: [Published, Counted]);
        Assert.Equal((SignatureFault.None, Read(Counted).Mark), (verdict.Fault, verdict.SecretMark));

        var both = WebhookSignature.Sign([Read(Published), Read(Counted)], "msg_1", At, body);
        Assert.Equal(2, both.Split(' ').Length);
        Assert.All([Published, Counted], secret => Assert.True(Verdict(both, body, "msg_1", secrets: [secret]).Genuine));
    }

    [Theory]
    [InlineData(-300, SignatureFault.None)]
    [InlineData(-301, SignatureFault.TimestampTooOld)]
    [InlineData(300, SignatureFault.None)]
    [InlineData(301, SignatureFault.TimestampTooNew)]
    [InlineData(-1772442000, SignatureFault.TimestampTooOld)]
    public void An_attempt_may_lie_five_minutes_from_the_clock_here(long seconds, SignatureFault expected)
    {
        var attempted = At + Duration.FromSeconds(seconds);
        var signature = WebhookSignature.Sign(Read(Counted), "msg_1", attempted, "{}"u8);

        Assert.Equal(expected, Verdict(signature, "{}"u8.ToArray(), "msg_1", attempted.ToUnixTimeSeconds()).Fault);
    }

    [Theory]
    [InlineData(null, "1772442000", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.IdMissing)]
    [InlineData("msg.1", "1772442000", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.IdUnreadable)]
    [InlineData("msg_1", null, "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.TimestampMissing)]
    [InlineData("msg_1", "2026-03-02T09:00:00Z", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.TimestampUnreadable)]
    [InlineData("msg_1", "1772442000000", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.TimestampTooNew)]
    [InlineData("msg_1", "9223372036854775807", "v1,U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.TimestampTooNew)]
    [InlineData("msg_1", "1772442000", null, SignatureFault.SignatureMissing)]
    [InlineData("msg_1", "1772442000", "U5PebZ9d81pz8HQ0BQu0H4BxLtN5jkC8lpj4La7wlgw=", SignatureFault.SignatureUnreadable)]
    [InlineData("msg_1", "1772442000", "v1,AAAA", SignatureFault.SignatureUnreadable)]
    public void What_cannot_be_read_is_named(string? id, string? timestamp, string? signature, SignatureFault expected) =>
        Assert.Equal(expected, WebhookSignature.Verify([Read(Counted)], new WebhookHeaders(id, timestamp, signature), "{}"u8, At).Fault);

    [Fact]
    public void The_usual_slips_of_a_sender_are_told_by_name()
    {
        var body = "{\"a\":1}\n"u8.ToArray();
        var key = Read(Counted);
        string Mac(byte[] with, string text) => "v1," + Convert.ToBase64String(HMACSHA256.HashData(with, Encoding.UTF8.GetBytes(text)));
        var bytes = Convert.FromBase64String(Counted["whsec_".Length..]);

        Assert.Equal(SignatureFault.BodyDiffers, Verdict(WebhookSignature.Sign(key, "msg_1", At, "{\"a\":1}"u8), body, "msg_1").Fault);
        Assert.Equal(SignatureFault.IdDiffers, Verdict(WebhookSignature.Sign(key, "MSG_1", At, body), body, "msg_1").Fault);
        Assert.Equal(SignatureFault.TimestampDiffers, Verdict(Mac(bytes, "msg_1.1772442000000.{\"a\":1}\n"), body, "msg_1").Fault);
        Assert.Equal(SignatureFault.TimestampDiffers, Verdict(Mac(bytes, "msg_1.2026-03-02T09:00:00Z.{\"a\":1}\n"), body, "msg_1").Fault);
        Assert.Equal(SignatureFault.SecretDiffers, Verdict(Mac(Encoding.UTF8.GetBytes(Counted), "msg_1.1772442000.{\"a\":1}\n"), body, "msg_1").Fault);
    }

    [Fact]
    public void What_cannot_be_told_apart_is_shown_to_its_sender_for_comparison_and_gives_no_secret_away()
    {
        var body = "{\"a\":2}"u8.ToArray();
        var verdict = Verdict(WebhookSignature.Sign(Read(Counted), "msg_1", At, "{\"a\":1}"u8), body, "msg_1");

        Assert.Equal(SignatureFault.SignatureOfSomethingElse, verdict.Fault);
        Assert.Equal(("msg_1", "1772442000", 7), (verdict.Id, verdict.Timestamp, verdict.BodyBytes));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(body)), verdict.BodySha256);
        Assert.DoesNotContain(WebhookSignature.Sign(Read(Counted), "msg_1", At, body)[3..], verdict.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("whsec_A", verdict.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void One_bit_of_the_body_more_or_less_is_another_message()
    {
        var body = """{"type":"job.ready"}"""u8.ToArray();
        var signature = WebhookSignature.Sign(Read(Counted), "msg_1", At, body);
        foreach (var bit in Enumerable.Range(0, body.Length * 8))
        {
            var other = body.ToArray();
            other[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.False(Verdict(signature, other, "msg_1").Genuine);
        }

        Assert.True(Verdict(signature, body, "msg_1").Genuine);
    }

    [Theory]
    [InlineData(23, false)]
    [InlineData(24, true)]
    [InlineData(64, true)]
    [InlineData(65, false)]
    public void A_secret_has_24_to_64_bytes(int bytes, bool isOne)
    {
        var text = "whsec_" + Convert.ToBase64String(new byte[bytes]);

        Assert.Equal(isOne, WebhookSecret.TryRead(text, out var secret));
        Assert.Equal(isOne ? text : null, secret?.Written);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("whsec_")]
    [InlineData("MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw")]
    [InlineData("whsk_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw")]
    [InlineData("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaS?")]
    public void Nothing_else_is_a_secret(string? text) => Assert.False(WebhookSecret.TryRead(text, out _));

    [Fact]
    public void A_secret_that_is_drawn_is_another_each_time_and_does_not_stand_in_a_log()
    {
        var drawn = Enumerable.Range(0, 100).Select(_ => WebhookSecret.Draw()).ToArray();

        Assert.Equal(100, drawn.Select(one => one.Written).Distinct().Count());
        Assert.All(drawn, one => Assert.True(WebhookSecret.TryRead(one.Written, out _)));
        Assert.All(drawn, one => Assert.DoesNotContain(one.Written[6..14], $"{one}", StringComparison.Ordinal));
    }

    private static WebhookSecret Read(string text) => WebhookSecret.TryRead(text, out var secret) ? secret : throw new FormatException(text);

    private static SignatureVerdict Verdict(string signature, byte[] body, string id, long seconds = 1772442000, Instant? now = null, string secret = Counted, string[]? secrets = null) =>
        WebhookSignature.Verify([.. (secrets ?? [secret]).Select(Read)], new WebhookHeaders(id, $"{seconds}", signature), body, now ?? At);
}
