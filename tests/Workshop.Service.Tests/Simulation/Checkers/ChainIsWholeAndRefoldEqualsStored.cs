using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>The journal is whole, and every derived row is what its entries fold to.</summary>
internal sealed class ChainIsWholeAndRefoldEqualsStored : IChecker
{
    public IEnumerable<string> FaultsIn(Evidence evidence) => new CheckJournal(evidence.Database).Run(replay: true).Differences;
}
