using System.CommandLine;
using System.Globalization;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Commands;

/// <summary><c>sign</c>: the headers that belong to a file as it lies there, for whoever joins a storefront and looks for a difference; needs no database.</summary>
internal static class SignCommand
{
    // The last second that a timestamp may name, of the year 9999.
    private const long LatestSecond = 253_402_300_799;

    public static Command Make()
    {
        var file = new Argument<string>("FILE") { Description = "The body, byte for byte; - for what is piped in." };
        var secret = new Option<string>("--secret") { Description = "The secret, whsec_ and 24 to 64 bytes in Base64.", HelpName = "SECRET", Required = true };
        secret.Validators.Add(given =>
        {
            if (!WebhookSecret.TryRead(given.GetValueOrDefault<string>(), out _))
            {
                given.AddError("--secret is whsec_ followed by 24 to 64 bytes in Base64.");
            }
        });
        var id = new Option<string?>("--id") { Description = "The id of the message; a new one where left out.", HelpName = "ID" };
        id.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<string?>() is { } text && (text.Length is 0 or > 256 || text.Any(letter => letter is '.' or <= ' ' or > '~')))
            {
                given.AddError("--id is up to 256 printable letters of ASCII without blanks and without full stops.");
            }
        });
        var timestamp = new Option<long?>("--timestamp") { Description = "The moment of the attempt in seconds since 1970; now where left out.", HelpName = "SECONDS" };
        timestamp.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<long?>() is < 0 or > LatestSecond)
            {
                given.AddError("--timestamp is in seconds since 1970.");
            }
        });
        var command = new Command("sign", "Prints the headers of Standard Webhooks for a body, as this service makes and expects them.") { file, secret, id, timestamp };
        command.SetAction((given, cancel) =>
        {
            WebhookSecret.TryRead(given.GetRequiredValue(secret), out var key);
            var now = SystemClock.Instance.GetCurrentInstant();
            var at = given.GetValue(timestamp) is { } seconds ? Instant.FromUnixTimeSeconds(seconds) : now;
            return Sign(given.GetRequiredValue(file), key!, given.GetValue(id) ?? $"msg_{Guid.CreateVersion7(now.ToDateTimeOffset()):N}", at, cancel);
        });
        return command;
    }

    private static async Task<int> Sign(string file, WebhookSecret secret, string id, Instant at, CancellationToken cancel)
    {
        byte[] body;
        try
        {
            body = await Read(file, cancel);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            await Console.Error.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{file} cannot be read: {unreadable.Message}"));
            return WorkshopCommand.NotBegun;
        }

        Console.WriteLine($"{WebhookHeaders.IdName}: {id}");
        Console.WriteLine($"{WebhookHeaders.TimestampName}: {WebhookSignature.Seconds(at)}");
        Console.WriteLine($"{WebhookHeaders.SignatureName}: {WebhookSignature.Sign(secret, id, at, body)}");
        return WorkshopCommand.Well;
    }

    private static async Task<byte[]> Read(string file, CancellationToken cancel)
    {
        if (file != "-")
        {
            return await File.ReadAllBytesAsync(file, cancel);
        }

        using var bytes = new MemoryStream();
        await using var input = Console.OpenStandardInput();
        await input.CopyToAsync(bytes, cancel);
        return bytes.ToArray();
    }
}
