using Workshop.Core.Words;

namespace Workshop.Core.Cleaning;

/// <summary>How a jar stands.</summary>
/// <param name="Filled">A batch stands in it.</param>
/// <param name="Due">It is near its end, or beyond.</param>
public sealed record JarState(string Jar, bool Filled, bool Due);

/// <summary>
/// Which fluid to change, and how: the cleaning fluid and the first rinse are thrown away by their own counters, the second rinse moves up
/// into the first jar, and the last jar of the same fluid is filled afresh. Common practice.
/// </summary>
public static class FluidRotation
{
    public static IEnumerable<Phrase> Next(IEnumerable<JarState> jars)
    {
        var states = jars.ToDictionary(jar => jar.Jar, StringComparer.Ordinal);
        foreach (var jar in states.Values.Where(jar => jar.Due).OrderBy(jar => jar.Jar, StringComparer.Ordinal))
        {
            if (jar.Jar == "rinse-1" && states.GetValueOrDefault("rinse-2") is { Filled: true, Due: false })
            {
                yield return Phrase.Of("Throw {0} away, move {1} up into it, fill {1} afresh", jar.Jar, "rinse-2");
            }
            else
            {
                yield return Phrase.Of("Throw {0} away and fill it afresh", jar.Jar);
            }
        }
    }
}
