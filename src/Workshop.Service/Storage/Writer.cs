using System.Collections.Concurrent;
using NodaTime;
using Workshop.Service.Meters;

namespace Workshop.Service.Storage;

/// <summary>
/// The one writer: every write of every site goes through its queue and its thread. What waits is taken together and committed
/// together, so that sixty benches cost hardly more than one.
/// </summary>
public sealed partial class Writer : IHostedService, IDisposable
{
    /// <summary>For what still waits when the program ends without stopping its services.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    private readonly Database database;
    private readonly ILogger<Writer> log;
    private readonly BlockingCollection<TurnRequest> queue;
    private readonly WriterSession session;
    private readonly TaskCompletionSource ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private Thread? thread;
    private TurnRequest? next;
    private bool disposed;

    public Writer(Database database, IClock clock, WriterSettings settings, ILogger<Writer> log, Outside? outside = null, WorkshopMeters? meters = null)
    {
        if (settings.Faults().FirstOrDefault() is { } fault)
        {
            throw new StorageNotReadyException(fault);
        }

        this.database = database;
        this.log = log;
        queue = new BlockingCollection<TurnRequest>(settings.QueueLength);
        session = new WriterSession(database, clock, settings.JobsInMemory)
        {
            Committed = commit =>
            {
                database.CountCommit();
                meters?.Committed(commit.Turns, commit.Entries);
                Committed?.Invoke(commit);
            },
            Unexpected = RequestFailed,
            Outside = outside ?? Outside.Nobody,
        };
    }

    /// <summary>Told after each commit, on the writer's thread: be quick, hand on what takes time.</summary>
    public event Action<Commit>? Committed;

    /// <summary>Told on the writer's thread when everything of a group is written and nothing of it committed: tests let the process die here.</summary>
    internal Action? AboutToCommit
    {
        set => session.AboutToCommit = value;
    }

    /// <summary>Requests that wait.</summary>
    public int Waiting => queue.Count;

    /// <summary>Runs the work in its turn and gives its answer once it is on the disk.</summary>
    /// <param name="cancel">Gives up waiting; work that has begun is finished.</param>
    /// <exception cref="WriterBusyException">Too much waits already; nothing was done.</exception>
    /// <exception cref="StorageUnavailableException">The database is out of reach; whether it was kept, the same request sent again will tell.</exception>
    public Task<T> Turn<T>(string site, Func<Turn, T> work, CancellationToken cancel = default)
    {
        var request = new TurnRequest<T>(site, work, cancel);
        if (queue.IsAddingCompleted)
        {
            throw new WriterBusyException(queue.Count);
        }

        try
        {
            return queue.TryAdd(request, millisecondsTimeout: 0, CancellationToken.None) ? request.Done : throw new WriterBusyException(queue.Count);
        }
        catch (InvalidOperationException) when (queue.IsAddingCompleted)
        {
            // It is stopping; whoever asks again finds the next one.
            throw new WriterBusyException(queue.Count);
        }
    }

    /// <summary>The same for work without an answer.</summary>
    public Task Turn(string site, Action<Turn> work, CancellationToken cancel = default) =>
        Turn(site, turn =>
        {
            work(turn);
            return true;
        }, cancel);

    /// <exception cref="StorageNotReadyException">Another process writes here, or the database was not migrated.</exception>
    public Task StartAsync(CancellationToken cancel)
    {
        database.TakeLock();
        Migrations.MustBeUpToDate(database);
        thread = new Thread(Work) { Name = "writer", IsBackground = true };
        thread.Start();
        return Task.CompletedTask;
    }

    /// <summary>Takes no more, finishes what waits.</summary>
    public Task StopAsync(CancellationToken cancel)
    {
        queue.CompleteAdding();
        return thread is null ? Task.CompletedTask : ended.Task.WaitAsync(cancel);
    }

    public void Dispose()
    {
        // The container disposes of it as the writer and as the hosted service, and that without a stop where a start fell through.
        if (disposed)
        {
            return;
        }

        disposed = true;
        queue.CompleteAdding();
        if (thread is null)
        {
            session.Dispose();
        }
        else
        {
            thread.Join();
        }

        queue.Dispose();
    }

    private void Work()
    {
        try
        {
            foreach (var request in queue.GetConsumingEnumerable())
            {
                for (next = request; next is not null;)
                {
                    var first = next;
                    next = null;
                    session.Run(first, OfTheSameSite);
                }

                if (database.LogIsLong)
                {
                    ShortenLog();
                }
            }
        }
        finally
        {
            session.Dispose();
            ended.TrySetResult();
        }
    }

    // Whatever else waits; a request of another site begins the next group.
    private TurnRequest? OfTheSameSite(string site)
    {
        if (!queue.TryTake(out var request))
        {
            return null;
        }

        if (request.Site == site)
        {
            return request;
        }

        next = request;
        return null;
    }

    // With writes in every second the log is never wholly in the file and would grow for ever; here nobody writes.
    private void ShortenLog()
    {
        try
        {
            database.LogIsLong = false;
            Checkpoints.Move(session.Connection);
        }
        catch (System.Data.Common.DbException failure)
        {
            RequestFailed(failure);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "A request failed in its turn; nothing of it was kept.")]
    private partial void RequestFailed(Exception failure);
}
