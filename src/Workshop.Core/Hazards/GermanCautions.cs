using System.Collections.Frozen;

namespace Workshop.Core.Hazards;

/// <summary>The cautions of <see cref="Hazard"/> in German; they say the same, and leave the decision to the same.</summary>
internal static class GermanCautions
{
    private const string Defer = "Es entscheiden die örtlichen Vorschriften und zugelassene Fachleute.";

    public static FrozenDictionary<string, Caution> All { get; } = new[]
    {
        new Caution(
            Hazard.RadiumSuspected,
            "RADIUM möglich: nicht schaben, bürsten, waschen, blasen",
            "Leuchtmasse dieses Alters kann Radium enthalten, auch wenn sie nicht mehr leuchtet; nur eine Messung gibt Gewissheit. Zifferblatt und "
            + "Zeiger nicht schaben, bürsten, waschen, polieren oder abblasen; verschlossen und beschriftet getrennt von Menschen aufbewahren und aus "
            + "jeder gemeinsamen Reinigung heraushalten. Staub darf nicht eingeatmet oder verschluckt werden. Vor der Arbeit und vor der Entsorgung die "
            + $"Strahlenschutzbehörde oder Strahlenschutzbeauftragte fragen. {Defer}"),
        new Caution(
            Hazard.TritiumSuspected,
            "Tritium möglich: Zifferblatt und Zeiger nicht bearbeiten",
            "Leuchtmasse dieses Alters kann Tritium oder Promethium enthalten. Behandeln wie Radiumfarbe: nicht schaben, bürsten oder waschen, "
            + $"verschlossen und beschriftet aufbewahren, Handschuhe tragen. Ein Ersatz solcher Farbe kann bewilligungspflichtig sein. {Defer}"),
        new Caution(
            Hazard.Solvents,
            "Lösemittel: Absaugung an, keine Hitze, erst schleudern",
            "Reinigungsflüssigkeiten geben brennbare oder reizende Dämpfe ab. Absaugung an, keine Heizung und kein Funke in der Nähe, Deckel zu, "
            + "Handschuhe und Schutzbrille; vor dem Trocknen abschleudern; Abfälle nie mischen. Sicherheitsdatenblatt und örtlicher Brandschutz gehen vor. "
            + Defer),
        new Caution(
            Hazard.SpringTension,
            "Gespannte Federn: erst entspannen, Augen schützen",
            "Die Zugfeder ganz entspannen, bevor etwas gelöst wird, das Räderwerk oder Federhaus hält; eine Feder entlasten, bevor abgehoben wird, "
            + $"was sie hält; die Augen schützen. {Defer}"),
        new Caution(
            Hazard.Pressure,
            "Druck: zur Seite treten, erst trocken, langsam ablassen",
            "Ein Glas kann unter Druck bersten. Erst trocken, dann nass prüfen, Deckel verriegelt lassen, zur Seite treten, langsam ablassen, nie ein "
            + "Gefäß unter Druck öffnen, und keine Uhr mit gesprungenem Glas oder vermuteter Undichtheit unter Wasser bringen. Die Anleitung des Prüfgeräts "
            + $"geht vor. {Defer}"),
        new Caution(
            Hazard.Cells,
            "Batterie: keine Metallpinzette, Handschuhe, kindersicher",
            "Die Pole nicht mit einer Metallpinzette überbrücken, eine Batterie nie laden oder erhitzen, bei einer ausgelaufenen Handschuhe tragen und "
            + "jede außer Reichweite von Kindern halten: Verschluckt ist sie ein Notfall. Alte Batterien können Quecksilber enthalten und gehören in die "
            + $"Rücknahme. {Defer}"),
        new Caution(
            Hazard.CorrosionUrgent,
            "Wasser oder ausgelaufene Batterie: heute öffnen, trocknen",
            "Bei Korrosion zählen Tage. Öffnen, Batterie entnehmen, trocknen und dem Kunden sagen, was gefunden wurde; vorher keine Druckprüfung. "
            + Defer),
    }.ToFrozenDictionary(caution => caution.Id);
}
