namespace Workshop.Service.Trial;

/// <summary>Something a bench's client meets sooner or later, and has to come through.</summary>
/// <param name="Name">In lower case with hyphens; the page for authors of clients lists it.</param>
/// <param name="Asks">What is asked of the client, in one sentence.</param>
/// <param name="Plays">Plays it; says by <see cref="NotHandledException"/> what the client did instead.</param>
internal sealed record Situation(string Name, string Asks, Func<Play, Task> Plays)
{
    /// <summary>All of them, in the order in which they are played.</summary>
    public static IReadOnlyList<Situation> All { get; } =
    [
        .. AnswerSituations.All,
        .. HeldSituations.All,
        .. SilenceSituations.All,
        .. RefusedBatchSituations.All,
        .. PairingSituations.All,
        .. ClockSituations.All,
        .. QueueSituations.All,
    ];
}

/// <summary>The client under trial did something else than is asked of it.</summary>
internal sealed class NotHandledException(string why) : Exception(why);
