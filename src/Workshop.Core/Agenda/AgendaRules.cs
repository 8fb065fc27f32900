using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Agenda;

/// <summary>How long a filling of a jar is good: whole days after the day it was filled.</summary>
/// <param name="WarnDays">From then on it is said that it grows old.</param>
/// <param name="LastDays">Through this day it may still be used.</param>
public sealed record FluidLife([property: Range(1, 1_000)] int WarnDays, [property: Range(1, 1_000)] int LastDays);

/// <summary>After what time a thing is worth a line on the agenda. Common practice throughout.</summary>
public sealed record AgendaRules
{
    /// <summary>Ours, for want of a usual figure.</summary>
    public static readonly FluidLife OtherJars = new(42, 56);

    public static readonly AgendaRules Usual = new();

    /// <summary>Open hours of the shop after which a silent device is worth a look.</summary>
    public Duration DeviceSilentAfter { get; init; } = Duration.FromHours(8);

    /// <summary>Open days after which a piece given to a firm without a day is asked for.</summary>
    [Range(1, 500)]
    public int WithFirmWorkingDays { get; init; } = 10;

    /// <summary>Age of the newest back-up from which on somebody is told.</summary>
    public Duration BackUpOlderThan { get; init; } = Duration.FromHours(36);

    /// <summary>Days of a filling by the jar it stands in; a jar that is not named lasts as <see cref="OtherJars"/>.</summary>
    public ImmutableSortedDictionary<string, FluidLife> FluidLife { get; init; } = ImmutableSortedDictionary.CreateRange(
        StringComparer.Ordinal,
        [
            KeyValuePair.Create("clean", new FluidLife(21, 28)),
            KeyValuePair.Create("rinse-1", new FluidLife(21, 28)),
            KeyValuePair.Create("rinse-2", OtherJars),
            KeyValuePair.Create("rinse-3", OtherJars),
        ]);

    public FluidLife LifeIn(string jar) => FluidLife.GetValueOrDefault(jar, OtherJars);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (DeviceSilentAfter <= Duration.Zero)
        {
            yield return new Fault($"{pointer}/deviceSilentAfter", "This is to be more than nothing");
        }

        if (BackUpOlderThan <= Duration.Zero)
        {
            yield return new Fault($"{pointer}/backUpOlderThan", "This is to be more than nothing");
        }

        foreach (var (jar, life) in FluidLife.Where(one => one.Value.WarnDays > one.Value.LastDays))
        {
            yield return new Fault($"{pointer}/fluidLife/{jar}/warnDays", "The warning comes no later than the last day");
        }
    }
}
