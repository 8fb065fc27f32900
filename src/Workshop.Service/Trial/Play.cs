using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Trial;

/// <summary>
/// One situation being played: the trial is the person who presses, the clock on the device's wall and the service at the other end.
/// What is pressed are numbered notes, so that each can be recognised wherever it turns up.
/// </summary>
internal sealed class Play(TriedDevice device, StandIn service)
{
    public const string Key = "wk_trial-first-key";
    public const string Source = "/devices/bench-2/1";

    /// <summary>What the device's clock shows when a situation begins: Monday morning in the workshop.</summary>
    public static readonly Instant Morning = Instant.FromUtc(2026, 3, 2, 8, 0);

    /// <summary>A pause longer than this is none: the person stands before the device.</summary>
    public static readonly Duration LongestPause = Duration.FromMinutes(10);

    // Far more than any client needs for what is played in one of them.
    private const int WakesAtMost = 400;

    private readonly Dictionary<string, Instant> pressedAt = [];

    public TriedDevice Device => device;

    public StandIn Service => service;

    public Instant Now { get; private set; }

    /// <summary>Everything pressed so far, in order.</summary>
    public IEnumerable<string> Pressed => Enumerable.Range(1, pressedAt.Count).Select(Note);

    /// <summary>Notes that were accepted or noted, in the order in which they were.</summary>
    public IEnumerable<string> Kept => Notes(service.Kept);

    /// <summary>Begins: the service remembers nothing, and neither does the device.</summary>
    public async Task Begin(Instant? now = null, Duration? answerWithin = null)
    {
        Now = now ?? Morning;
        pressedAt.Clear();
        service.Begin(Key, Source, Now);
        await device.Reset(service.Address, Key, Source, Now, answerWithin ?? Duration.FromSeconds(20));
    }

    /// <summary>The text of the n-th note.</summary>
    public static string Note(int number) => $"note {number}";

    /// <summary>The note an event carries; null for what the client says by itself.</summary>
    public static string? NoteOf(CloudEvent one)
    {
        using var data = JsonDocument.Parse(one.Data);
        return one.Type == "note.written" && data.RootElement.TryGetProperty("text", out var text) ? text.GetString() : null;
    }

    /// <summary>Presses so many times, a second apart.</summary>
    public async Task Press(int times = 1)
    {
        for (var i = 0; i < times; i++)
        {
            var text = Note(pressedAt.Count + 1);
            pressedAt[text] = Now;
            await device.Say("note.written", LabelFor(pressedAt.Count), new { text, audience = "house", bench = "bench-2", person = "mara" });
            if (i + 1 < times)
            {
                await Pass(Duration.FromSeconds(1));
            }
        }
    }

    public Task Wake() => device.Wake();

    /// <summary>Presses and lets the device send.</summary>
    public async Task PressAndWake(int times = 1)
    {
        await Press(times);
        await Wake();
    }

    public Task Pass(Duration time) => SetClock(Now + time);

    public async Task SetClock(Instant now)
    {
        Now = now;
        service.DeviceNow = now;
        await device.Clock(now);
    }

    public Task<DeviceState> State() => device.State();

    /// <summary>Lets time pass, and wakes the device whenever its pause is over, at least every half minute.</summary>
    public async Task PassWaking(Duration time)
    {
        var end = Now + time;
        for (var wakes = 0; Now < end; wakes++)
        {
            Expect(wakes < WakesAtMost, "its pauses are so short that it does nothing else");
            var state = await State();
            var next = Now + Duration.FromSeconds(30);
            await SetClock(Instant.Min(end, state.PausedUntil is { } until && until > Now ? Instant.Min(until, next) : next));
            await Wake();
        }
    }

    /// <summary>Wakes the device until nothing waits at it any more; it has an hour by its own clock.</summary>
    public async Task Deliver()
    {
        await Wake();
        var end = Now + Duration.FromHours(1);
        while ((await State()).Queue.Length > 0)
        {
            Expect(Now < end, $"after an hour {Some(Waiting(await State()))} still waits in its queue");
            await PassWaking(Duration.FromSeconds(30));
        }
    }

    /// <summary>All that was pressed has arrived, each note once and in order, with the time at which it was pressed, and nothing is left.</summary>
    public async Task EverythingArrived()
    {
        Expect(Kept.SequenceEqual(Pressed), $"pressed were {Some(Pressed)}, kept were {Some(Kept)}");
        TimesAreThoseOfPressing();
        var state = await State();
        Expect(state.Queue.IsEmpty, $"{Some(Waiting(state))} still waits in its queue");
        Expect(state.SetAside.IsEmpty, $"{Some(LyingAside(state))} was set aside");
    }

