using System.Collections.Immutable;
using PublicHoliday;
using Cantons = PublicHoliday.SwitzerlandPublicHoliday.Cantons;
using Land = PublicHoliday.GermanPublicHoliday.States;
using Nation = PublicHoliday.UKBankHoliday.UkCountries;
using OfAustralia = PublicHoliday.AustraliaPublicHoliday.States;

namespace Workshop.Service.Storage.Shop;

public static partial class HolidayRegions
{
    private const string Mondays = "Easter Monday, Whit Monday";
    private const string WhereCatholic = "15 August (Assumption) is a holiday by law only in municipalities with a Catholic majority, and is taken here for all. The shop's own list decides.";
    private const string OnlyNational = "Only the days of the whole country are known; its parts and towns add days of their own. The shop's own list decides.";
    private const string Reconciliation = "30 September (truth and reconciliation), and the Monday after a holiday on a weekend";

    // The two lists that were compared, and on which days: the tests and the script that compares them say it again.
    private static ImmutableArray<HolidayRegion> Rows =>
    [
        new HolidayRegion("TARGET", "Payments between banks in euro (TARGET)", null) { InYear = ClosingDaysOfTarget },

        Row("DE", "Germany, the days of all states", () => new GermanPublicHoliday()),
        State(Land.BW, "Baden-Württemberg"),
        State(Land.BY, "Bavaria", WhereCatholic),
        State(Land.BE, "Berlin"),
        State(Land.BB, "Brandenburg"),
        State(Land.HB, "Bremen"),
        State(Land.HH, "Hamburg"),
        State(Land.HE, "Hesse"),
        State(Land.MV, "Mecklenburg-Western Pomerania"),
        State(Land.NI, "Lower Saxony"),
        State(Land.NW, "North Rhine-Westphalia"),
        State(Land.RP, "Rhineland-Palatinate"),
        State(Land.SL, "Saarland"),
        State(Land.SN, "Saxony"),
        State(Land.ST, "Saxony-Anhalt"),
        State(Land.SH, "Schleswig-Holstein"),
        State(Land.TH, "Thuringia"),

        Row("AT", "Austria", () => new AustriaPublicHoliday()),

        Row("CH", "Switzerland, the days of all cantons", () => new SwitzerlandPublicHoliday(),
            "Only the four days that all cantons have are taken: 1 January, Ascension, 1 August, 25 December. Every canton adds its own; choose one."),
        Canton(Cantons.AG, "Aargau", Doubt(leftOut: "1 May, 15 August")),
        Canton(Cantons.AI, "Appenzell Innerrhoden", Doubt("8 December, 26 December in every year", "22 September")),
        Canton(Cantons.AR, "Appenzell Ausserrhoden", Doubt("1 May")),
        Canton(Cantons.BE, "Bern"),
        Canton(Cantons.BL, "Basel-Landschaft"),
        Canton(Cantons.BS, "Basel-Stadt"),
        Canton(Cantons.FR, "Fribourg", Doubt($"2 January, 1 May, 26 December, {Mondays}")),
        Canton(Cantons.GE, "Geneva", Doubt(leftOut: "31 December")),
        Canton(Cantons.GL, "Glarus", Doubt("2 January", "the ride to Näfels in April, 24 December, 31 December")),
        Canton(Cantons.GR, "Grisons", Doubt("6 January, 19 March, Good Friday, 8 December")),
        Canton(Cantons.JU, "Jura", Doubt(leftOut: "23 June")),
        Canton(Cantons.LU, "Lucerne", Doubt($"6 January, {Mondays}")),
        Canton(Cantons.NE, "Neuchâtel", Doubt("2 January, Whit Monday, 26 December", "Corpus Christi")),
        Canton(Cantons.NW, "Nidwalden", Doubt($"26 December, {Mondays}")),
        Canton(Cantons.OW, "Obwalden", Doubt($"2 January, 26 December, {Mondays}", "25 September")),
        Canton(Cantons.SG, "St. Gallen"),
        Canton(Cantons.SH, "Schaffhausen", Doubt("2 January")),
        Canton(Cantons.SZ, "Schwyz"),
        Canton(Cantons.SO, "Solothurn", Doubt($"2 January, 8 December, 26 December, {Mondays}")),
        Canton(Cantons.TG, "Thurgau"),
        Canton(Cantons.TI, "Ticino", Doubt(leftOut: "29 June")),
        Canton(Cantons.UR, "Uri", Doubt("26 December in every year")),
        Canton(Cantons.VD, "Vaud", Doubt(leftOut: "the Monday after the federal fast, in September")),
        Canton(Cantons.VS, "Valais", Doubt(leftOut: "1 May, Whit Monday, 24 December")),
        Canton(Cantons.ZG, "Zug", Doubt($"2 January, 26 December, {Mondays}")),
        Canton(Cantons.ZH, "Zürich", Doubt("2 January")),

        Row("GB-ENG", "England", () => new UKBankHoliday(Nation.England)),
        Row("GB-WLS", "Wales", () => new UKBankHoliday(Nation.Wales)),
        Row("GB-SCT", "Scotland", () => new UKBankHoliday(Nation.Scotland), Doubt("15 June 2026")),
        Row("GB-NIR", "Northern Ireland", () => new UKBankHoliday(Nation.NorthernIreland)),
        Row("IE", "Ireland", () => new IrelandPublicHoliday()),

        Row("FR", "France", () => new FrancePublicHoliday()),
        Row("FR-57", "France, Moselle", Alsace, OfAlsace),
        Row("FR-6AE", "France, Alsace", Alsace, OfAlsace),
        Row("IT", "Italy", () => new ItalyPublicHoliday(), Doubt(leftOut: "4 October, from 2026 on")),
        Row("ES", "Spain", () => new SpainPublicHoliday(), OnlyNational),
        Row("PT", "Portugal", () => new PortugalPublicHoliday(), Doubt("Carnival Tuesday")),
        Row("NL", "Netherlands", () => new DutchPublicHoliday(), "5 May is taken in every year; many are free on it only every fifth year (2025, 2030). The shop's own list decides."),
        Row("BE", "Belgium", () => new BelgiumPublicHoliday()),
        Row("LU", "Luxembourg", () => new LuxembourgPublicHoliday()),
        Row("DK", "Denmark", () => new DenmarkPublicHoliday(), Doubt("1 May, 5 June")),
        Row("SE", "Sweden", () => new SwedenPublicHoliday(), Doubt("the eves of midsummer, Christmas and New Year")),
        Row("NO", "Norway", () => new NorwayPublicHoliday()),
        Row("FI", "Finland", () => new FinlandPublicHoliday(false)),
        Row("EE", "Estonia", () => new EstoniaPublicHoliday()),
        Row("LV", "Latvia", () => new LatviaPublicHoliday()),
        Row("LT", "Lithuania", () => new LithuaniaPublicHoliday()),
        Row("PL", "Poland", () => new PolandPublicHoliday()),
        Row("CZ", "Czechia", () => new CzechRepublicPublicHoliday()),
        Row("SK", "Slovakia", () => new SlovakiaPublicHoliday(), Doubt("8 May, 1 September, 15 September, 17 November, which are no days of rest in some years")),
        Row("HU", "Hungary", () => new HungaryPublicHoliday()),
        Row("SI", "Slovenia", () => new SloveniaPublicHoliday()),
        Row("HR", "Croatia", () => new CroatiaPublicHoliday()),
        Row("GR", "Greece", () => new GreecePublicHoliday()),

        Row("US", "United States, federal holidays", () => new USAPublicHoliday(),
            "Only federal holidays are known; states and employers keep others. Lists disagree about the Friday before a holiday on a Saturday (10 November 2028), which is taken here. The shop's own list decides."),
        Province("AB", "Alberta", Doubt($"Easter Monday, the first Monday in August, 26 December, {Reconciliation}")),
        Province("BC", "British Columbia", Doubt(Reconciliation)),
        Province("MB", "Manitoba", Doubt($"the first Monday in August, {Reconciliation}")),
        Province("NB", "New Brunswick", Doubt($"Victoria Day, Thanksgiving Day, 26 December, {Reconciliation}")),
        Province("NS", "Nova Scotia", Doubt($"Victoria Day, the first Monday in August, Thanksgiving Day, 26 December, {Reconciliation}")),
        Province("ON", "Ontario", Doubt(Reconciliation, "Easter Monday")),
        Province("QC", "Quebec", Doubt(Reconciliation)),
        Province("SK", "Saskatchewan", Doubt(Reconciliation)),

        State(OfAustralia.ACT, "Capital Territory", Doubt("a Monday in September", "Reconciliation Day")),
        State(OfAustralia.NSW, "New South Wales", Doubt(leftOut: "the Monday after 25 April on a weekend")),
        State(OfAustralia.NT, "Northern Territory", Doubt("27 April 2026", "the evenings of 24 and 31 December")),
        State(OfAustralia.QLD, "Queensland", Doubt(leftOut: "26 April 2027, the evening of 24 December")),
        State(OfAustralia.SA, "South Australia", Doubt(leftOut: "the evenings of 24 and 31 December")),
        State(OfAustralia.TAS, "Tasmania"),
        State(OfAustralia.VIC, "Victoria", Doubt(leftOut: "the Friday before the football final in September")),
        State(OfAustralia.WA, "Western Australia"),
        Row("NZ", "New Zealand", () => new NewZealandPublicHoliday(), OnlyNational),
        Row("JP", "Japan", () => new JapanPublicHoliday(), Doubt(leftOut: "22 September 2026, a day between two holidays")),
    ];

    private const string OfAlsace = "Good Friday and 26 December are taken as days of local law; they were compared with no second list. The shop's own list decides.";

    private static FrancePublicHoliday Alsace() => new() { Region = FrancePublicHoliday.Regions.AlsaceMoselle };
}
