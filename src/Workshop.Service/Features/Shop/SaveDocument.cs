using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>
/// Saves a document of the shop, whole: what is left out is as usual. Every save is a new version; what was accepted by an older one
/// stays as it was, and what falls due in open jobs is computed anew in the same turn.
/// </summary>
public static class SaveDocument
{
    public static async Task<Results<Seen<SavedDocument<T>>, Made<SavedDocument<T>>, ProblemHttpResult>> Handle<T>(
        string id, SentJson sent, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) where T : class, IShopDocument
    {
        var body = JsonBody<T>.Read(sent.Bytes);
        return body.Refusal is { } refusal ? refusal : await writer.Turn(caller.Site, turn => Save(turn, id, body.Value, seen, caller), cancel);
    }

    internal static Results<Seen<SavedDocument<T>>, Made<SavedDocument<T>>, ProblemHttpResult> Save<T>(
        Turn turn, string id, T document, SeenOrNew seen, Caller caller, params ReadOnlySpan<string> remarks) where T : class, IShopDocument
    {
        if (Refusal(turn, id, document, seen) is { } refusal)
        {
            return refusal;
        }

        var kind = ShopKinds.Of<T>();
        document = (T)document.Completed(ShopDocuments.CheckFor(turn, id));
        var saved = ShopDocuments.Put(turn, kind.Name, id, JsonSerializer.Serialize(document, WorkshopJson.Stored), caller.Source);
        if (document.OnLabel is { } typed && Label.TryRead(typed, out var label))
        {
            turn.BindLabel(label.Value, $"{kind.Path}/{id}");
        }

        var answer = new SavedDocument<T>(id, saved.Version, Microseconds.Read(saved.Saved), saved.RulesVersion, [.. remarks, .. document.Remarks()], document);
        return saved.Version == 1
            ? Answer.Made(kind.Single ? $"/v1/{kind.Path}" : $"/v1/{kind.Path}/{id}", saved.Version, answer)
            : Answer.Seen(saved.Version, answer);
    }

    /// <summary>What stands against saving it; null where it may be saved.</summary>
    internal static ProblemHttpResult? Refusal<T>(Turn turn, string id, T document, SeenOrNew seen) where T : class, IShopDocument
    {
        var kind = ShopKinds.Of<T>();
        if (!kind.Single && !DocumentCheck.IsId(id))
        {
            return Problems.BadFields(new Fault("/id", "An id is of lower case letters, digits and hyphens, at most 60"));
        }

        if (seen.RefusalUnless(ShopDocuments.Newest(turn, kind.Name, id)?.Version) is { } unseen)
        {
            return unseen;
        }

        ImmutableArray<Fault> faults = kind.Faults(document, ShopDocuments.CheckFor(turn, id));
        return faults.IsEmpty ? null
            : document is RulesDocument rules && rules.FixedGates().ToArray() is { Length: > 0 } fixedGates && faults.Length == fixedGates.Length
                ? Problems.Of(
                    ProblemCatalogue.GateIsFixed, $"No rule of a shop changes {string.Join(", ", fixedGates)}.",
                    ("gates", fixedGates), ("errors", faults.Select(fault => new FieldError(fault.Pointer, fault.Detail)).ToArray()))
            : Problems.BadFields(faults);
    }
}
