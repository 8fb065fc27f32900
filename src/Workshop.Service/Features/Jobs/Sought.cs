using System.Collections.Immutable;
using System.Data.Common;
using Workshop.Core.Casing;
using Workshop.Core.Search;

namespace Workshop.Service.Features.Jobs;

/// <summary>How well a job fits what is sought.</summary>
/// <param name="Any">It does.</param>
/// <param name="Fit">From 0 to 1.</param>
internal readonly record struct HowItFits(bool Any, double Fit, ImmutableArray<FoundBy> By);

/// <summary>What is looked for, in the forms in which it is compared; a part that is null or empty is not looked for.</summary>
internal sealed record Sought
{
    private const int LettersAtLeast = 2;

    /// <summary>Digits from which on a telephone number is meant as a whole.</summary>
    private const int WholeTelephone = 7;

    public Core.Labels.Label? Label { get; init; }

    /// <summary>The job that the label leads to.</summary>
    private string? Job { get; set; }

    /// <summary>A label was named and is none: nothing fits.</summary>
    private bool NoLabel { get; init; }

    public string? Serial { get; init; }

    public string? OwnNumber { get; init; }

    /// <summary>From the last digit to the first, in every form.</summary>
    public ImmutableArray<string> Telephone { get; init; } = [];

    public ImmutableArray<string> Name { get; init; } = [];

    public ImmutableArray<string> Watch { get; init; } = [];

    /// <summary>One part is enough; else all of them have to fit.</summary>
    public bool Any { get; init; }

    /// <returns>null: there is nothing to look for.</returns>
    public static Sought? Read(SearchBody body, string? country)
    {
        var sought = body.Text is { } text ? OfText(text, country) : new Sought
        {
            Label = Labelled(body.Label),
            NoLabel = !string.IsNullOrWhiteSpace(body.Label) && Labelled(body.Label) is null,
            Serial = WatchNumber.Key(body.Serial),
            OwnNumber = WatchNumber.Key(body.OwnNumber),
            Telephone = Customers.Telephone.Sought(body.Telephone, country),
            Name = Named(body.Name),
            Watch = FoldedText.Words(body.Watch),
        };
        return sought is { Label: null, NoLabel: false, Serial: null, OwnNumber: null, Telephone.IsEmpty: true, Name.IsEmpty: true } ? null : sought;
    }

    /// <summary>Jobs that may fit: along every way where one is enough, else along the one that leads to fewest.</summary>
    public IEnumerable<FoundJobRow> LookedUp(DbConnection connection, string site)
    {
        if (NoLabel)
        {
            return [];
        }

        Job = Label is { } label ? SearchStore.JobBehind(connection, site, label) : null;
        List<Func<IEnumerable<FoundJobRow>>> ways = [];
        if (Job is { } job)
        {
            ways.Add(() => SearchStore.ByLabel(connection, site, job));
        }

        if (OwnNumber is { } own)
        {
            ways.Add(() => SearchStore.ByOwnNumber(connection, site, own));
        }

        if (Serial is { } serial)
        {
            // Whoever reads the whole number is not asking for those it is a part of.
            ways.Add(() => SearchStore.BySerial(connection, site, serial) is { Count: > 0 } whole ? whole : SearchStore.ByPartOfNumber(connection, site, serial));
        }

        if (!Telephone.IsEmpty)
        {
            ways.Add(() => Telephone.SelectMany(one => SearchStore.ByTelephone(connection, site, one)));
        }

        if (!Name.IsEmpty)
        {
            ways.Add(() => SearchStore.ByName(connection, site, Name));
        }

        return Any ? [.. ways.SelectMany(way => way())] : ways[0]();
    }