    public void TimesAreThoseOfPressing()
    {
        foreach (var one in service.Kept)
        {
            if (NoteOf(one) is { } note)
            {
                var off = one.Time!.Value.ToInstant() - pressedAt[note];
                Expect(off >= -Duration.FromSeconds(1) && off < Duration.FromSeconds(10), $"{note} was pressed at {pressedAt[note]} by its own clock and says {one.Time}");
            }
        }
    }

    /// <summary>These notes, and no others, wait at the device.</summary>
    public async Task Waits(params int[] notes)
    {
        var waiting = Waiting(await State());
        var expected = notes.Select(Note).ToArray();
        Expect(waiting.SequenceEqual(expected), $"{Some(expected)} should wait in its queue, and there waits {Some(waiting)}");
    }

    /// <summary>These notes, and no others, lie where a person sees them.</summary>
    public async Task LiesAside(params int[] notes)
    {
        var aside = LyingAside(await State());
        var expected = notes.Select(Note).ToArray();
        Expect(aside.Order().SequenceEqual(expected.Order()), $"{Some(expected)} should be set aside, and there lies {Some(aside)}");
    }

    /// <summary>This was shown, once.</summary>
    public async Task Showed(string signal, string line, string? helps = null)
    {
        var shown = (await State()).Shown;
        var found = shown.Where(one => one.Line == line).ToArray();
        Expect(found.Length > 0, $"'{line}' was not shown; shown was {Some(shown.Select(one => $"'{one.Line}'"))}");
        Expect(found.Length == 1, $"'{line}' was shown {found.Length} times");
        Expect(found[0].Signal == signal, $"'{line}' was shown with the signal {found[0].Signal} instead of {signal}");
        Expect(helps is null || found[0].Helps == helps, $"with '{line}' nobody was told that '{helps}' could help");
    }

    /// <summary>Nothing is posted while this is done.</summary>
    public async Task SendsNothing(Func<Task> meanwhile, string otherwise)
    {
        var before = service.Posts.Count;
        await meanwhile();
        Expect(service.Posts.Count == before, otherwise);
    }

    /// <summary>It does nothing until its pause is over, and sends then.</summary>
    /// <returns>How long the pause was.</returns>
    public async Task<Duration> SitsOutItsPause()
    {
        var state = await State();
        if (state.PausedUntil is not { } until || until <= Now)
        {
            throw new NotHandledException("after a failure it says no pausedUntil");
        }

        var pause = until - Now;
        Expect(pause <= LongestPause, $"it pauses for {pause.TotalMinutes:0} minutes");
        if (pause > Duration.FromMilliseconds(500))
        {
            await SetClock(until - Duration.FromMilliseconds(500));
            await SendsNothing(Wake, "it sends before its pause is over");
        }

        var before = service.Posts.Count;
        await SetClock(until);
        await Wake();
        Expect(service.Posts.Count > before, "its pause was over and it sent nothing");
        return pause;
    }

    /// <summary>The ids of what waits, in order.</summary>
    public static ImmutableArray<string> Ids(DeviceState state) => [.. state.Queue.Select(one => one.Id)];

    /// <exception cref="NotHandledException">It is not so.</exception>
    public void Expect(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new NotHandledException(otherwise);
        }
    }

    // What the device names by its ids is known by what it has sent, or else by its number: each press takes one.
    private string[] Waiting(DeviceState state) => Named(state.Queue);

    private string[] LyingAside(DeviceState state) => Named(state.SetAside);

    private string[] Named(ImmutableArray<EventAtDevice> events)
    {
        var sent = service.Posts.SelectMany(post => post.Events).DistinctBy(one => one.Id).ToDictionary(one => one.Id, NoteOf);
        return [.. events.Select(one => sent.TryGetValue(one.Id, out var note) ? note ?? one.Id : $"note {one.Sequence}")];
    }

    private static IEnumerable<string> Notes(IEnumerable<CloudEvent> events) => events.Select(NoteOf).OfType<string>();

    private static string Some(IEnumerable<string> names)
    {
        string[] all = [.. names];
        return all.Length switch
        {
            0 => "nothing",
            <= 8 => string.Join(", ", all),
            _ => $"{string.Join(", ", all[..6])} … {all[^1]} ({all.Length})",
        };
    }

    private static string LabelFor(int number) => Label.Complete(LabelKind.Job, [1, 2, 3, 4, number / 20 % 20, number % 20]).ToString();
}
