using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Recordings;
using Workshop.Core.Words;
using Workshop.Service.Features.Charts;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints.Recordings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>What a reading rests on, drawn: stretch by stretch, and the mean beat with the moments that were picked in it.</summary>
public static class DrawRecording
{
    /// <param name="width">Dots of a screen.</param>
    /// <param name="language">en or de; the caller's where left out.</param>
    public static Task<Results<Printed, ProblemHttpResult>> Svg(
        string label, string sha256, string? width, string? language, Caller caller, LanguageAsked asked, Reader reader, CancellationToken cancel) =>
        Draw(label, sha256, "svg", width, null, language, caller, asked, reader, cancel);

    /// <param name="width">Dots of a screen.</param>
    /// <param name="scale">Dots of the picture for each of them; 3.125 makes 300 an inch.</param>
    /// <param name="language">en or de; the caller's where left out.</param>
    public static Task<Results<Printed, ProblemHttpResult>> Png(
        string label, string sha256, string? width, string? scale, string? language, Caller caller, LanguageAsked asked, Reader reader, CancellationToken cancel) =>
        Draw(label, sha256, "png", width, scale, language, caller, asked, reader, cancel);

    private static async Task<Results<Printed, ProblemHttpResult>> Draw(
        string label, string sha256, string form, string? width, string? scale, string? language, Caller caller, LanguageAsked asked, Reader reader, CancellationToken cancel)
    {
        if (PlotAsked.Read(form, width, scale, out var refusal) is not { } plot)
        {
            return refusal!;
        }

        if (language is not (null or "en" or "de"))
        {
            return Problems.BadParameter("language", "A drawing speaks en or de");
        }

        var (job, kept, unknown) = await ReadRecordings.Find(label, sha256, caller, reader, cancel);
        if (kept is null)
        {
            return unknown!;
        }

        if (kept.StateRead == RecordingState.Waiting)
        {
            return Problems.Of(ProblemCatalogue.RecordingWaits, "There is nothing to draw yet.", ("recordings", new[] { sha256 }));
        }

        if (kept.ReadHeard() is not { } heard || await reader.Read(connection => RecordingStore.FindEvidence(connection, caller.Site, job, sha256), cancel) is not { } evidence)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "Nothing was heard in this recording that could be drawn.");
        }

        var told = kept.ReadTold();
        var best = language switch { "de" => Language.German, "en" => Language.English, _ => asked.Best };
        var heading = Phrase.Of("{0}, {1}, wound: {2}", job.ToString(), told.Position, told.WindState).In(best);
        return plot.Draw(RecordingDrawing.Of(heard.Reading, evidence, heading, best), $"{job}-{sha256[..8]}");
    }
}
