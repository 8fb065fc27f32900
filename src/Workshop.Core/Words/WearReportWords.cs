using System.Collections.Immutable;
using Workshop.Core.WearReports;

namespace Workshop.Core.Words;

/// <summary>Words of what customers tell of their watches.</summary>
internal static class WearReportWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<WearUnit>("wearUnit",
            ("seconds", "Sekunden"), ("minutes", "Minuten")),
        WordList.Of<WearDirection>("wearDirection",
            ("gains", "geht vor"), ("loses", "geht nach")),
        WordList.Of<ReportChannel>("reportChannel",
            ("counter", "at the counter", "am Tresen"), ("telephone", "Telefon"), ("letter", "Brief"), ("email", "e-mail", "E-Mail"),
            ("page", "the customer's page", "Seite des Kunden"), ("storefront", "Ladenseite")),
        WordList.Of<WearReportVerdict>("wearReportVerdict",
            ("within", "innerhalb"), ("outside", "außerhalb"), ("inconclusive", "nicht entscheidbar"), ("asked-back", "asked back", "zurückgefragt"),
            ("stopped", "stehen geblieben"), ("no-figure", "no figure", "keine Zahl")),
        WordList.Of<ReportAnswer>("reportAnswer",
            ("invited", "invited to bring it", "zum Vorbeibringen eingeladen"), ("reassured", "told that it is as it should be", "beruhigt"), ("claim", "a claim was written down", "als Garantiefall notiert")),
    ];
}
