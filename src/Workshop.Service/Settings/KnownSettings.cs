using System.Diagnostics.CodeAnalysis;
using System.Net;
using NodaTime;
using Npgsql;
using Workshop.Core.Outgoing;
using static Workshop.Service.Settings.SettingKinds;

namespace Workshop.Service.Settings;

/// <summary>
/// Every setting of the machine. What the shop decides for itself (hours, prices, tolerances, who writes to customers) is no
/// setting: it is kept with its history in the database.
/// </summary>
public static class KnownSettings
{
    public const string Sqlite = "sqlite";
    public const string Postgres = "postgres";

    public static readonly Setting<string> StorageEngine = OneOf("Storage:Engine", Sqlite, [Sqlite, Postgres],
        "The database: a file of its own beside the program, or a PostgreSQL server.");

    public static readonly Setting<string> StoragePath = Folder("Storage:Path", "data",
        "The folder for everything that is kept as files, the SQLite database among them.");

    public static readonly Setting<string> StoragePostgres = new("Storage:Postgres",
        "How to reach the PostgreSQL server; not used with SQLite.", "",
        "Host=…;Username=…;Password=…;Database=… as Npgsql reads it", ReadConnection)
    { Secret = true };

    public static readonly Setting<int> StorageReaders = Number("Storage:Readers", 4, 1, 64,
        "Connections that read at the same time.", "connections");

    public static readonly Setting<Duration> EventsLiveWithin = Span("Events:LiveWithin",
        Duration.FromMinutes(2), Duration.FromSeconds(1), Duration.FromHours(1),
        "An event that happened at most this long before it arrives is asked for; an older one reports what has been done.");

    public static readonly Setting<Duration> EventsHoldGapFor = Span("Events:HoldGapFor",
        Duration.FromSeconds(10), Duration.Zero, Duration.FromMinutes(5),
        "How long an event waits, in real time, for the one before it in its device's sequence.");

    public static readonly Setting<int> EventsQueueLength = Number("Events:QueueLength", 1024, 1, 100_000,
        "How many requests may wait to be written before new ones are told to come again later.", "requests");

    public static readonly Setting<int> EventsJobsInMemory = Number("Events:JobsInMemory", 2000, 2, 1_000_000,
        "Folded jobs that are kept in memory.", "jobs");

    public static readonly Setting<IPAddress> HttpAddress = Address("Http:Address", "127.0.0.1",
        "The address on which the service listens; encryption towards the outside is a reverse proxy's work.");

    public static readonly Setting<int> HttpPort = Number("Http:Port", 5080, 0, 65535,
        "The port on which the service listens; 0 takes any that is free.");

    public static readonly Setting<int> LimitsBodyBytes = Number("Limits:BodyBytes", 1_048_576, 1024, 16_777_216,
        "The largest request body.", "bytes");

    public static readonly Setting<int> LimitsRequestsPerTenSeconds = Number("Limits:RequestsPerTenSeconds", 200_000, 10, 10_000_000,
        "Requests that one key may send within ten seconds of real time.", "requests");

    public static readonly Setting<int> LimitsStrangersPerTenSeconds = Number("Limits:StrangersPerTenSeconds", 1_000, 10, 10_000_000,
        "Requests without a valid key that one address may send within ten seconds of real time.", "requests");

    public static readonly Setting<int> LimitsPhotoBytes = Number("Limits:PhotoBytes", 41_943_040, 65_536, 268_435_456,
        "The largest photo as it is sent.", "bytes");

    public static readonly Setting<int> LimitsPhotoPixels = Number("Limits:PhotoPixels", 50_000_000, 1_000_000, 200_000_000,
        "Width times height of the largest photo; unpacked, a pixel takes four bytes of memory.", "pixels");

    public static readonly Setting<string> PhotosFolder = FolderOrNone("Photos:Folder",
        "The folder for photos; where it is empty, photos within Storage:Path. Instances with one PostgreSQL database share one folder.");

    public static readonly Setting<int> PhotosThumbPixels = Number("Photos:ThumbPixels", 480, 64, 2_000,
        "The longer side of a small picture.", "pixels");

