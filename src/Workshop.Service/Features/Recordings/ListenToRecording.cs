using System.Diagnostics;
using System.Threading.Channels;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Core.Labels;
using Workshop.Core.Recordings;
using Workshop.Core.Words;
using Workshop.Service.Meters;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>
/// Listens to recordings, so many at once as the machine was told. What waits is a row: a service that ends in the middle finds it again, and
/// counts beforehand how often it has begun, so that a recording that ends the service does so three times at most.
/// </summary>
public sealed partial class ListenToRecording(
    RecordingSettings settings, RecordingFiles files, Writer writer, Reader reader, ShopRulesSource rules, IHostApplicationLifetime lifetime, WorkshopMeters meters, ILogger<ListenToRecording> log) : IDisposable
{
    /// <summary>How often it is begun with one recording.</summary>
    public const int TriesAtMost = 3;

    private readonly SemaphoreSlim listening = new(settings.AtOnce);

    // What is decoded takes 15 MB at most. One more than is listened to at once, so that a broken file is answered while a long one is heard.
    private readonly SemaphoreSlim decoding = new(settings.AtOnce + 1);

    private readonly Channel<bool> calls = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>Whoever comes now is listened to at once.</summary>
    public bool HasRoom => listening.CurrentCount > 0;

    /// <summary>Something waits.</summary>
    public void Call() => calls.Writer.TryWrite(true);

    /// <summary>Ends when something waits, or may.</summary>
    public async Task WaitForCall(CancellationToken cancel) => await calls.Reader.ReadAsync(cancel);

    /// <summary>What fails while nobody looks any more is written down all the same; the recording still waits.</summary>
    public async Task Watch(Task work)
    {
        try
        {
            await work;
        }
        catch (OperationCanceledException)
        {
            // The service ends; what was not heard waits.
        }
        catch (Exception failure) when (failure is StorageUnavailableException or WriterBusyException)
        {
            NotNow(failure.Message);
        }
        catch (Exception failure)
        {
            ListeningFailed(failure);
        }
    }

    /// <summary>Reads a file as far as its sound; what cannot be read is told at once.</summary>
    public async Task<ReadOutcome> Decode(string path, CancellationToken cancel)
    {
        await decoding.WaitAsync(cancel);
        try
        {
            return await Task.Run(
                () =>
                {
                    using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, bufferSize: 0);
                    return WavReader.Read(file, RecordingLimits.Usual with { Bytes = settings.BytesAtMost }, cancel);
                },
                cancel);
        }
        finally
        {
            decoding.Release();
        }
    }

    /// <summary>Listens to a recording that waits, when its turn comes; whoever called need not stay.</summary>
    /// <param name="decoded">Its sound, where that was read just now.</param>
    public async Task Listen(string site, Label job, string sha256, Recording? decoded = null)
    {
        var cancel = lifetime.ApplicationStopping;
        await listening.WaitAsync(cancel);
        try
        {
            if (await writer.Turn(site, turn => Begin(turn, job, sha256), cancel) is not { } begun)
            {
                return;
            }

            var inForce = await rules.Read(site, cancel);
            var terms = await reader.Read(connection => ListeningTerms.Find(connection, site, job, begun.ReadTold(), inForce), cancel);
            var (heard, why) = await Hear(site, job, sha256, terms, decoded, cancel);
            if (await writer.Turn(site, turn => End(turn, job, begun, heard, why), cancel))
            {
                meters.ListenedTo(heard is not null ? Word.Of(heard.Reading.Class) : Word.Of(why!.Value));
            }
        }
        finally
        {
            listening.Release();
        }
    }

    /// <summary>Listens to everything that waits.</summary>
    /// <returns>How many there were.</returns>
    public async Task<int> ListenToAll(string site, CancellationToken cancel)
    {
        var count = 0;
        while (!cancel.IsCancellationRequested)
        {
            var waiting = await reader.Read(connection => RecordingStore.Waiting(connection, site, settings.AtOnce), cancel);
            if (waiting.IsEmpty)
            {
                break;
            }

            await Task.WhenAll(waiting.Select(one => Listen(site, Label.Read(one.Job), one.Sha256)));
            count += waiting.Length;
        }

        return count;
    }

    private static StoredRecording? Begin(Turn turn, Label job, string sha256)
    {
        if (RecordingStore.Find(turn, job, sha256) is not { StateRead: RecordingState.Waiting } waiting)
        {
            return null;
        }

        if (waiting.Tries >= TriesAtMost)
        {
            RecordingStore.Fail(turn, job, sha256, ListeningFailure.Interrupted);
            return null;
        }

        RecordingStore.Begin(turn, job, sha256);
        return waiting with { Tries = waiting.Tries + 1 };
    }

    private async Task<(HeardRecording? Heard, ListeningFailure? Why)> Hear(string site, Label job, string sha256, ListeningTerms? terms, Recording? decoded, CancellationToken cancel)
    {
        if (terms is null)
        {
            return (null, ListeningFailure.NoLiftAngle);
        }

        if (decoded is null)
        {
            if (files.Find(site, job, sha256) is not { } path)
            {
                return (null, ListeningFailure.FileGone);
            }

            decoded = (await Decode(path, cancel)).Recording;
        }

        if (decoded is null)
        {
            // It could be read when it came: the medium has changed it since.
            return (null, ListeningFailure.FileGone);
        }

        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(settings.ListenWithin.ToTimeSpan());
        var watch = Stopwatch.StartNew();
        try
        {
            var heard = await Task.Run(() => Listener.Hear(decoded, terms.Parameters, limit.Token), limit.Token);

            // Whether the alarm came in time is chance: what took too long is given up, also where it ended just then.
            return watch.Elapsed > settings.ListenWithin.ToTimeSpan()
                ? (null, ListeningFailure.TookTooLong)
                : (new HeardRecording(heard.Reading, terms.LiftAngleTold, terms.Clock) { Evidence = heard.Evidence }, null);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return (null, ListeningFailure.TookTooLong);
        }
    }

    private static bool End(Turn turn, Label job, StoredRecording begun, HeardRecording? heard, ListeningFailure? why)
    {
        // Told or asked anew meanwhile, it is another question; it waits, and is answered in its turn.
        if (RecordingStore.Find(turn, job, begun.Sha256) is not { } now || now.Told != begun.Told || now.Tries != begun.Tries)
        {
            return false;
        }

        if (heard is not null)
        {
            RecordingStore.Hear(turn, job, begun.Sha256, heard);
        }
        else if (why != ListeningFailure.TookTooLong || begun.Tries >= TriesAtMost)
        {
            RecordingStore.Fail(turn, job, begun.Sha256, why!.Value);
        }

        return true;
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Recordings wait: {Why}")]
    private partial void NotNow(string why);

    [LoggerMessage(Level = LogLevel.Error, Message = "A recording could not be listened to; it is tried again in a moment.")]
    private partial void ListeningFailed(Exception failure);

    public void Dispose()
    {
        listening.Dispose();
        decoding.Dispose();
    }
}
