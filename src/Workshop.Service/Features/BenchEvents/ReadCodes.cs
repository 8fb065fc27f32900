using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Scans;
using Workshop.Core.Words;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>The codes of a scan as read: what they name, or why they cannot be read.</summary>
internal sealed record CodesRead
{
    public ScanContents Contents { get; init; } = new();

    /// <summary>The job whose label was scanned, as it stands now.</summary>
    public JobHistory? History { get; init; }

    /// <summary>The label of the job or piece, as scanned.</summary>
    public Label? Under { get; init; }

    public ProblemDetails? Problem { get; init; }

    /// <summary>What to show, where the problem's own title would say too little.</summary>
    public Phrase? Line { get; init; }
}

/// <summary>Finds what the codes of a scan name. A label that cannot be read is never another thing; one that nobody knows names nothing.</summary>
internal static class ReadCodes
{
    public static CodesRead Of(Turn turn, ImmutableArray<string> codes, Language language)
    {
        var read = new CodesRead();
        foreach (var (i, code) in codes.Index())
        {
            if (!Label.TryRead(code, out var label))
            {
                return read with { Problem = Problems.Details(ProblemCatalogue.LabelUnreadable, $"The code at /data/codes/{i} is no label.", ("pointer", $"/data/codes/{i}")) };
            }

            if (NamesOf(turn, label.Value) is not { Length: > 0 } names)
            {
                return read with
                {
                    Problem = Problems.BadFieldsDetails([new Fault($"/data/codes/{i}", "This label names nothing here")]),
                    Line = Phrase.Of("{0} names nothing here", label.Value.ToString()),
                };
            }

            if (LabelRow.IsWithdrawn(names))
            {
                return read with
                {
                    Problem = Problems.BadFieldsDetails([new Fault($"/data/codes/{i}", "This label was taken out of use")]),
                    Line = Phrase.Of("{0} was taken out of use", label.Value.ToString()),
                };
            }

            if (With(turn, read, label.Value, names) is not { } further)
            {
                var line = Phrase.Of("Two of a kind in one scan: one at a time");
                return read with { Problem = SaysNothing(line, language), Line = line };
            }

            read = further;
        }

        return read;
    }

    public static ProblemDetails SaysNothing(Phrase line, Language language) =>
        Problems.Details(ProblemCatalogue.ScanSaysNothing, $"{line.In(language)}.", ("line", line.In(language)));

    /// <summary>What a label names in this site; a badge may stand in the person's document alone.</summary>
    public static string? NamesOf(Turn turn, Label label) =>
        turn.FindLabel(label) is { } row ? row.Site == turn.Site ? row.Names : null
        : label.Kind == LabelKind.Job && turn.History(label) is not null ? StreamEntry.OfJob(label)
        : label.Kind == LabelKind.Badge && turn.Rules.PersonBehind(label.ToString()) is { } person ? $"people/{person.Id}"
        : null;

    /// <returns>Null where the scan has another thing of the kind already.</returns>
    private static CodesRead? With(Turn turn, CodesRead read, Label label, string names)
    {
        var scan = read.Contents;
        if (LabelRow.JobOf(names) is { } job)
        {
            var piece = LabelRow.PieceOf(names);
            if (read.History is { } known && (known.Job.Label != job || (scan.Piece is not null && piece is not null && piece != scan.Piece)))
            {
                return null;
            }

            // The piece is the nearer word: with the watch's own label beside it, the piece is meant.
            return turn.History(job) is not { } history ? null
                : read with { History = history, Under = piece is null ? read.Under ?? label : label, Contents = scan with { Job = history.Job, Piece = piece ?? scan.Piece } };
        }

        return names.Split('/', 2) switch
        {
            ["benches", var bench] when Fits(scan.Bench, bench) => read with { Contents = scan with { Bench = bench } },
            ["people", var person] when Fits(scan.Person, person) => read with { Contents = scan with { Person = person } },
            ["trays", var tray] when Fits(scan.Tray, tray) => read with { Contents = scan with { Tray = tray } },
            ["winder-places", var place] when Fits(scan.WinderPlace, place) => read with { Contents = scan with { WinderPlace = place } },
            ["words", var word] when Word.Read<WordCard>(word) is { } card && (scan.Word is null || scan.Word == card) => read with { Contents = scan with { Word = card } },

            // A run takes a machine, cages and a batch at once.
            ["machines" or "cages" or "fluid-batches", _] => read with { Contents = scan with { OfCleaning = names } },
            _ => null,
        };
    }

    private static bool Fits(string? before, string now) => before is null || before == now;
}
