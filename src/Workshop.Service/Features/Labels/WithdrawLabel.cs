using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>
/// Takes a lost badge, a torn label of a bench or a blank that nobody finds out of use: whoever scans it is told to stop. A watch's label
/// is replaced by an event instead, since its history goes on under the new one.
/// </summary>
public static class WithdrawLabel
{
    public static async Task<Results<Done<LabelView>, ProblemHttpResult>> Handle(string label, Caller caller, Writer writer, CancellationToken cancel) =>
        Label.TryRead(label, out var read)
            ? await writer.Turn(caller.Site, turn => Withdraw(turn, read.Value), cancel)
            : ReadLabel.Unreadable();

    private static Results<Done<LabelView>, ProblemHttpResult> Withdraw(Turn turn, Label label)
    {
        if (turn.Rules.People.Values.FirstOrDefault(person => string.Equals(person.Badge, label.ToString(), StringComparison.OrdinalIgnoreCase)) is { } bearer)
        {
            return Problems.BadParameter("label", $"This badge stands in people/{bearer.Id}; save them with another one, or with none, first");
        }

        if (turn.FindLabel(label) is not { } row || row.Site != turn.Site)
        {
            return Problems.Of(ProblemCatalogue.LabelUnknown, $"{label} names nothing in this house.", ("label", label.ToString()));
        }

        if (LabelRow.JobOf(row.Names) is not null)
        {
            return Problems.BadParameter("label", "A watch's label is replaced by label.replaced");
        }

        turn.WithdrawLabel(label);
        return Answer.Done(LabelView.Of(label, turn.FindLabel(label)!.Names, job: null));
    }
}