    public HowItFits Fits(FoundJobRow row)
    {
        // One text may hold a name and a maker; whoever knows the name says so by a word of it at least.
        var name = FoldedText.Words(row.Name);
        var watch = FoldedText.Words($"{row.Maker} {row.Model} {row.Reference}");
        (bool Asked, double Fit, FoundBy By)[] all =
        [
            (Job is not null, row.Label == Job ? 1 : 0, FoundBy.Label),
            (OwnNumber is not null, OfOwnNumber(row), FoundBy.OwnNumber),
            (Serial is not null, OfSerial(row), HasWhole(row) ? FoundBy.Serial : FoundBy.PartOfSerial),
            (!Telephone.IsEmpty, OfTelephone(row), FoundBy.Telephone),
            (!Name.IsEmpty, OfName(name, watch), FoundBy.Name),
            (!Watch.IsEmpty, Likeness.Of(Watch, watch) is var like && like >= Likeness.Enough ? like : 0, FoundBy.Watch),
        ];
        var asked = all.Where(one => one.Asked).ToArray();
        var fitting = asked.Where(one => one.Fit > 0).OrderByDescending(one => one.Fit).ToArray();
        return fitting.Length == 0 || (!Any && fitting.Length < asked.Length)
            ? new HowItFits(false, 0, [])
            : new HowItFits(true, Any ? fitting[0].Fit : fitting.Average(one => one.Fit), [.. fitting.Select(one => one.By)]);
    }

    private static Sought OfText(string text, string? country) => new()
    {
        Label = Labelled(text),
        Serial = WatchNumber.Key(text) is { Length: >= 2 } key && key.Any(char.IsAsciiDigit) ? key : null,
        OwnNumber = WatchNumber.Key(text) is { } own && own.Any(char.IsLetterOrDigit) ? own : null,
        Telephone = text.Any(char.IsLetter) ? [] : Customers.Telephone.Sought(text, country),
        Name = Named(text),
        Any = true,
    };

    private static Core.Labels.Label? Labelled(string? typed) => Core.Labels.Label.TryRead(typed ?? "", out var label) ? label : null;

    private static ImmutableArray<string> Named(string? typed) => FoldedText.Words(typed) is var words && words.Any(word => word.Length >= LettersAtLeast) ? words : [];

    private double OfName(ImmutableArray<string> name, ImmutableArray<string> watch)
    {
        var fit = Likeness.Of(Name, name);
        if (fit < Likeness.Enough && Any && Name.Length > 1 && Name.Any(word => Likeness.Of([word], name) >= Likeness.Enough))
        {
            fit = Likeness.Of(Name, [.. name, .. watch]);
        }

        return fit >= Likeness.Enough ? 0.9 * fit : 0;
    }

    private double OfOwnNumber(FoundJobRow row) =>
        OwnNumber is null || row.OwnNumberKey is not { } key ? 0
        : key == OwnNumber ? 1
        : key.StartsWith(OwnNumber, StringComparison.Ordinal) ? 0.6
        : 0;

    private bool HasWhole(FoundJobRow row) => NumbersOf(row).Contains(Serial);

    private double OfSerial(FoundJobRow row) =>
        Serial is null ? 0
        : HasWhole(row) ? 1
        : Serial.Length < 3 ? 0
        : NumbersOf(row).Where(key => key!.Contains(Serial, StringComparison.Ordinal)).Select(key => 0.5 + 0.3 * Serial.Length / key!.Length).DefaultIfEmpty().Max();

    private double OfTelephone(FoundJobRow row) => row.TelephoneReversed is not { } kept ? 0 : Telephone.Select(sought =>
        kept == sought ? 0.98
        : kept.StartsWith(sought, StringComparison.Ordinal) ? (sought.Length >= WholeTelephone ? 0.95 : 0.7)
        : kept.Length >= WholeTelephone && sought.StartsWith(kept, StringComparison.Ordinal) ? 0.95
        : 0).DefaultIfEmpty().Max();

    private static IEnumerable<string?> NumbersOf(FoundJobRow row) =>
        new[] { row.CaseSerialKey, row.MovementNumberKey, row.WatchCaseSerialKey, row.WatchMovementNumberKey }.Where(key => key is not null);
}
