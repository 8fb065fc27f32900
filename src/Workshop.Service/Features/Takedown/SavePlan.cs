using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Takedown;
using Workshop.Service.Features.Shop;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Takedown;

/// <summary>
/// Saves the takedown of a job as the plan of its calibre: its steps, screws and counts. Orders, points of wear, exchangeable parts and the
/// oil plan stay as the calibre's document has them. The state of that document which was seen is named by If-Match.
/// </summary>
public static class SavePlan
{
    public static async Task<Results<Seen<SavedDocument<CalibreDocument>>, Made<SavedDocument<CalibreDocument>>, ProblemHttpResult>> Handle(
        string label, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        return await writer.Turn<Results<Seen<SavedDocument<CalibreDocument>>, Made<SavedDocument<CalibreDocument>>, ProblemHttpResult>>(
            caller.Site,
            turn =>
            {
                if (turn.History(name) is not { } history)
                {
                    return PathLabel.NoJob();
                }

                var calibre = CalibreOfJob.Find(turn, history.Job);
                if (calibre is not { Id: { } id, Document: { } document })
                {
                    return Problems.Of(ProblemCatalogue.NoCalibre, "The watch's calibre is not one of the shop's calibres, by its id or name.");
                }

                if (!history.Job.Takedown.HasBegun)
                {
                    return Problems.BadFields(new Fault("", "No step of this takedown was told; there is nothing to save"));
                }

                var plan = PlanComparison.PlanOf(history.Job.Takedown.Steps, TakedownReading.CountsOf(history.Job), document.Plan);
                return SaveDocument.Save(turn, id, document with { Plan = plan }, seen, caller);
            },
            cancel);
    }
}
