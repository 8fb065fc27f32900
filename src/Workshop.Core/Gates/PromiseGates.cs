using System.Globalization;
using Workshop.Core.Jobs;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>What a person who moves a promised date is asked.</summary>
internal static class PromiseGates
{
    public static IEnumerable<Objection> Move(Job job, Asking asking)
    {
        if (job.Promise.On is null)
        {
            yield return GateTable.Objects("promise-given", asking.Rules, Phrase.Of("No date was promised yet"), Phrase.Of("an accepted quote"));
        }
        else if (job.Promise.MovesByTheShop is var moves && moves >= asking.Rules.Promises.MovesAtMost)
        {
            yield return GateTable.Objects(
                "promise-moved-often", asking.Rules, Phrase.Of("The shop has moved this date {0} times already", moves), Phrase.Of("a date that holds"),
                names: [("moves", moves.ToString(CultureInfo.InvariantCulture))]);
        }
    }
}
