using System.Net;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Settings;

namespace Workshop.Service.Tests.Api.Webhooks;

public class TargetGuardTests
{
    // IANA special-purpose address registries (RFC 6890), from memory; one of each network, and its edges where they are odd.
    [Theory]
    [InlineData("0.0.0.0")]
    [InlineData("10.0.0.1")]
    [InlineData("100.64.0.1")]
    [InlineData("100.127.255.255")]
    [InlineData("127.0.0.1")]
    [InlineData("127.255.255.254")]
    [InlineData("169.254.169.254")]
    [InlineData("172.16.0.1")]
    [InlineData("172.31.255.255")]
    [InlineData("192.0.0.8")]
    [InlineData("192.0.2.1")]
    [InlineData("192.88.99.1")]
    [InlineData("192.168.0.1")]
    [InlineData("198.18.0.1")]
    [InlineData("198.19.255.255")]
    [InlineData("198.51.100.7")]
    [InlineData("203.0.113.7")]
    [InlineData("224.0.0.1")]
    [InlineData("239.255.255.255")]
    [InlineData("240.0.0.1")]
    [InlineData("255.255.255.255")]
    [InlineData("::")]
    [InlineData("::1")]
    [InlineData("::127.0.0.1")]
    [InlineData("::ffff:127.0.0.1")]
    [InlineData("::ffff:10.0.0.1")]
    [InlineData("64:ff9b::10.0.0.1")]
    [InlineData("64:ff9b:1::1")]
    [InlineData("100::1")]
    [InlineData("2001::1")]
    [InlineData("2001:db8::1")]
    [InlineData("2002:7f00:1::")]
    [InlineData("2002:c0a8:101::1")]
    [InlineData("fc00::1")]
    [InlineData("fdff:ffff::1")]
    [InlineData("fe80::1")]
    [InlineData("fe80::1%1")]
    [InlineData("fec0::1")]
    [InlineData("ff02::1")]
    public void An_address_of_the_house_is_no_target_unless_a_setting_names_it(string text)
    {
        var address = IPAddress.Parse(text);

        Assert.False(TargetGuard.IsOutside(address));
        Assert.False(Guard("").Admits("shop.example", address, encrypted: true));
        Assert.True(Guard("shop.example").Admits("shop.example", address, encrypted: false));
        Assert.False(Guard("shop.example").Admits("other.example", address, encrypted: true));
    }

    [Theory]
    [InlineData("1.1.1.1")]
    [InlineData("9.255.255.255")]
    [InlineData("11.0.0.0")]
    [InlineData("100.63.255.255")]
    [InlineData("100.128.0.0")]
    [InlineData("172.15.255.255")]
    [InlineData("172.32.0.0")]
    [InlineData("192.167.255.255")]
    [InlineData("198.17.255.255")]
    [InlineData("198.20.0.0")]
    [InlineData("223.255.255.255")]
    [InlineData("2606:4700::1111")]
    [InlineData("2a00::1")]
    [InlineData("64:ff9b::1.1.1.1")]
    [InlineData("2002:101:101::1")]
    public void An_address_of_the_open_internet_is_one_but_only_encrypted(string text)
    {
        var address = IPAddress.Parse(text);

        Assert.True(TargetGuard.IsOutside(address));
        Assert.True(Guard("").Admits("shop.example", address, encrypted: true));
        Assert.False(Guard("").Admits("shop.example", address, encrypted: false));
    }

    [Theory]
    [InlineData("127.0.0.1", "127.0.0.1", true)]
    [InlineData("127.0.0.1", "::ffff:127.0.0.1", true)]
    [InlineData("127.0.0.1", "127.0.0.2", false)]
    [InlineData("10.0.0.0/8, fd00::/8", "10.255.0.1", true)]
    [InlineData("10.0.0.0/8, fd00::/8", "fd12::1", true)]
    [InlineData("10.0.0.0/8, fd00::/8", "192.168.0.1", false)]
    public void A_setting_names_addresses_and_networks(string allowed, string address, bool admitted) =>
        Assert.Equal(admitted, Guard(allowed).Admits("shop.example", IPAddress.Parse(address), encrypted: false));

    [Fact]
    public async Task A_name_that_leads_outside_and_then_into_the_house_reaches_nobody_there()
    {
        await using var receiver = await Receiver.Open();
        var port = new Uri(receiver.Address).Port;
        var asked = 0;

        // Whoever looks it up when the endpoint is entered gets another answer than whoever connects.
        Task<IPAddress[]> Resolve(string host, CancellationToken cancel) =>
            Task.FromResult<IPAddress[]>([IPAddress.Parse(Interlocked.Increment(ref asked) == 1 ? "192.0.2.1" : "127.0.0.1")]);

        Assert.Null(Guard("").Fault($"https://shop.example:{port}/hooks"));
        using var post = new PostMessage(Settings(""), Guard(""), new HostNames(Resolve), new RealTime(SystemClock.Instance));
        var first = await Send(post, $"https://shop.example:{port}/hooks");
        var second = await Send(post, $"https://shop.example:{port}/hooks");

        Assert.Equal([SendingError.AddressRefused, SendingError.AddressRefused], [first.Error!.Value, second.Error!.Value]);
        Assert.Equal(2, asked);
        Assert.Empty(receiver.All);

        // That the way there exists is shown by allowing it.
        using var allowed = new PostMessage(Settings("shop.example"), Guard("shop.example"), new HostNames(Resolve), new RealTime(SystemClock.Instance));
        Assert.Null((await Send(allowed, $"http://shop.example:{port}/hooks")).Error);
        Assert.Single(receiver.All);
    }

    [Fact]
    public async Task Of_several_addresses_of_a_name_only_those_outside_are_tried()
    {
        await using var receiver = await Receiver.Open();
        var port = new Uri(receiver.Address).Port;
        using var post = new PostMessage(
            Settings("127.0.0.1"), Guard("127.0.0.1"), new HostNames((_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse("10.9.9.9"), IPAddress.Loopback])), new RealTime(SystemClock.Instance));

        Assert.Null((await Send(post, $"http://shop.example:{port}/hooks")).Error);
        Assert.Single(receiver.All);
    }

    [Fact]
    public async Task A_name_that_nobody_knows_is_told_by_that()
    {
        using var post = new PostMessage(
            Settings(""), Guard(""), new HostNames((_, _) => throw new System.Net.Sockets.SocketException((int)System.Net.Sockets.SocketError.HostNotFound)), new RealTime(SystemClock.Instance));

        Assert.Equal(SendingError.NameUnknown, (await Send(post, "https://nowhere.example/")).Error);
    }

    private static Task<Attempt> Send(PostMessage post, string url) => post.Send(new Uri(url), [WebhookSecret.Draw()], "msg_1", "{\"type\":\"job.ready\"}"u8.ToArray(), CancellationToken.None);

    private static TargetGuard Guard(string allowed) => new(Settings(allowed));

    private static WebhookSettings Settings(string allowed) => new(
        AllowedTargets.TryRead(allowed, out var targets) ? targets : throw new FormatException(), Duration.FromSeconds(5), 4, Duration.Zero, Duration.FromDays(30));
}
