using Microsoft.Extensions.Configuration;
using NodaTime;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Settings;

public class SettingsTests
{
    /// <summary>For each setting: what is just allowed, and what is just not.</summary>
    private const string SomeSecret = "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=";

    private static readonly Dictionary<string, (string[] Allowed, string[] Refused)> Edges = new()
    {
        ["Storage:Engine"] = (["sqlite", "SQLite"], ["mysql", "sqlite3"]),
        ["Storage:Path"] = (["data", "/var/lib/workshop"], ["with\nline", "/dev/null"]),
        ["Storage:Postgres"] = (["Host=db;Database=workshop", "Host=db;Password='a;b'"], ["Database=workshop", "nonsense", "Host=db;Nonsense=1"]),
        ["Storage:Readers"] = (["1", "64"], ["0", "65", "1.5", "many"]),
        ["Events:LiveWithin"] = (["PT1S", "PT1H", "PT60M"], ["PT0.9S", "PT1H1S", "-PT1M", "120", "00:02:00", "P1M"]),
        ["Events:HoldGapFor"] = (["PT0S", "PT5M"], ["PT5M1S", "-PT1S", "10"]),
        ["Events:QueueLength"] = (["1", "100000"], ["0", "100001", "-1"]),
        ["Events:JobsInMemory"] = (["2", "1000000"], ["1", "1000001"]),
        ["Http:Address"] = (["127.0.0.1", "0.0.0.0", "::1"], ["localhost", "5080", "127.0.0.256"]),
        ["Http:Port"] = (["0", "65535"], ["-1", "65536", "http", "80 80"]),
        ["Limits:BodyBytes"] = (["1024", "16777216"], ["1023", "16777217", "1 MiB"]),
        ["Limits:RequestsPerTenSeconds"] = (["10", "10000000"], ["9", "10000001"]),
        ["Limits:StrangersPerTenSeconds"] = (["10", "10000000"], ["9", "10000001"]),
        ["Limits:PhotoBytes"] = (["65536", "268435456"], ["65535", "268435457"]),
        ["Limits:PhotoPixels"] = (["1000000", "200000000"], ["999999", "200000001"]),
        ["Limits:Streams"] = (["1", "10000"], ["0", "10001"]),
        ["Limits:StreamBeatSeconds"] = (["1", "60"], ["0", "61"]),
        ["Photos:Folder"] = (["/mnt/photos", "photos"], ["with\nline", "/dev/null"]),
        ["Photos:ThumbPixels"] = (["64", "2000"], ["63", "2001"]),
        ["Limits:RecordingBytes"] = (["65536", "268435456"], ["65535", "268435457"]),
        ["Recordings:Folder"] = (["/mnt/recordings", "recordings"], ["with\nline", "/dev/null"]),
        ["Recordings:AtOnce"] = (["1", "16"], ["0", "17"]),
        ["Recordings:ListenWithin"] = (["PT0.001S", "PT20S", "PT10M"], ["PT0S", "PT10M1S", "20"]),
        ["Sweep:EverySeconds"] = (["5", "15"], ["4", "16"]),
        ["Backup:Folder"] = (["/mnt/copies", "copies"], ["with\nline", "/dev/null"]),
        ["Backup:Keep"] = (["1", "1000"], ["0", "1001", "some"]),
        ["Storefront:Inbox"] = (["https://shop.example/inbox", "http://127.0.0.1:9000/inbox", ""], ["http://shop.example/inbox", "https://shop.example/inbox?all=1", "shop.example"]),
        ["Storefront:InboxSecret"] = (["whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=", ""], ["whsec_AAECAwQFBgc=", "AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8="]),
        ["Storefront:InboxId"] = (["shop", "page-2"], [new string('x', 41)]),
        ["Smtp:Host"] = (["mail.vennlowe.example", ""], [new string('x', 256), "with\nline"]),
        ["Smtp:Port"] = (["1", "65535"], ["0", "65536", "smtp"]),
        ["Smtp:Security"] = (["starttls", "TLS", "none"], ["ssl"]),
        ["Smtp:User"] = (["desk", ""], [new string('x', 256)]),
        ["Smtp:Password"] = (["a b;c", ""], ["with\nline"]),
        ["Smtp:From"] = (["desk@vennlowe.example", ""], [new string('x', 255)]),
        ["Webhooks:AllowPrivateTargets"] = (["shop.lan", "127.0.0.1, ::1", "10.0.0.0/8, fd00::/8", "localhost,"], ["10.0.0.0/33", "http://shop.lan", "shop lan"]),
        ["Webhooks:Timeout"] = (["PT1S", "PT30S"], ["PT0S", "PT31S", "20"]),
        ["Webhooks:AtOnce"] = (["1", "32"], ["0", "33"]),
        ["Webhooks:OldSecretFor"] = (["PT0S", "PT24H", "PT720H"], ["PT721H", "-PT1S"]),
        ["Webhooks:KeepLogDays"] = (["1", "3650"], ["0", "3651"]),
        ["Shop:Name"] = (["W", "The workshop by the mill"], [new string('x', 101)]),
        ["Shop:TimeZone"] = (["Europe/Zurich", "UTC", "Pacific/Auckland"], ["Zurich", "europe/zurich", "CEST"]),
    };

