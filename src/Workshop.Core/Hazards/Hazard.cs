using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Hazards;

/// <summary>
/// Dangers of the trade by id, when to suspect them, and where they meet the work. Common practice throughout unless a source stands
/// beside it; every text leaves the decision to local rules and licensed practice.
/// </summary>
public static class Hazard
{
    public const string RadiumSuspected = "radium-suspected";
    public const string TritiumSuspected = "tritium-suspected";
    public const string Solvents = "solvents";
    public const string SpringTension = "spring-tension";
    public const string Pressure = "pressure";
    public const string Cells = "cells";
    public const string CorrosionUrgent = "corrosion-urgent";

    /// <summary>
    /// Luminous paint of a watch made earlier than this is taken for radium until a measurement says otherwise. Sources put the end
    /// of radium paint between 1968 and the 1970s; the year is common practice.
    /// </summary>
    public const int RadiumBefore = 1975;

    /// <summary>Paint that glows without radioactivity came in the middle of the 1990s; the margin for old stock is from memory.</summary>
    public const int TritiumBefore = 1999;

    private const string Defer = "Local rules and licensed practice decide.";

    /// <summary>Every caution in English, by id.</summary>
    public static FrozenDictionary<string, Caution> All { get; } = new[]
    {
        new Caution(
            RadiumSuspected,
            "RADIUM suspected: no scraping, brushing, washing, blowing",
            "Luminous paint of this age may hold radium, also when it no longer glows; only a measurement clears it. Do not scrape, brush, "
            + "wash, polish or blow dial and hands; keep them in a closed, labelled box away from people, and out of every shared cleaning. "
            + "Dust must not be breathed in or swallowed. Ask the radiation authority or a radiation protection adviser before work and "
            + $"before disposal. {Defer}"),
        new Caution(
            TritiumSuspected,
            "Tritium paint suspected: leave dial and hands alone",
            "Luminous paint of this age may hold tritium or promethium. Handle it like radium paint: no scraping, brushing or washing, a closed "
            + $"and labelled box, gloves. Replacing such paint may need a licence. {Defer}"),
        new Caution(
            Solvents,
            "Solvents: extraction on, no heat or spark, spin before dry",
            "Cleaning fluids give off flammable or irritating vapour. Extraction on, no heater or spark near, lids closed, gloves and goggles; "
            + "spin off before drying; never mix waste. The safety data sheet and the local fire code come first. " + Defer),
        new Caution(
            SpringTension,
            "Springs under tension: let down first, protect the eyes",
            "Let the mainspring down fully before anything that holds the train or the barrel is loosened, ease a spring before lifting what "
            + $"holds it, and protect the eyes. {Defer}"),
        new Caution(
            Pressure,
            "Pressure: stand aside, dry test first, release slowly",
            "A crystal may burst under pressure. Test dry before wet, keep the lid locked, stand aside, release slowly, never open a vessel "
            + $"under pressure, and put no watch with a cracked crystal or a suspected leak under water. The tester's own instructions come first. {Defer}"),
        new Caution(
            Cells,
            "Cell: no metal tweezers, gloves, out of reach of children",
            "Do not bridge the poles with metal tweezers, never charge or heat a cell, wear gloves with a leaking one, and keep every cell out "
            + $"of reach of children: swallowed, it is an emergency. Old cells may hold mercury and go to the take-back scheme. {Defer}"),
        new Caution(
            CorrosionUrgent,
            "Water or leaking cell inside: open and dry today",
            "Corrosion counts in days. Open, take out the cell, dry, and tell the customer what was found; no pressure test before that. "
            + Defer),
    }.ToFrozenDictionary(caution => caution.Id);

    /// <summary>The cautions with these ids in a language; an id nobody knows has none.</summary>
    public static ImmutableArray<Caution> Cautions(IEnumerable<string> ids, Language language)
    {
        var texts = language == Language.German ? GermanCautions.All : All;
        return [.. ids.Where(texts.ContainsKey).Select(id => texts[id])];
    }

    /// <summary>
    /// The dangers to suspect in a watch from what is known at intake. Paint nobody looked at counts as present on a watch known to
    /// be old; a dial said to be without paint is believed unless the remarks speak of radium.
    /// </summary>
    /// <param name="madeInYear">Null when the age is unknown.</param>
    /// <param name="luminousPaint">Null when nobody looked.</param>
    /// <param name="dialRemarks">Free text; words that speak of luminous paint are looked for, in English and German.</param>
    /// <param name="waterOrLeakInside">Water has entered, or a cell leaks.</param>
    /// <param name="holdsACell">A quartz watch.</param>
    /// <returns>Ids of cautions.</returns>
    public static ImmutableArray<string> Suspected(
        int? madeInYear, bool? luminousPaint, string? dialRemarks, bool waterOrLeakInside = false, bool holdsACell = false)
    {
        var old = madeInYear is < RadiumBefore;
        var paint = luminousPaint ?? (Speaks(dialRemarks, "radium", "tritium", "promethium", "lume", "lumin", "relum", "superlumin", "leucht") || old);
        var radium = Speaks(dialRemarks, "radium") || (paint && (old || madeInYear is null));
        var tritium = !radium && (Speaks(dialRemarks, "tritium", "promethium") || (paint && madeInYear is < TritiumBefore));
        return
        [
            .. Only(radium, RadiumSuspected),
            .. Only(tritium, TritiumSuspected),
            .. Only(waterOrLeakInside, CorrosionUrgent),
            .. Only(holdsACell, Cells),
        ];
    }

    /// <summary>The cautions that go with the work of a stage, whatever the job.</summary>
    /// <param name="holdsACell">A quartz watch: its cell comes out and goes in.</param>
    /// <returns>Ids of cautions; those of the job itself come on top.</returns>
    public static ImmutableArray<string> AtStage(Stage stage, bool holdsACell = false) =>
    [
        .. Only(stage is Stage.Takedown, SpringTension),
        .. Only(stage is Stage.Cleaning, Solvents),
        .. Only(stage is Stage.WaterTest, Pressure),
        .. Only(holdsACell && stage is (Stage.Diagnosis or Stage.Takedown or Stage.CaseStrip or Stage.Casing), Cells),
    ];

    // Looked for where a word begins: an aluminium dial is not luminous.
    private static bool Speaks(string? remarks, params string[] beginnings) =>
        remarks is not null && Regex.IsMatch(remarks, $@"\b({string.Join('|', beginnings)})", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);

    private static IEnumerable<string> Only(bool applies, string id) => applies ? [id] : [];
}
