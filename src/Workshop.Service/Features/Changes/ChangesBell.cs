using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <summary>Rings after every commit of this process, for whoever reads along.</summary>
public sealed class ChangesBell : IDisposable
{
    private readonly Writer writer;
    private TaskCompletionSource next = New();

    public ChangesBell(Writer writer)
    {
        this.writer = writer;
        writer.Committed += Ring;
    }

    /// <summary>Ends with the next commit. Ask for it before you look whether there is anything, so that nothing is missed in between.</summary>
    public Task Next => Volatile.Read(ref next).Task;

    public void Dispose() => writer.Committed -= Ring;

    private void Ring(Commit commit) => Interlocked.Exchange(ref next, New()).TrySetResult();

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