    public static readonly Setting<int> LimitsRecordingBytes = Number("Limits:RecordingBytes", 41_943_040, 65_536, 268_435_456,
        "The largest recording of a watch as it is sent.", "bytes");

    public static readonly Setting<string> RecordingsFolder = FolderOrNone("Recordings:Folder",
        "The folder for recordings; where it is empty, recordings within Storage:Path. Instances with one PostgreSQL database share one folder.");

    public static readonly Setting<int> RecordingsAtOnce = Number("Recordings:AtOnce", 1, 1, 16,
        "Recordings that are listened to at the same time; each takes a processor and some 50 MB.", "recordings");

    public static readonly Setting<Duration> RecordingsListenWithin = Span("Recordings:ListenWithin",
        Duration.FromSeconds(20), Duration.FromMilliseconds(1), Duration.FromMinutes(10),
        "How long listening to one recording may take before it is given up.");

    public static readonly Setting<int> SweepEverySeconds = Number("Sweep:EverySeconds", 10, 5, 15,
        "How often the service looks for what has fallen due.", "seconds");

    public static readonly Setting<string> ShopName = Text("Shop:Name", "Workshop", 100,
        "The name of a workshop whose database is made now; afterwards it stands in the database.");

    public static readonly Setting<DateTimeZone> ShopTimeZone = TimeZone("Shop:TimeZone", "Europe/Zurich",
        "The time zone of a workshop whose database is made now; afterwards it stands in the database.");

    public static readonly Setting<string> StorefrontInbox = new("Storefront:Inbox",
        "Where a storefront's events are fetched every half minute, for a workshop that nobody can reach from outside; where it is empty, nothing is fetched.", "",
        "an address such as https://shop.example/workshop-inbox, without a query; http only for this very machine", ReadInbox);

    public static readonly Setting<string> StorefrontInboxSecret = new("Storefront:InboxSecret",
        "The secret by which the inbox and the questions to it are signed; needed with Storefront:Inbox.", "",
        "whsec_ and 24 to 64 bytes in Base64", (string text, [MaybeNullWhen(false)] out string value) => (value = text) is "" || WebhookSecret.TryRead(text, out _))
    { Secret = true };

    public static readonly Setting<string> StorefrontInboxId = Text("Storefront:InboxId", "shop", 40,
        "The short name of the storefront whose inbox it is; its events come under the source /storefront/ and this.");

    public static readonly Setting<string> BackupFolder = FolderOrNone("Backup:Folder",
        "The folder for copies of the SQLite database, best on another disk; where it is empty, back-ups within Storage:Path.");

    public static readonly Setting<int> BackupKeep = Number("Backup:Keep", 14, 1, 1_000,
        "Copies of the SQLite database that are kept, one a day; the oldest goes first.", "copies");

    public static readonly Setting<string> SmtpHost = TextOrNone("Smtp:Host", 255,
        "The mail server that carries the workshop's letters; where it is empty, the workshop sends none by itself.");

    public static readonly Setting<int> SmtpPort = Number("Smtp:Port", 587, 1, 65535,
        "The port of the mail server.");

    public static readonly Setting<string> SmtpSecurity = OneOf("Smtp:Security", "starttls", ["starttls", "tls", "none"],
        "How the way to the mail server is encrypted; none only within the machine.");

    public static readonly Setting<string> SmtpUser = TextOrNone("Smtp:User", 255,
        "The name at the mail server; where it is empty, nobody signs in.");

    public static readonly Setting<string> SmtpPassword = new("Smtp:Password",
        "The password at the mail server.", "", "a text without line breaks", ReadLine)
    { Secret = true };

    public static readonly Setting<string> SmtpFrom = TextOrNone("Smtp:From", 254,
        "The address that letters come from; where it is empty, Smtp:User where that is an address, else workshop at Smtp:Host.");

    public static readonly Setting<AllowedTargets> WebhooksAllowPrivateTargets = new("Webhooks:AllowPrivateTargets",
        "Hosts and networks within the house to which messages may be sent, also without encryption; elsewhere private, loopback and link-local addresses are refused.", "",
        "names, addresses and networks such as shop.lan, 127.0.0.1, 10.0.0.0/8, with commas between them, or nothing", AllowedTargets.TryRead);

