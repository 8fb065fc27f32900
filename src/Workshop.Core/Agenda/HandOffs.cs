using Workshop.Core.Jobs;
using Workshop.Core.Pieces;
using Workshop.Core.Shop;

namespace Workshop.Core.Agenda;

/// <summary>
/// A hand-off has two halves. What was given and not taken is in nobody's hands; what is with somebody the house does not know is the
/// manager's, who is the holder of last resort. Common practice.
/// </summary>
internal static class HandOffs
{
    private const string Firms = "firms/";

    /// <summary>Said once when nobody has taken it within the shop's time, then to the manager one working day later.</summary>
    public static IEnumerable<AgendaRow> Untaken(Job job, ShopRules rules)
    {
        // A watch given as a whole is one thing to look for.
        foreach (var given in job.Pieces.Pieces.Where(piece => piece.GivenTo is not null).GroupBy(piece => (To: piece.GivenTo!, At: piece.GivenAt!.Value)))
        {
            var due = rules.Calendar.AfterWorkingHours(given.Key.At, rules.HandOffTakenWithin);
            yield return AgendaPlan.Build(
                job, AgendaKind.HandOff, $"{given.Key.To}@{given.Key.At}", due, rules.Calendar.NextOpening(due),
                $"Given to {given.Key.To} and not taken: {Named(given)}",
                (AgendaLevel.Due, () => due),
                (AgendaLevel.Manager, () => rules.Calendar.NextWorkingDay(due)));
        }
    }

    /// <summary>
    /// Pieces whose holder is a person or bench that the shop's documents do not have. Places, trays and firms are free words: of them
    /// nobody can say so. A shop without documents of people, or of benches, is taken at its word.
    /// </summary>
    public static IEnumerable<AgendaRow> Orphans(Job job, ShopRules rules) =>
        job.Pieces.Pieces
            .Where(piece => !IsKnown(piece.Holder, rules))
            .GroupBy(piece => piece.Holder)
            .Select(orphans => AgendaPlan.ForTheManager(
                job, AgendaKind.Orphan, orphans.Key, orphans.Min(piece => piece.Since), $"With {orphans.Key}, whom the house does not know: {Named(orphans)}"));

    /// <summary>What lies with a firm is asked for at the end of the day it was to be back; without a day after the firm's usual time.</summary>
    public static IEnumerable<AgendaRow> WithFirms(Job job, ShopRules rules)
    {
        var calendar = rules.Calendar;
        foreach (var away in job.Pieces.Pieces.Where(piece => piece.Holder.StartsWith(Firms, StringComparison.Ordinal)).GroupBy(piece => (piece.Holder, piece.Since, piece.ExpectedBack, piece.Note)))
        {
            var back = away.Key.ExpectedBack
                ?? calendar.OpenDayAfter(calendar.DateOf(away.Key.Since), rules.FirmWorkingDays.GetValueOrDefault(away.Key.Holder[Firms.Length..], rules.Agenda.WithFirmWorkingDays));
            var due = calendar.EndOfDay(back);
            yield return AgendaPlan.Build(
                job, AgendaKind.WithFirm, $"{away.Key.Holder}@{away.Key.Since}", due, calendar.NextOpening(due),
                $"With {away.Key.Holder}, back by {back:yyyy-MM-dd}{(away.Key.ExpectedBack is null ? " as usual" : "")}{(away.Key.Note is { } note ? $", note {note}" : "")}: {Named(away)}",
                (AgendaLevel.Due, () => due),
                (AgendaLevel.Manager, () => calendar.NextWorkingDay(due)));
        }
    }

    private static bool IsKnown(string holder, ShopRules rules) => holder.Split('/', 2) switch
    {
        ["people", var person] => rules.People.Count == 0 || rules.People.ContainsKey(person),
        ["benches", var bench] => rules.Benches.IsEmpty || rules.Benches.Contains(bench),
        _ => true,
    };

    private static string Named(IEnumerable<Piece> pieces) => string.Join(", ", pieces.Select(piece => piece.Id));
}
