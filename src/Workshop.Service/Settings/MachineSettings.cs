using System.Net;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Storage;

namespace Workshop.Service.Settings;

/// <summary>What the machine was told, read and checked once at the start.</summary>
public sealed record MachineSettings
{
    public required StorageSettings Storage { get; init; }

    public required WriterSettings Writer { get; init; }

    public required EventSettings Events { get; init; }

    public required HttpSettings Http { get; init; }

    public required LimitSettings Limits { get; init; }

    public required PhotoSettings Photos { get; init; }

    public required RecordingSettings Recordings { get; init; }

    public required SweepSettings Sweep { get; init; }

    public required ShopSettings Shop { get; init; }

    public required BackUpSettings BackUp { get; init; }

    public required MailSettings Mail { get; init; }

    public required WebhookSettings Webhooks { get; init; }

    public required StreamSettings Streams { get; init; }

    public required StorefrontSettings Storefront { get; init; }

    /// <summary>The same with everything that is kept as files in one folder, wherever the settings have it.</summary>
    public MachineSettings Within(string folder) => this with
    {
        Storage = Storage with { Path = folder },
        Photos = Photos with { Folder = PhotosWithin(folder) },
        Recordings = Recordings with { Folder = RecordingsWithin(folder) },
        BackUp = BackUp with { Folder = "" },
    };

    private static string PhotosWithin(string storage) => Path.Combine(storage, "photos");

    private static string RecordingsWithin(string storage) => Path.Combine(storage, "recordings");

    /// <exception cref="SettingException">A setting is not allowed; the message is the sentence to show.</exception>
    public static MachineSettings Read(IConfiguration from)
    {
        KnownSettings.RefuseUnknown(from);
        var settings = new MachineSettings
        {
            Storage = new StorageSettings
            {
                Engine = KnownSettings.StorageEngine.Read(from) == KnownSettings.Postgres ? StorageEngine.Postgres : StorageEngine.Sqlite,
                Path = KnownSettings.StoragePath.Read(from),
                Postgres = KnownSettings.StoragePostgres.Read(from) is { Length: > 0 } connection ? connection : null,
                Readers = KnownSettings.StorageReaders.Read(from),
            },
            Writer = new WriterSettings
            {
                QueueLength = KnownSettings.EventsQueueLength.Read(from),
                JobsInMemory = KnownSettings.EventsJobsInMemory.Read(from),
            },
            Events = new EventSettings(KnownSettings.EventsLiveWithin.Read(from), KnownSettings.EventsHoldGapFor.Read(from)),
            Http = new HttpSettings(KnownSettings.HttpAddress.Read(from), KnownSettings.HttpPort.Read(from)),
            Limits = new LimitSettings(
                KnownSettings.LimitsBodyBytes.Read(from),
                KnownSettings.LimitsRequestsPerTenSeconds.Read(from),
                KnownSettings.LimitsStrangersPerTenSeconds.Read(from)),
            Photos = new PhotoSettings(
                KnownSettings.PhotosFolder.Read(from) is { Length: > 0 } folder ? folder : PhotosWithin(KnownSettings.StoragePath.Read(from)),
                KnownSettings.LimitsPhotoBytes.Read(from),
                KnownSettings.LimitsPhotoPixels.Read(from),
                KnownSettings.PhotosThumbPixels.Read(from)),
            Recordings = new RecordingSettings(
                KnownSettings.RecordingsFolder.Read(from) is { Length: > 0 } recordings ? recordings : RecordingsWithin(KnownSettings.StoragePath.Read(from)),
                KnownSettings.LimitsRecordingBytes.Read(from),
                KnownSettings.RecordingsAtOnce.Read(from),
                KnownSettings.RecordingsListenWithin.Read(from)),
            Sweep = new SweepSettings(Duration.FromSeconds(KnownSettings.SweepEverySeconds.Read(from))),
            Storefront = new StorefrontSettings(
                KnownSettings.StorefrontInbox.Read(from) is { Length: > 0 } inbox ? new Uri(inbox) : null,
                WebhookSecret.TryRead(KnownSettings.StorefrontInboxSecret.Read(from), out var secret) ? secret : null,
                KnownSettings.StorefrontInboxId.Read(from)),
            BackUp = new BackUpSettings(KnownSettings.BackupFolder.Read(from), KnownSettings.BackupKeep.Read(from)),
            Mail = new MailSettings(
                Said(KnownSettings.SmtpHost.Read(from)), KnownSettings.SmtpPort.Read(from), KnownSettings.SmtpSecurity.Read(from),
                Said(KnownSettings.SmtpUser.Read(from)), KnownSettings.SmtpPassword.Read(from),
                Said(KnownSettings.SmtpFrom.Read(from)) ?? (KnownSettings.SmtpUser.Read(from) is { } user && user.Contains('@') ? user : $"workshop@{KnownSettings.SmtpHost.Read(from)}")),
            Webhooks = new WebhookSettings(
                KnownSettings.WebhooksAllowPrivateTargets.Read(from),
                KnownSettings.WebhooksTimeout.Read(from),
                KnownSettings.WebhooksAtOnce.Read(from),
                KnownSettings.WebhooksOldSecretFor.Read(from),
                Duration.FromDays(KnownSettings.WebhooksKeepLogDays.Read(from))),
            Streams = new StreamSettings(KnownSettings.LimitsStreams.Read(from), Duration.FromSeconds(KnownSettings.LimitsStreamBeatSeconds.Read(from))),
            Shop = new ShopSettings
            {
                Name = KnownSettings.ShopName.Read(from),
                TimeZone = KnownSettings.ShopTimeZone.Read(from).Id,
            },
        };

        if (settings.Storefront is { Inbox: not null, Secret: null })
        {
            throw new SettingException($"{KnownSettings.StorefrontInbox.Name} is set, which needs {KnownSettings.StorefrontInboxSecret.Name}: {KnownSettings.StorefrontInboxSecret.Allowed}.");
        }

        return settings.Storage is { Engine: StorageEngine.Postgres, Postgres: null }
            ? throw new SettingException(
                $"{KnownSettings.StorageEngine.Name} is '{KnownSettings.Postgres}', which needs {KnownSettings.StoragePostgres.Name}: {KnownSettings.StoragePostgres.Allowed}.")
            : settings;
    }