    public static readonly Setting<Duration> WebhooksTimeout = Span("Webhooks:Timeout",
        Duration.FromSeconds(20), Duration.FromSeconds(1), Duration.FromSeconds(30),
        "How long a receiver may take to answer a message.");

    public static readonly Setting<int> WebhooksAtOnce = Number("Webhooks:AtOnce", 4, 1, 32,
        "Messages that are on their way to one receiver at the same time.", "messages");

    public static readonly Setting<Duration> WebhooksOldSecretFor = Span("Webhooks:OldSecretFor",
        Duration.FromHours(24), Duration.Zero, Duration.FromHours(720),
        "How long an old secret goes on signing beside its new one, where the request names no other time.");

    public static readonly Setting<int> WebhooksKeepLogDays = Number("Webhooks:KeepLogDays", 30, 1, 3650,
        "How long it is kept when which message was sent where.", "days");

    public static readonly Setting<int> LimitsStreams = Number("Limits:Streams", 100, 1, 10_000,
        "Callers that may read along at the same time as things happen.", "streams");

    public static readonly Setting<int> LimitsStreamBeatSeconds = Number("Limits:StreamBeatSeconds", 15, 1, 60,
        "How often a stream on which nothing happens says that it is still there.", "seconds");

    /// <summary>All of them, in the order in which they are documented.</summary>
    public static readonly IReadOnlyList<Setting> All =
    [
        StorageEngine, StoragePath, StoragePostgres, StorageReaders,
        EventsLiveWithin, EventsHoldGapFor, EventsQueueLength, EventsJobsInMemory,
        HttpAddress, HttpPort,
        LimitsBodyBytes, LimitsRequestsPerTenSeconds, LimitsStrangersPerTenSeconds, LimitsPhotoBytes, LimitsPhotoPixels,
        LimitsStreams, LimitsStreamBeatSeconds,
        PhotosFolder, PhotosThumbPixels,
        LimitsRecordingBytes, RecordingsFolder, RecordingsAtOnce, RecordingsListenWithin,
        SweepEverySeconds,
        StorefrontInbox, StorefrontInboxSecret, StorefrontInboxId,
        BackupFolder, BackupKeep,
        SmtpHost, SmtpPort, SmtpSecurity, SmtpUser, SmtpPassword, SmtpFrom,
        WebhooksAllowPrivateTargets, WebhooksTimeout, WebhooksAtOnce, WebhooksOldSecretFor, WebhooksKeepLogDays,
        ShopName, ShopTimeZone,
    ];

    /// <summary>Refuses names that no setting has: a slip of the pen would otherwise leave the default in force unnoticed.</summary>
    /// <exception cref="SettingException">There is such a name; the message tells what may be meant.</exception>
    public static void RefuseUnknown(IConfiguration configuration)
    {
        var names = All.Select(setting => setting.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
        foreach (var section in All.Select(setting => setting.Name.Split(':')[0]).Distinct())
        {
            foreach (var child in configuration.GetSection(section).GetChildren())
            {
                var name = $"{section}:{child.Key}";
                if (!names.Contains(name))
                {
                    var known = All.Where(setting => setting.Name.StartsWith(section + ':', StringComparison.Ordinal));
                    throw new SettingException(
                        $"{name} is set, but there is no such setting; the settings of {section} are {string.Join(", ", known.Select(one => one.Name))}.");
                }
            }
        }
    }

    private static bool ReadLine(string text, out string value)
    {
        value = text;
        return !text.Any(char.IsControl);
    }

    private static bool ReadInbox(string text, [MaybeNullWhen(false)] out string value)
    {
        value = text;
        return text.Length == 0
            || (Uri.TryCreate(text, UriKind.Absolute, out var address)
                && (address.Scheme == Uri.UriSchemeHttps || (address.Scheme == Uri.UriSchemeHttp && address.IsLoopback))
                && address is { Query: "", Fragment: "", UserInfo: "" });
    }

    private static bool ReadConnection(string text, out string value)
    {
        value = text;
        try
        {
            return text.Length == 0 || new NpgsqlConnectionStringBuilder(text).Host is { Length: > 0 };
        }
        catch (ArgumentException)
        {
            return false;
        }
    }
}
