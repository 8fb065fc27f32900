using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>The invented workshop: what a new demo is filled with, once, before it says where it is.</summary>
internal static class DemoContent
{
    /// <param name="jobs">False where the demo begins without any job.</param>
    public static Task Fill(Writer writer, DemoClock clock, bool jobs, CancellationToken cancel) => Task.CompletedTask;
}