    private static string? Said(string text) => text.Length > 0 ? text : null;
}

/// <param name="LiveWithin">Elapsed time between what happened and its receipt.</param>
/// <param name="HoldGapFor">Real time.</param>
public sealed record EventSettings(Duration LiveWithin, Duration HoldGapFor);

/// <summary>Section <c>Storefront</c> of the settings.</summary>
/// <param name="Inbox">Where the storefront's events are fetched; null where nothing is.</param>
/// <param name="Secret">By which both sides sign.</param>
/// <param name="Id">Whose inbox it is.</param>
public sealed record StorefrontSettings(Uri? Inbox, WebhookSecret? Secret, string Id);

public sealed record HttpSettings(IPAddress Address, int Port);

public sealed record LimitSettings(int BodyBytes, int RequestsPerTenSeconds, int StrangersPerTenSeconds);

/// <param name="Timeout">Of one attempt, in real time.</param>
/// <param name="AtOnce">On their way to one receiver.</param>
/// <param name="OldSecretFor">Real time.</param>
/// <param name="KeepLogFor">Real time.</param>
public sealed record WebhookSettings(AllowedTargets AllowPrivate, Duration Timeout, int AtOnce, Duration OldSecretFor, Duration KeepLogFor);

/// <param name="AtOnce">In this process.</param>
/// <param name="BeatEvery">Real time.</param>
public sealed record StreamSettings(int AtOnce, Duration BeatEvery);

public sealed record SweepSettings(Duration Every);

/// <summary>The section <c>Smtp</c> of the settings: who carries the workshop's letters.</summary>
/// <param name="Host">Null where the workshop sends none by itself.</param>
/// <param name="Security"><c>starttls</c>, <c>tls</c> or <c>none</c>.</param>
/// <param name="User">Null where nobody signs in.</param>
/// <param name="From">The address that letters come from.</param>
public sealed record MailSettings(string? Host, int Port, string Security, string? User, string Password, string From);

/// <summary>Sections <c>Photos</c> and <c>Limits</c> of the settings, as far as they are about photos.</summary>
/// <param name="Folder">Where photos lie; <c>photos</c> within Storage:Path where empty. Instances that share a PostgreSQL database share it too.</param>
/// <param name="BytesAtMost">Of one photo as it is sent.</param>
/// <param name="PixelsAtMost">Width times height; looked at before anything is unpacked. One pixel takes four bytes of memory.</param>
/// <param name="ThumbPixels">The longer side of the small picture.</param>
public sealed record PhotoSettings(string Folder, int BytesAtMost, int PixelsAtMost, int ThumbPixels);

/// <summary>Sections <c>Recordings</c> and <c>Limits</c> of the settings, as far as they are about recordings of watches.</summary>
/// <param name="Folder">Where recordings lie; <c>recordings</c> within Storage:Path where empty. Instances that share a PostgreSQL database share it too.</param>
/// <param name="BytesAtMost">Of one recording as it is sent.</param>
/// <param name="AtOnce">Listened to at the same time, in this process.</param>
/// <param name="ListenWithin">Of one recording, real time.</param>
public sealed record RecordingSettings(string Folder, int BytesAtMost, int AtOnce, Duration ListenWithin);