    public static TheoryData<string> Names => [.. KnownSettings.All.Select(setting => setting.Name)];

    [Theory, MemberData(nameof(Names))]
    public void A_wrong_setting_stops_the_start_with_a_sentence_that_names_it_its_value_and_what_is_allowed(string name)
    {
        var setting = KnownSettings.All.Single(one => one.Name == name);
        Assert.NotEmpty(Edges[name].Refused);
        foreach (var value in Edges[name].Refused)
        {
            var sentence = Assert.Throws<SettingException>(() => Read((name, value))).Message;

            Assert.StartsWith(name, sentence);
            Assert.EndsWith($"{setting.Allowed}.", sentence);
            Assert.Equal(!setting.Secret, sentence.Contains($"'{value}'"));
        }
    }

    [Theory, MemberData(nameof(Names))]
    public void What_is_allowed_is_taken_and_so_is_the_default(string name)
    {
        var setting = KnownSettings.All.Single(one => one.Name == name);
        Assert.NotEmpty(Edges[name].Allowed);
        foreach (var value in Edges[name].Allowed.Append(setting.Default))
        {
            // An inbox is nothing without the secret by which it is signed.
            Assert.NotNull(name == "Storefront:Inbox" ? Read((name, value), ("Storefront:InboxSecret", SomeSecret)) : Read((name, value)));
        }
    }

    [Fact]
    public void An_inbox_is_read_with_its_secret_and_never_without_one()
    {
        var read = Read(("Storefront:Inbox", "https://shop.example/inbox"), ("Storefront:InboxSecret", SomeSecret), ("Storefront:InboxId", "page")).Storefront;

        Assert.Equal(("https://shop.example/inbox", SomeSecret, "page"), (read.Inbox!.ToString(), read.Secret!.Written, read.Id));
        Assert.StartsWith("Storefront:Inbox is set, which needs Storefront:InboxSecret", Assert.Throws<SettingException>(() => Read(("Storefront:Inbox", "https://shop.example/inbox"))).Message);
    }

