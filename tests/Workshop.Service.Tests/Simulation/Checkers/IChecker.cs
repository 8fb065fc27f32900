namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>Something that has to be true of every workshop at every time; its name says what.</summary>
internal interface IChecker
{
    /// <returns>A sentence for each thing that is not so.</returns>
    IEnumerable<string> FaultsIn(Evidence evidence);
}

internal static class Checkers
{
    public static readonly IReadOnlyList<IChecker> All =
    [
        new ChainIsWholeAndRefoldEqualsStored(),
        new EveryPieceHasOneHolderAtEveryInstant(),
        new NoCageHoldsTwoGroups(),
        new WhatARunDidIsInEveryJob(),
        new NothingIsAnnouncedTwiceOrEarly(),
        new WhatWasAcknowledgedIsThereOnce(),
        new OneEventHasOneVerdict(),
        new NoResultStandsWithoutItsGround(),
        new TimesNeverRunAgainstNumbers(),
        new AgendaFollowsFromTheJobs(),
        new NothingWaitsForEver(),
        new EveryGroupEndsInOneWay(),
    ];

    public static IReadOnlyList<string> FaultsIn(Evidence evidence) =>
        [.. All.SelectMany(checker => checker.FaultsIn(evidence).Select(fault => $"{checker.GetType().Name}: {fault}"))];
}
