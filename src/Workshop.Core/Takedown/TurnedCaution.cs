using Workshop.Core.Words;

namespace Workshop.Core.Takedown;

/// <summary>A step's caution as it is read when the step is taken back. Common practice throughout.</summary>
public static class TurnedCaution
{
    public const string SpringTension = "spring-tension";
    public const string LeftHandThread = "left-hand-thread";
    public const string DoNotTurn = "do-not-turn";
    public const string Fragile = "fragile";

    /// <summary>Null where the step warns of nothing; the bench's own words stay as they are.</summary>
    public static Phrase? Of(TakenStep step) => (step.IsLetDown, step.Caution) switch
    {
        (true, _) => Phrase.Of("Wind only when the escapement is in and the train runs free"),
        (_, null) => null,
        (_, SpringTension) => Phrase.Of("Goes in last, under tension"),
        (_, LeftHandThread) => Phrase.Of("Left-hand thread: tighten to the left"),
        (_, DoNotTurn) => Phrase.Of("Set as it stood; do not turn"),
        (_, Fragile) => Phrase.Of("Fragile: no force"),
        (_, var own) => Phrase.Of("Take care: {0}", own),
    };
}
