using Workshop.Core.Promises;
using Workshop.Core.Words;

namespace Workshop.Core.Letters;

/// <summary>Why a day moved, as a customer understands it; who, which firm and how often is the house's own.</summary>
public static class LetterReasons
{
    public static Phrase Of(PromiseReason reason) => reason switch
    {
        PromiseReason.WaitedForYou => Phrase.Of("we have waited for your answer"),
        PromiseReason.Part => Phrase.Of("a part comes later than we were told"),
        PromiseReason.SupplementaryWork => Phrase.Of("it needs more work than could be seen before"),
        PromiseReason.TestRepeated => Phrase.Of("we test it once more, to be sure"),
        PromiseReason.OutsideFirm => Phrase.Of("one step of the work takes longer"),
        PromiseReason.Closure => Phrase.Of("the workshop is closed for some days"),
        PromiseReason.Absence => Phrase.Of("we have fewer hands than we had planned with"),
        PromiseReason.UrgentWork => Phrase.Of("we have more to do than we had planned"),
        _ => Phrase.Of("the work takes another time than we had thought"),
    };
}
