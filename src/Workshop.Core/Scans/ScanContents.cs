using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Scans;

/// <summary>What the codes of a scan name, whatever their order. A job or piece is <em>what</em>; all else is what happens to it, or where.</summary>
public sealed record ScanContents
{
    /// <summary>The watch, as it was at the moment of the scan.</summary>
    public Job? Job { get; init; }

    /// <summary>The piece, where its own label was scanned; null for the watch.</summary>
    public string? Piece { get; init; }

    public WordCard? Word { get; init; }

    public string? Bench { get; init; }

    /// <summary>The person whose badge was scanned.</summary>
    public string? Person { get; init; }

    public string? Tray { get; init; }

    public string? WinderPlace { get; init; }

    /// <summary>A cage, a cleaning machine or a fluid batch.</summary>
    public string? OfCleaning { get; init; }
}

/// <summary>Who scans, where and when.</summary>
public sealed record ScanSetting
{
    /// <summary>The person named with the scan, or signed on at the device.</summary>
    public string? Person { get; init; }

    /// <summary>The bench the device stands at.</summary>
    public string? Bench { get; init; }

    /// <summary>The role of the key that speaks.</summary>
    public required string Role { get; init; }

    public required Instant At { get; init; }

    public required ShopRules Rules { get; init; }

    /// <summary>Whether the place may say such an event at all.</summary>
    public required Func<WorkshopEvent, bool> MaySay { get; init; }
}

/// <summary>What a scan means.</summary>
public abstract record ScanMeaning
{
    private ScanMeaning()
    {
    }

    /// <summary>It says this of the watch.</summary>
    public sealed record Says(WorkshopEvent Event) : ScanMeaning;

    /// <summary>Somebody's shift begins at a device.</summary>
    public sealed record SignsOn(string Person, string? Bench) : ScanMeaning;

    /// <summary>It could mean several things, or something is missing that no label says.</summary>
    /// <param name="Choices">At most three.</param>
    public sealed record Asks(Phrase Line, params ScanChoice[] Choices) : ScanMeaning;

    /// <summary>These codes say nothing together.</summary>
    public sealed record SaysNothing(Phrase Line) : ScanMeaning;
}

/// <summary>One of the things a scan may mean.</summary>
/// <param name="Say">What to show on the button.</param>
/// <param name="Fill">Members of <c>data</c> that only the person knows, to be added before it is posted.</param>
public sealed record ScanChoice(Phrase Say, WorkshopEvent Event, params string[] Fill);
