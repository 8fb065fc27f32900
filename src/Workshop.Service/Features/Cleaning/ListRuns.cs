using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Cleaning;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Cleaning;

/// <summary>Runs of the cleaning machines, page by page.</summary>
public static class ListRuns
{
    /// <param name="state">planned, running, finished or aborted; all where left out.</param>
    /// <param name="machine">The machine's id.</param>
    public static async Task<Results<Paged<RunLine>, ProblemHttpResult>> Handle(Page page, Caller caller, Reader reader, string? state, string? machine, CancellationToken cancel)
    {
        if (state is not null && Word.Read<RunState>(state) is null)
        {
            return Problems.BadParameter("state", $"This is none of {string.Join(", ", Word.All<RunState>())}");
        }

        var (at, id) = page.After is [var planned, var run] && long.TryParse(planned, NumberStyles.None, CultureInfo.InvariantCulture, out var before) ? (before, run) : (long.MaxValue, "");
        var rows = await reader.Query<RunRow>(RunStore.PageSql, new { site = caller.Site, state, machine, at, id, limit = page.Limit + 1 }, cancel);
        return page.Of([.. rows.Select(RunLine.Of)], one => [Microseconds.Of(one.PlannedAt).ToString(CultureInfo.InvariantCulture), one.Run]);
    }
}
