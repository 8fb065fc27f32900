using System.ComponentModel.DataAnnotations;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Devices;

public sealed record PairBody
{
    /// <summary>Six digits, as the manager was shown them.</summary>
    [RegularExpression("[0-9]{6}")]
    public required string Digits { get; init; }
}

/// <summary>What a device needs from now on.</summary>
/// <param name="Key">Shown this once.</param>
/// <param name="Source">What its events are sent under; its sequence begins at 1.</param>
public sealed record PairedDevice(string Key, string Source, Role Role, string? Bench, string Site);

/// <summary>
/// A device tells the digits and gets a key with a source of its own, under the next pairing number of its name. Whatever key the device
/// had is withdrawn in the same turn: a tablet that was lost must not go on under the name of the one that replaces it.
/// </summary>
public sealed partial class PairDevice(PairingStore pairings, WrongDigits wrong, ApiKeys keys, Writer writer, IClock clock, ILogger<PairDevice> log)
{
    public static Task<Results<Ok<PairedDevice>, ProblemHttpResult>> Handle(JsonBody<PairBody> body, HttpContext context, PairDevice pair) =>
        pair.Pair(body.Value.Digits, context);

    private async Task<Results<Ok<PairedDevice>, ProblemHttpResult>> Pair(string digits, HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        var address = context.Connection.RemoteIpAddress;
        if (wrong.Begin(address) is { } wait)
        {
            context.Response.Headers.RetryAfter = Math.Max(1, (int)Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
            return Problems.Of(ProblemCatalogue.TooManyRequests, $"After {WrongDigits.AtMost} wrong tries within a minute no more are looked at.");
        }

        var open = await pairings.Open(clock.GetCurrentInstant(), context.RequestAborted);
        var meant = open.FirstOrDefault(one => one.Has(digits));
        if (meant is null || await writer.Turn(meant.Site, turn => Give(turn, meant), context.RequestAborted) is not { } paired)
        {
            foreach (var site in open.Select(one => one.Site).Distinct())
            {
                await writer.Turn(site, PairingStore.CountWrong, context.RequestAborted);
            }

            // Wrong, used, void or too late: nobody who guesses learns which.
            return Problems.Of(ProblemCatalogue.NoSuchPairing, "No pairing with these digits is open.");
        }

        keys.Forget();
        wrong.WereRight(address);
        Paired(paired.Source, Word.Of(paired.Role));
        return TypedResults.Ok(paired);
    }

    private static PairedDevice? Give(Turn turn, OpenPairing meant)
    {
        if (!PairingStore.Use(turn, meant.Id))
        {
            return null;
        }

        var number = 1 + ApiKeys.OfDevice(turn, meant.Device).Select(key => DeviceSource.NumberOf(key.Source)).DefaultIfEmpty(0).Max();
        ApiKeys.RevokeDevice(turn, meant.Device);
        var (key, secret) = ApiKeys.Add(turn, DeviceSource.Of(meant.Device, number), meant.Role, meant.Bench);
        return new PairedDevice(secret, key.Source, Word.Read<Role>(key.Role)!.Value, key.Bench, key.Site);
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "{Source} was paired for the role {Role}")]
    private partial void Paired(string source, string role);
}
