using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.FunctionChecks;

/// <summary>What is known of a movement, as far as it says which functions there are. Absent is not known.</summary>
public sealed record MovementFacts(CalibreKind Kind, bool? Calendar)
{
    /// <summary>The functions that such a watch has to show; where a calendar changes in one of three ways, any one of them does.</summary>
    public ImmutableArray<ImmutableArray<WatchFunction>> ToShow(FunctionRules rules)
    {
        var fitted = rules.Functions.Where(rule => Has(rule.FittedTo)).Select(rule => rule.Function).ToImmutableArray();
        ImmutableArray<WatchFunction> dates = [.. fitted.Where(IsADate)];
        var others = fitted.Where(one => !IsADate(one)).Select(one => ImmutableArray.Create(one));
        return dates.IsEmpty ? [.. others] : [dates, .. others];
    }

    /// <summary>A chronograph may be wound by hand or by a rotor: that it has one is not asked before somebody says so.</summary>
    private bool Has(FittedTo to) => to switch
    {
        FittedTo.Every => true,
        FittedTo.Mechanical => Kind != CalibreKind.Quartz,
        FittedTo.Automatic => Kind == CalibreKind.Automatic,
        FittedTo.Chronograph => Kind == CalibreKind.Chronograph,
        FittedTo.Calendar => Calendar == true,
        FittedTo.Some => false,
    };

    private static bool IsADate(WatchFunction one) => one is WatchFunction.DateInstant or WatchFunction.DateSemiInstant or WatchFunction.DateDragging;
}

/// <summary>What was judged about a function when it was told; frozen in the entry.</summary>
public sealed record FunctionTerms
{
    /// <summary>What the watch had to show by what was known of it; one of each row is enough.</summary>
    public ImmutableArray<ImmutableArray<WatchFunction>> ToShow { get; init; } = [];

    /// <summary>What the figures say by the rule of that day; null where they say nothing.</summary>
    public bool? ByFigures { get; init; }

    public Stage? BackTo { get; init; }
}

/// <summary>One trial of a function.</summary>
public sealed record FunctionCheck(EventId Id, Instant At, FunctionChecked Told, FunctionTerms Terms, string? Person, string? Bench)
{
    public WatchFunction Function => Told.Function;

    /// <summary>What the person says and what the figures say are not the same.</summary>
    public bool FiguresDiffer => Told.Passed is { } passed && Terms.ByFigures is { } figures && figures != passed;
}

/// <summary>How a function stands.</summary>
public enum FunctionState
{
    Open,
    Right,
    NotRight,

    /// <summary>Somebody said that the watch has none.</summary>
    NotFitted,
}

/// <summary>One function of a watch, and the newest word about it.</summary>
/// <param name="OneOf">The functions that would do; one, but for a calendar that nobody has tried yet.</param>
/// <param name="Check">Null while it is open.</param>
public sealed record FunctionStanding(ImmutableArray<WatchFunction> OneOf, FunctionState State, FunctionCheck? Check);

/// <summary>Every trial of a function. The newest of each counts, since the movement was last rebuilt and its hands were last fitted.</summary>
public sealed record FunctionBook
{
    public ImmutableArray<FunctionCheck> Checks { get; init; } = [];

    public FunctionBook Apply(Entry entry) => entry.Event is FunctionChecked told
        ? this with { Checks = Checks.Add(new FunctionCheck(entry.Id, entry.Effective, told, entry.Judged.Function ?? new FunctionTerms(), entry.Person, entry.Judged.Bench)) }
        : this;

    /// <summary>The moment since which trials count: rebuild, dial and hands as they last were begun, done or taken back. An opened case changes nothing.</summary>
    public static Instant? CountsSince(Standings standings)
    {
        Instant? since = null;
        foreach (var stage in (ReadOnlySpan<Stage>)[Stage.Rebuild, Stage.DialAndHands])
        {
            if (standings.Of(stage).Since is { } at && (since is null || at > since))
            {
                since = at;
            }
        }

        return since;
    }

    /// <summary>Trials that count.</summary>
    public IEnumerable<FunctionCheck> Counting(Standings standings) => CountsSince(standings) is { } since ? Checks.Where(one => one.At >= since) : Checks;

    /// <summary>Every function the watch has to show, and those that somebody tried besides; what is open or not right comes as it is.</summary>
    /// <param name="toShow">What it has to show; one of each row is enough.</param>
    public ImmutableArray<FunctionStanding> Stand(Standings standings, ImmutableArray<ImmutableArray<WatchFunction>> toShow)
    {
        var newest = Counting(standings).GroupBy(one => one.Function).ToDictionary(group => group.Key, group => group.Last());
        var asked = toShow.Select(row => Of(row, row.Where(newest.ContainsKey).Select(one => newest[one]).MaxBy(one => one.At)));
        var besides = newest.Values.Where(one => !toShow.Any(row => row.Contains(one.Function))).OrderBy(one => one.Function).Select(one => Of([one.Function], one));
        return [.. asked, .. besides];
    }

    /// <summary>The same by what was known of the movement when a function was last tried; nothing before the first trial.</summary>
    public ImmutableArray<FunctionStanding> Stand(Standings standings) => Checks is [.., var last] ? Stand(standings, last.Terms.ToShow) : [];

    private static FunctionStanding Of(ImmutableArray<WatchFunction> row, FunctionCheck? check) => check is null
        ? new FunctionStanding(row, FunctionState.Open, null)
        : new FunctionStanding([check.Function], StateOf(check.Told), check);

    private static FunctionState StateOf(FunctionChecked told) =>
        told.NotFitted == true ? FunctionState.NotFitted : told.Passed == true ? FunctionState.Right : FunctionState.NotRight;
}
