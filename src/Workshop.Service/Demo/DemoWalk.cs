using Workshop.Service.Commands;

namespace Workshop.Service.Demo;

/// <summary>Plays one watch's whole life through a running demo and tells each step.</summary>
internal static class DemoWalk
{
    /// <returns>The exit code: 0 only when every step went as told.</returns>
    public static async Task<int> Play(DemoAddress demo, CancellationToken cancel)
    {
        await Console.Error.WriteLineAsync($"This program has no walk to play at {demo.Url}.".AsMemory(), cancel);
        return WorkshopCommand.NotWell;
    }
}
