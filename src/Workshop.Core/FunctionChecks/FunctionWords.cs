using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Core.FunctionChecks;

/// <summary>What is said with a function.</summary>
public static class FunctionWords
{
    /// <summary>The caution that goes with a calendar that is set fast.</summary>
    public static Phrase NoQuickCorrection(FunctionRules rules) =>
        Phrase.Of("No fast setting of the calendar from {0} to {1} by the hands: the customer is told.", Time(rules.NoQuickCorrection.From), Time(rules.NoQuickCorrection.Until));

    private static string Time(LocalTime time) => $"{time.Hour:00}:{time.Minute:00}";
}
