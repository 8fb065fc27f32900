using System.ComponentModel.DataAnnotations;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Scans;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <param name="Names">What it is stuck on: <c>benches/…</c>, <c>people/…</c>, <c>trays/…</c>, <c>winder-places/…</c>, <c>machines/…</c>, <c>cages/…</c>, <c>fluid-batches/…</c>, <c>words/…</c>.</param>
public sealed record NameLabelBody([property: StringLength(80, MinimumLength = 3)] string Names);

/// <param name="Kind">What it is to be stuck on; its letter becomes the first.</param>
/// <param name="Names">Left out for a blank one, which is bound at its first use.</param>
public sealed record DrawLabelBody(LabelKind Kind, [property: StringLength(80, MinimumLength = 3)] string? Names = null);

/// <summary>Sticks a label on a thing of the house. One label names one thing, and never another one later; a thing may have several.</summary>
public static partial class NameLabel
{
    public static async Task<Results<Done<LabelView>, ProblemHttpResult>> Handle(string label, JsonBody<NameLabelBody> body, Caller caller, Writer writer, CancellationToken cancel) =>
        Label.TryRead(label, out var read)
            ? await writer.Turn(caller.Site, turn => Bind(turn, read.Value, body.Value.Names), cancel)
            : ReadLabel.Unreadable();

    /// <summary>What stands against a name for a label of this kind; nothing where it fits.</summary>
    internal static IEnumerable<Fault> Faults(LabelKind kind, string names, ShopRules rules)
    {
        if (PlaceOf(kind) is not { } place)
        {
            yield return new Fault("/names", "Watches and pieces get their labels at intake, by label.attached or by label.replaced");
        }
        else if (names.Split('/') is not [var what, var id] || what != place || !Id().IsMatch(id))
        {
            yield return new Fault("/names", $"A label of the kind {Word.Of(kind)} names '{place}/' and an id in lower case, digits and hyphens");
        }
        else if (kind == LabelKind.WordCard && Word.Read<WordCard>(id) is null)
        {
            yield return new Fault("/names", $"A word card says one of {string.Join(", ", Word.All<WordCard>())}");
        }
        else if ((kind == LabelKind.Badge && !rules.People.ContainsKey(id)) || (kind == LabelKind.Bench && !rules.Benches.Contains(id)))
        {
            yield return new Fault("/names", $"There is no {names} in this house");
        }
    }

    private static Results<Done<LabelView>, ProblemHttpResult> Bind(Turn turn, Label label, string names)
    {
        if (Faults(label.Kind, names, turn.Rules).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        return turn.BindLabel(label, names) || turn.NamesOf(label) == names
            ? Answer.Done(LabelView.Of(label, names, job: null))
            : Problems.Of(ProblemCatalogue.LabelBound, $"{label} names something else already.", ("label", label.ToString()));
    }

    private static string? PlaceOf(LabelKind kind) => kind switch
    {
        LabelKind.Bench => "benches",
        LabelKind.Badge => "people",
        LabelKind.Tray => "trays",
        LabelKind.WinderPlace => "winder-places",
        LabelKind.Machine => "machines",
        LabelKind.Cage => "cages",
        LabelKind.FluidBatch => "fluid-batches",
        LabelKind.WordCard => "words",
        _ => null,
    };

    [GeneratedRegex(@"^[a-z0-9][a-z0-9-]{0,59}\z")]
    private static partial Regex Id();
}