    [Fact]
    public void Every_setting_reaches_the_program()
    {
        var read = Read(
            ("Storage:Engine", "postgres"), ("Storage:Path", "/somewhere"), ("Storage:Postgres", "Host=db"), ("Storage:Readers", "7"),
            ("Events:LiveWithin", "PT3M"), ("Events:HoldGapFor", "PT4S"), ("Events:QueueLength", "5"), ("Events:JobsInMemory", "6"),
            ("Http:Address", "0.0.0.0"), ("Http:Port", "81"), ("Limits:BodyBytes", "2000"), ("Limits:RequestsPerTenSeconds", "20"),
            ("Limits:StrangersPerTenSeconds", "30"), ("Limits:PhotoBytes", "70000"), ("Limits:PhotoPixels", "2000000"), ("Photos:Folder", "/photos"), ("Photos:ThumbPixels", "100"), ("Limits:RecordingBytes", "80000"), ("Recordings:Folder", "/sounds"), ("Recordings:AtOnce", "2"), ("Recordings:ListenWithin", "PT3S"), ("Sweep:EverySeconds", "9"), ("Backup:Folder", "/copies"), ("Backup:Keep", "3"), ("Webhooks:AllowPrivateTargets", "shop.lan"), ("Webhooks:Timeout", "PT7S"), ("Webhooks:AtOnce", "2"),
            ("Webhooks:OldSecretFor", "PT1H"), ("Webhooks:KeepLogDays", "5"), ("Limits:Streams", "4"), ("Limits:StreamBeatSeconds", "6"), ("Shop:Name", "Mill"), ("Shop:TimeZone", "Asia/Tokyo"));

        Assert.Equal(new StorageSettings { Engine = StorageEngine.Postgres, Path = "/somewhere", Postgres = "Host=db", Readers = 7 }, read.Storage);
        Assert.Equal(new WriterSettings { QueueLength = 5, JobsInMemory = 6 }, read.Writer);
        Assert.Equal(new EventSettings(Duration.FromMinutes(3), Duration.FromSeconds(4)), read.Events);
        Assert.Equal(("0.0.0.0", 81), (read.Http.Address.ToString(), read.Http.Port));
        Assert.Equal(new LimitSettings(2000, 20, 30), read.Limits);
        Assert.Equal(new PhotoSettings("/photos", 70_000, 2_000_000, 100), read.Photos);
        Assert.Equal(new RecordingSettings("/sounds", 80_000, 2, Duration.FromSeconds(3)), read.Recordings);
        Assert.Equal(Duration.FromSeconds(9), read.Sweep.Every);
        Assert.Equal(new BackUpSettings("/copies", 3), read.BackUp);
        Assert.Equal((Duration.FromSeconds(7), 2, Duration.FromHours(1), Duration.FromDays(5)), (read.Webhooks.Timeout, read.Webhooks.AtOnce, read.Webhooks.OldSecretFor, read.Webhooks.KeepLogFor));
        Assert.True(read.Webhooks.AllowPrivate.Names("shop.lan"));
        Assert.Equal(new StreamSettings(4, Duration.FromSeconds(6)), read.Streams);
        Assert.Equal(new ShopSettings { Name = "Mill", TimeZone = "Asia/Tokyo" }, read.Shop);
    }

    [Fact]
    public void Letters_come_from_the_address_that_is_said_else_from_the_user_else_from_the_host()
    {
        Assert.Equal(
            new MailSettings("mail.example", 465, "tls", "desk@vennlowe.example", "secret", "letters@vennlowe.example"),
            Read(("Smtp:Host", "mail.example"), ("Smtp:Port", "465"), ("Smtp:Security", "tls"), ("Smtp:User", "desk@vennlowe.example"), ("Smtp:Password", "secret"), ("Smtp:From", "letters@vennlowe.example")).Mail);
        Assert.Equal("desk@vennlowe.example", Read(("Smtp:Host", "mail.example"), ("Smtp:User", "desk@vennlowe.example")).Mail.From);
        Assert.Equal("workshop@mail.example", Read(("Smtp:Host", "mail.example")).Mail.From);
        Assert.Null(Read(("Smtp:User", "desk")).Mail.Host);
    }

    [Fact]
    public void A_slip_in_a_settings_name_stops_the_start_instead_of_leaving_the_default_in_force()
    {
        var sentence = Assert.Throws<SettingException>(() => Read(("Events:LiveWihtin", "PT1M"))).Message;

        Assert.Contains("Events:LiveWihtin", sentence);
        Assert.Contains("Events:LiveWithin", sentence);
    }

    [Fact]
    public void A_server_that_was_chosen_has_to_be_named() =>
        Assert.StartsWith("Storage:Engine is 'postgres', which needs Storage:Postgres", Assert.Throws<SettingException>(() => Read(("Storage:Engine", "postgres"))).Message);

    private static MachineSettings Read(params (string Name, string Value)[] set) =>
        MachineSettings.Read(new ConfigurationBuilder().AddInMemoryCollection(set.Select(one => KeyValuePair.Create(one.Name, (string?)one.Value))).Build());
}
