using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;
using Workshop.Core.Words;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Recordings;

/// <summary>How the watch lay and was wound while it was recorded, and by what: told with the file, kept with it.</summary>
public sealed partial record RecordingTold
{
    public required Position Position { get; init; }

    /// <summary>The position word for word, where it was told by a symbol or a word of the shop's own.</summary>
    public string? ToldPosition { get; init; }

    public required WindState WindState { get; init; }

    public decimal? HoursSinceFullWind { get; init; }

    /// <summary>Degrees, where it is not the calibre's.</summary>
    public decimal? LiftAngleDegrees { get; init; }

    /// <summary>The device by which it was recorded: its clock counts.</summary>
    public string? Device { get; init; }

    public bool? ChronographRunning { get; init; }

    public bool? Cased { get; init; }

    /// <summary>Reads the address's question; the first thing that is wrong is refused.</summary>
    /// <param name="asked">As it was sent.</param>
    /// <param name="speaker">The device that speaks, where it is one.</param>
    /// <param name="read">Reads a position by symbol or word of the shop, for where the crown of this watch sits.</param>
    internal static RecordingTold? Read(RecordingAsked asked, string? speaker, Func<string, Position?> read, Func<string> known, out ProblemHttpResult? refusal)
    {
        refusal = null;
        if (asked.Position is not { Length: > 0 } position || read(position) is not { } lay)
        {
            refusal = Problems.BadParameter("position", $"Say how the watch lay: {known()}");
            return null;
        }

        if (Word.Read<WindState>(asked.WindState) is not { } wound)
        {
            refusal = Problems.BadParameter("windState", $"Say how far it was wound: {string.Join(", ", Word.All<WindState>())}");
            return null;
        }

        if (!TryNumber(asked.HoursSinceFullWind, out var hours) || hours < 0 || hours > 10_000)
        {
            refusal = Problems.BadParameter("hoursSinceFullWind", "This is no number of hours");
            return null;
        }

        if (!TryNumber(asked.LiftAngleDegrees, out var lift) || (lift is { } degrees && !new LiftAngle(degrees).IsPossible))
        {
            refusal = Problems.BadParameter("liftAngleDegrees", $"A lift angle is {LiftAngle.Least} to {LiftAngle.Most} degrees");
            return null;
        }

        if (asked.Device is { } device && !DeviceName().IsMatch(device))
        {
            refusal = Problems.BadParameter("device", "A device has a short name without blanks, such as bench-2");
            return null;
        }

        if (!TryYesNo(asked.ChronographRunning, out var running) || !TryYesNo(asked.Cased, out var cased))
        {
            refusal = Problems.BadParameter(TryYesNo(asked.ChronographRunning, out _) ? "cased" : "chronographRunning", "This is true, false or left out");
            return null;
        }

        return new RecordingTold
        {
            Position = lay,
            ToldPosition = Word.Of(lay) == position ? null : position,
            WindState = wound,
            HoursSinceFullWind = hours,
            LiftAngleDegrees = lift,
            Device = asked.Device ?? speaker,
            ChronographRunning = running,
            Cased = cased,
        };
    }

    internal static bool IsDeviceName(string name) => DeviceName().IsMatch(name);

    private static bool TryNumber(string? text, out decimal? number)
    {
        number = decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var read) ? read : null;
        return text is null || number is not null;
    }

    private static bool TryYesNo(string? text, out bool? value)
    {
        value = text switch { "true" => true, "false" => false, _ => null };
        return text is null || value is not null;
    }

    [GeneratedRegex("^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$", RegexOptions.CultureInvariant)]
    private static partial Regex DeviceName();
}

/// <summary>What was told with a file, as it was sent.</summary>
internal sealed record RecordingAsked(
    string? Position, string? WindState, string? HoursSinceFullWind, string? LiftAngleDegrees, string? Device, string? ChronographRunning, string? Cased);
