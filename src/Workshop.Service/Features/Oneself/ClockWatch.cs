using System.Runtime.InteropServices;
using NodaTime;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Oneself;

/// <summary>What the service knows of its own clock.</summary>
public enum ClockState
{
    /// <summary>The operating system says that it follows a reference.</summary>
    Synchronised,

    /// <summary>Nobody says how right it is.</summary>
    Unknown,

    /// <summary>It jumped within the last hour.</summary>
    Stepped,
}

/// <summary>
/// Notices when the clock jumps: between two looks it must have gone on as far as a clock that only counts, and cannot be set. A machine
/// that slept shows the same picture, and rightly so: nobody knows what its clock did meanwhile.
/// </summary>
public sealed partial class ClockWatch(IClock clock, TimeProvider counting, ILogger<ClockWatch> log)
{
    /// <summary>A jump; as much as is counted as an error of a device's clock. A clock that is drawn right slowly stays far below (500 millionths: 0.03 s a minute).</summary>
    public static readonly Duration JumpOverThis = Duration.FromSeconds(2);

    /// <summary>So long is told that it jumped: own choice, long enough for every device to hear of it.</summary>
    public static readonly Duration ToldFor = Duration.FromHours(1);

    private readonly Lock gate = new();
    private (Instant Wall, long Counted)? last;
    private long? steppedAt;
    private bool synchronised;

    public ClockState State
    {
        get
        {
            lock (gate)
            {
                return steppedAt is { } at && Duration.FromTimeSpan(counting.GetElapsedTime(at)) < ToldFor ? ClockState.Stepped
                    : synchronised ? ClockState.Synchronised
                    : ClockState.Unknown;
            }
        }
    }

    /// <summary>Looks at both clocks, and asks the operating system.</summary>
    /// <returns>How far the clock jumped since the last look; null where it did not.</returns>
    public Duration? Look() => Look(SystemSaysSynchronised());

    internal Duration? Look(bool systemSaysSynchronised)
    {
        lock (gate)
        {
            Duration? jumped = null;
            var now = (Wall: clock.GetCurrentInstant(), Counted: counting.GetTimestamp());
            if (last is { } before)
            {
                var jump = now.Wall - before.Wall - Duration.FromTimeSpan(counting.GetElapsedTime(before.Counted, now.Counted));
                if (jump > JumpOverThis || jump < -JumpOverThis)
                {
                    jumped = jump;
                    steppedAt = now.Counted;
                    Stepped(Math.Round(jump.TotalSeconds, 1));
                }
            }

            last = now;

            // A clock of the workshop's own, as in a demo, is nothing the operating system could answer for.
            synchronised = systemSaysSynchronised && clock is SystemClock;
            return jumped;
        }
    }

    // adjtimex(2), Linux: with modes 0 it only reads, and needs no right to. It answers TIME_ERROR (5) for a clock that follows nothing,
    // and less than nothing where it failed; what it fills in is not looked at.
    private const int TimeError = 5;
    private const int StructAtMost = 1024;

    private static bool SystemSaysSynchronised()
    {
        if (!OperatingSystem.IsLinux())
        {
            return false;
        }

        try
        {
            return Adjtimex(new byte[StructAtMost]) is >= 0 and < TimeError;
        }
        catch (Exception failure) when (failure is DllNotFoundException or EntryPointNotFoundException)
        {
            return false;
        }
    }

    [DllImport("libc", EntryPoint = "adjtimex")]
    private static extern int Adjtimex(byte[] timex);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The clock of this machine jumped by {Seconds} s; what falls due is judged by the new time")]
    private partial void Stepped(double seconds);
}

/// <summary>Looks once a minute, and writes a jump into the house's journal and into every job whose watch is being compared with this clock.</summary>
internal sealed partial class WatchTheClock(ClockWatch watch, AgendaStore agenda, Writer writer, ILogger<WatchTheClock> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    protected override async Task ExecuteAsync(CancellationToken cancel)
    {
        watch.Look();
        var untold = new List<Duration>();
        using var minute = new PeriodicTimer(Every);
        while (await minute.WaitForNextTickAsync(cancel))
        {
            if (watch.Look() is { } jumped)
            {
                untold.Add(jumped);
            }

            try
            {
                while (untold.Count > 0)
                {
                    await ClockSteps.Tell(agenda, writer, untold[0], cancel);
                    untold.RemoveAt(0);
                }
            }
            catch (Exception failure) when (failure is not OperationCanceledException)
            {
                // Told a minute later; a check that is read meanwhile is folded anew.
                NotTold(failure);
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "A jump of the clock could not be written down; it is tried again in a minute.")]
    private partial void NotTold(Exception failure);
}
