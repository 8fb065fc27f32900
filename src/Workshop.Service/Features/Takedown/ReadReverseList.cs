using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Takedown;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Photos;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Takedown;

/// <summary>A step as it is taken back.</summary>
/// <param name="Step">Its number in the takedown; here the highest comes first.</param>
/// <param name="Part">What goes in; <c>let-down</c> where the mainspring may be wound again.</param>
/// <param name="Caution">In words, turned round: what had to be eased first goes in last.</param>
/// <param name="Order">In words: this part first, then those.</param>
/// <param name="GoInAfter">Parts that go in only after this one.</param>
/// <param name="Photos">In the order in which the step names them.</param>
/// <param name="Oil">What gets oil or grease as this goes in.</param>
/// <param name="KeptWith">The group it lies with on purpose.</param>
public sealed record ReturnStepView(
    decimal Step, EntryRef Event, Instant At, string? Person, string? Part, string? Text, string? Caution, string? Order, ImmutableArray<string> GoInAfter,
    ImmutableArray<ScrewNote> Screws, ImmutableArray<PhotoRef> Photos, ImmutableArray<OilLine> Oil, KeptWith? KeptWith);

/// <summary>An unbroken stretch of one system.</summary>
/// <param name="System">Null for steps that named none.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Oil">What gets oil or grease in this system and belongs to no single step.</param>
/// <param name="Findings">What is still open in this system.</param>
public sealed record ReturnSectionView(WatchSystem? System, string Name, ImmutableArray<ReturnStepView> Steps, ImmutableArray<OilLine> Oil, ImmutableArray<FindingView> Findings);

/// <summary>The takedown read backwards, the last step first.</summary>
/// <param name="TakenDownBy">Who told its steps.</param>
/// <param name="Replaced">Parts that were exchanged: the old ones do not go in again.</param>
/// <param name="Awaited">Photos that steps name and that have not come yet.</param>
public sealed record ReverseListView(
    Label Job, string? Calibre, string? Holder, string? Tray, ImmutableArray<string> TakenDownBy, int Awaited, ImmutableArray<ReturnSectionView> Sections,
    ImmutableArray<ExchangedPart> Replaced, ImmutableArray<FindingView> FindingsElsewhere, ImmutableArray<OilLine> OilElsewhere);

/// <summary>What the rebuild goes by: as JSON, or as a page to be printed.</summary>
public static class ReadReverseList
{
    private const string Html = "text/html";

    public static async Task<Results<Seen<ReverseListView>, PrintedPage, ProblemHttpResult>> Handle(
        string label, HttpRequest request, HttpResponse response, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, PhotoFiles files, CancellationToken cancel)
    {
        response.Headers.Append(HeaderNames.Vary, HeaderNames.Accept);
        if (WantsPage(request))
        {
            return await Page(label, caller, language, reader, rules, files, cancel) is { Result: PrintedPage page } ? page : PathLabel.NoJob();
        }

        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        return await TakedownReading.Read(reader, caller.Site, name, await rules.Read(caller.Site, cancel), cancel) is { } read
            ? Answer.Seen(read.Job.Version, Shown(read, language.Best))
            : PathLabel.NoJob();
    }

    public static async Task<Results<PrintedPage, ProblemHttpResult>> Page(
        string label, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, PhotoFiles files, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        if (await TakedownReading.Read(reader, caller.Site, name, await rules.Read(caller.Site, cancel), cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var pictures = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (var photo in read.Job.Takedown.Steps.SelectMany(step => step.Photos).Distinct(StringComparer.Ordinal))
        {
            if (read.Photos.TryGetValue(photo, out var stored) && files.Find(caller.Site, name, stored, thumb: true) is { } path)
            {
                pictures[photo] = await File.ReadAllBytesAsync(path, cancel);
            }
        }

        return new PrintedPage(ReverseListPage.Of(Shown(read, language.Best), pictures, language.Best));
    }

    private static bool WantsPage(HttpRequest request) =>
        request.GetTypedHeaders().Accept is { Count: > 0 } accepted
        && accepted.OrderByDescending(one => one.Quality ?? 1).First() is { Quality: not 0 } best
        && best.MediaType.Equals(Html, StringComparison.OrdinalIgnoreCase);

    private static ReverseListView Shown(TakedownReading read, Language language)
    {
        var takedown = read.Job.Takedown;
        var list = ReverseList.Of(takedown, read.Plan, read.Job.Groups);
        var named = takedown.Steps.SelectMany(step => step.Photos).Distinct(StringComparer.Ordinal);
        return new ReverseListView(
            read.Job.Label, read.Calibre.Id, takedown.Holder, takedown.Tray, [.. takedown.Steps.Select(step => step.Person).OfType<string>().Distinct(StringComparer.Ordinal)],
            named.Count(photo => !read.Photos.ContainsKey(photo)),
            [.. list.Sections.Select(section => new ReturnSectionView(
                section.System,
                section.System is { } system ? WordLists.Of(system, language) : Phrase.Of("Without a system").In(language),
                [.. section.Steps.Select(step => Shown(step, read, language))],
                section.Oil,
                [.. section.Findings.Select(one => FindingView.Of(one, read))]))],
            list.Replaced,
            [.. list.FindingsElsewhere.Select(one => FindingView.Of(one, read))],
            list.OilElsewhere);
    }

    private static ReturnStepView Shown(ReturnStep step, TakedownReading read, Language language)
    {
        var taken = step.Taken;
        return new ReturnStepView(
            taken.Step, EntryRef.Of(taken.Id), taken.At, taken.Person, taken.Part, taken.Text, TurnedCaution.Of(taken)?.In(language),

            // Nobody lets down at the rebuild: when to wind is said by its caution.
            step.GoInAfter.IsEmpty || taken.Part == OrderRule.LetDown ? null : Phrase.Of("{0} first, then {1}", new Term("part", taken.Part!), new Series([.. step.GoInAfter.Select(one => new Term("part", one))])).In(language),
            step.GoInAfter, taken.Screws, read.Shown(taken.Photos), step.Oil, taken.KeptWith);
    }
}
