namespace Workshop.Service.Trial;

/// <summary>One situation of a trial, whoever is tried.</summary>
/// <param name="Asks">What whoever is tried has to do in it.</param>
/// <param name="WhyNot">Plays it; null where it was handled, else what was done instead.</param>
internal sealed record Recited(string Name, string Asks, Func<Task<string?>> WhyNot);

/// <summary>Plays situations one after another and tells of each what became of it.</summary>
internal static class Recital
{
    private const int NameWidth = 36;

    /// <returns>How many were not handled.</returns>
    public static async Task<int> Tell(IReadOnlyList<Recited> situations, TextWriter tell, CancellationToken cancel)
    {
        var failed = 0;
        foreach (var situation in situations)
        {
            cancel.ThrowIfCancellationRequested();
            var why = await situation.WhyNot();
            failed += why is null ? 0 : 1;
            await tell.WriteLineAsync($"{situation.Name.PadRight(NameWidth)} {(why is null ? "handled" : $"not handled: {why}")}");
            if (why is not null)
            {
                await tell.WriteLineAsync($"{"",NameWidth} asked is: {situation.Asks}");
            }
        }

        await tell.WriteLineAsync($"{situations.Count} situations: {situations.Count - failed} handled, {failed} not handled");
        return failed;
    }
}
