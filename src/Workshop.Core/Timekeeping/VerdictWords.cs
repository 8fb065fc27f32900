using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>Verdicts in words.</summary>
public static class VerdictWords
{
    // More do not go into a line.
    private const int PositionsNamedAtMost = 2;

    /// <summary>The criterion that fails, with its figure and its limit; one line.</summary>
    public static Phrase Failing(Criterion criterion)
    {
        var limit = criterion.Figure < criterion.Least ? criterion.Least : criterion.Most;
        return criterion.Figure < criterion.Least
            ? Phrase.Of("{0}: {1}, at least {2}", Short(criterion.Kind), Said(criterion.Kind, criterion.Figure, limit), Said(criterion.Kind, limit))
            : Phrase.Of("{0}: {1}, at most {2}", Short(criterion.Kind), Said(criterion.Kind, criterion.Figure, limit), Said(criterion.Kind, limit));
    }

    /// <summary>What a set lacks; one line.</summary>
    public static Phrase Incomplete(RateVerdict verdict) => verdict.MissingPositions switch
    {
        [] => Phrase.Of("Quartz: measure over the module's own window"),
        { Length: <= PositionsNamedAtMost } few => Phrase.Of("Not measured: {0}", new Series([.. few.Select(one => (object)one)])),
        var many => Phrase.Of("{0} positions are not measured", many.Length),
    };

    /// <summary>The verdict, and every criterion with its figure, limit and what is left of it.</summary>
    public static IEnumerable<Phrase> Of(RateVerdict verdict)
    {
        var kind = new Term("toleranceKind", verdict.Tolerance.Kind);
        yield return verdict.Outcome switch
        {
            RateOutcome.Passes when verdict.Excepted.IsEmpty => Phrase.Of("Passes {0}.", kind),
            RateOutcome.Passes => Phrase.Of("Passes {0} with {1} signed.", kind, new Series([.. verdict.Excepted.Select(one => (object)one.Criterion)])),
            RateOutcome.Outside => Phrase.Of("Outside {0}.", kind),
            _ when verdict.MissingPositions.IsEmpty => Phrase.Of("Measured over another stretch than the module corrects itself over: the rate means nothing."),
            _ => Phrase.Of("Cannot pass {0}: {1} not measured.", kind, new Series([.. verdict.MissingPositions.Select(one => (object)one)])),
        };
        foreach (var criterion in verdict.Criteria)
        {
            yield return Of(criterion);
        }

        if (verdict.Tolerance.ByAgreement == true)
        {
            yield return Phrase.Of("Usually by agreement with the customer; these are the shop's figures.");
        }
    }

    private static Phrase Of(Criterion criterion) => criterion switch
    {
        { Figure: null } => Phrase.Of("{0}: not measured.", criterion.Kind),
        { Least: { } least, Most: { } most } => Phrase.Of("{0}: {1}, {2} to {3}.", criterion.Kind, Figured(criterion), Said(criterion.Kind, least), Said(criterion.Kind, most)),
        { Least: { } least } => Phrase.Of("{0}: {1}, at least {2}.", criterion.Kind, Figured(criterion), Said(criterion.Kind, least)),
        { Most: { } most } => Phrase.Of("{0}: {1}, at most {2}.", criterion.Kind, Figured(criterion), Said(criterion.Kind, most)),
        _ => Phrase.Of("{0}: {1}.", criterion.Kind, Figured(criterion)),
    };

    private static Phrase Figured(Criterion criterion) => criterion.At is { } at
        ? Phrase.Of("{0} {1}", Said(criterion.Kind, criterion.Figure, Nearest(criterion)), at)
        : Said(criterion.Kind, criterion.Figure, Nearest(criterion));

    /// <summary>A figure with its unit.</summary>
    /// <param name="limit">One that fails by less than is usually said is said more finely, so that it does not look like its limit.</param>
    public static Phrase Said(CriterionKind kind, decimal? figure, decimal? limit = null)
    {
        var said = figure ?? 0;
        return UnitOf(kind) switch
        {
            "deg" => Phrase.Of("{0}°", new Figure(said, Finely(0) ? "0.0##" : "0")),
            "ms" => Phrase.Of("{0} ms", new Figure(said, "0.0##")),
            _ when kind is CriterionKind.SpreadFull or CriterionKind.RunningSpread => Phrase.Of("{0} s/d", new Figure(said, Finely(1) ? "0.0###" : "0.0")),
            _ => Phrase.Of("{0} s/d", new Figure(said, Finely(1) ? "+0.0###;-0.0###;0.0" : "+0.0;-0.0;0.0")),
        };

        bool Finely(int decimals) => limit is { } one && said != one && Math.Round(said, decimals, MidpointRounding.AwayFromZero) == one;
    }

    private static decimal? Nearest(Criterion criterion) => criterion.Figure + criterion.Margin == criterion.Most ? criterion.Most : criterion.Least ?? criterion.Most;

    /// <summary>s/d, deg or ms.</summary>
    public static string UnitOf(CriterionKind kind) => kind switch
    {
        CriterionKind.FlatFull or CriterionKind.VerticalFull or CriterionKind.VerticalOneDay or CriterionKind.RunningDrop or CriterionKind.RunningVerticalFull or CriterionKind.RunningVerticalOneDay => "deg",
        CriterionKind.BeatError or CriterionKind.RunningBeatError => "ms",
        _ => "s/d",
    };

    private static Phrase Short(CriterionKind kind) => kind switch
    {
        CriterionKind.MeanFull or CriterionKind.QuartzRate => Phrase.Of("Mean"),
        CriterionKind.SpreadFull or CriterionKind.RunningSpread => Phrase.Of("Spread"),
        CriterionKind.FlatFull => Phrase.Of("Amplitude flat"),
        CriterionKind.VerticalFull or CriterionKind.VerticalOneDay or CriterionKind.RunningVerticalFull or CriterionKind.RunningVerticalOneDay => Phrase.Of("Amplitude upright"),
        CriterionKind.BeatError or CriterionKind.RunningBeatError => Phrase.Of("Beat error"),
        CriterionKind.Isochronism => Phrase.Of("Change over a day"),
        CriterionKind.RunningMean => Phrase.Of("Running less stopped"),
        _ => Phrase.Of("Lost when running"),
    };
}
