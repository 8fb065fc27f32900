using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>
/// What a label is on. A slip of the finger is no label at all and never another watch; one that can be read and that nobody has given
/// out is unknown; one that was replaced says stop.
/// </summary>
public static class ReadLabel
{
    public static async Task<Results<Seen<LabelView>, ProblemHttpResult>> Handle(string label, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!Label.TryRead(label, out var read))
        {
            return Unreadable();
        }

        var known = await rules.Read(caller.Site, cancel);
        return await reader.Read(connection => LabelStore.Find(connection, caller.Site, read.Value, known), cancel) is { } found
            ? Answer.Seen(found.Job?.Version ?? 0, LabelView.Of(read.Value, found.Names, found.Job))
            : Problems.Of(ProblemCatalogue.LabelUnknown, $"{read} names nothing in this house.", ("label", read.ToString()));
    }

    internal static ProblemHttpResult Unreadable() => Problems.Of(ProblemCatalogue.LabelUnreadable, "The label in the address cannot be read.");
}
