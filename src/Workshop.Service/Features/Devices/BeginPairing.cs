using System.ComponentModel.DataAnnotations;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Devices;

public sealed record PairingBody
{
    /// <summary>The device's name; it becomes part of its source. A device that is replaced keeps it.</summary>
    [StringLength(40, MinimumLength = 1), RegularExpression(DeviceName)]
    public required string Device { get; init; }

    /// <summary>The bench it will stand at, where it stands at one.</summary>
    [StringLength(40, MinimumLength = 1), RegularExpression(DeviceName)]
    public string? Bench { get; init; }

    /// <summary>bench, desk, manager or wall.</summary>
    public required Role Role { get; init; }

    internal const string DeviceName = "[a-z0-9]+(-[a-z0-9]+)*";
}

/// <summary>A pairing that waits for its device.</summary>
/// <param name="Digits">To be typed at the device; shown this once.</param>
/// <param name="CodeText">What a square code would hold, for a device with a camera.</param>
public sealed record PairingView(string Device, string? Bench, Role Role, Instant ExpiresAt, string? Digits, string? CodeText);

/// <summary>Opens the pairing of a device: six digits that are good once and for ten minutes.</summary>
public static class BeginPairing
{
    private const int Numbers = 1_000_000;

    public static async Task<Once<Results<Done<PairingView>, ProblemHttpResult>>> Handle(
        JsonBody<PairingBody> body, Once once, HttpContext context, PairingStore pairings, Writer writer, IClock clock)
    {
        context.Response.Headers.CacheControl = "no-store";

        // Before the turn: hashing is slow, and at the writer everybody else is waiting.
        var open = await pairings.Open(clock.GetCurrentInstant(), context.RequestAborted);
        var digits = Draw(open);
        var hashed = ShortNumber.Of(digits);
        return await once.Do(writer, body.Bytes, turn => Begin(turn, body.Value, digits, hashed), WithoutDigits);
    }

    private static Results<Done<PairingView>, ProblemHttpResult> Begin(Turn turn, PairingBody body, string digits, ShortNumber hashed)
    {
        if (body.Role == Role.Storefront)
        {
            return Problems.BadFields(new Fault("/role", "A storefront has no device; its messages are signed"));
        }

        if (body.Role == Role.Operator)
        {
            return Problems.BadFields(new Fault("/role", "Whoever watches over the program has no device; the command keys gives out their key"));
        }

        var benches = turn.Rules.Benches;
        if (body.Bench is { } bench && !benches.IsEmpty && !benches.Contains(bench))
        {
            return Problems.BadFields(new Fault("/bench", "There is no such bench"));
        }

        var expires = PairingStore.Add(turn, body.Device, body.Bench, Word.Of(body.Role), hashed);
        return Answer.Done(new PairingView(body.Device, body.Bench, body.Role, expires, digits, $"pair:{digits}"));
    }

    // The same digits twice would pair one device as the other.
    private static string Draw(IReadOnlyList<OpenPairing> open)
    {
        string digits;
        do
        {
            digits = RandomNumberGenerator.GetInt32(Numbers).ToString("D6");
        }
        while (open.Any(one => one.Has(digits)));
        return digits;
    }

    /// <summary>What a repeat is answered: the pairing that was opened, but not its digits, of which nothing but the hash is kept.</summary>
    private static IResult WithoutDigits(IResult answer) =>
        answer is INestedHttpResult { Result: Done<PairingView> { Value: var shown } } ? Answer.Done(shown with { Digits = null, CodeText = null }) : answer;
}
