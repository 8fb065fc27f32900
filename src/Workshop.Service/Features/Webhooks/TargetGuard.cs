using System.Collections.Immutable;
using System.Net;
using System.Net.Sockets;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Webhooks;

/// <summary>Nobody may be reached there from outside; whoever names it wants to reach into the house.</summary>
public sealed class TargetRefusedException(string sentence) : IOException(sentence);

/// <summary>
/// Where messages may go. An address that is not the open internet's is refused unless a setting names it, so that whoever may enter
/// an endpoint cannot make the service knock at doors within the house. Looked at on the address that is connected to, after its name was
/// looked up: what the name said a moment earlier is no matter.
/// </summary>
/// <remarks>The networks are those of the IANA special-purpose address registries (RFC 6890), from memory.</remarks>
public sealed class TargetGuard(WebhookSettings settings)
{
    private static readonly ImmutableArray<IPNetwork> NotOutside =
    [
        .. new[]
        {
            "0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24", "192.0.2.0/24", "192.88.99.0/24",
            "192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4",
            "::/96", "64:ff9b:1::/48", "100::/64", "2001::/23", "2001:db8::/32", "3fff::/20", "5f00::/16", "fc00::/7", "fe80::/10", "fec0::/10", "ff00::/8",
        }.Select(IPNetwork.Parse),
    ];

    // An IPv4 address lies in these: at the end of the first, behind the first two bytes of the second.
    private static readonly IPNetwork Translated = IPNetwork.Parse("64:ff9b::/96");
    private static readonly IPNetwork SixToFour = IPNetwork.Parse("2002::/16");

    /// <summary>What stands against an address as somebody enters it; null where nothing does. A name is looked up only when it is connected to.</summary>
    public string? Fault(string text)
    {
        if (!Uri.TryCreate(text, UriKind.Absolute, out var url) || url.Scheme is not ("https" or "http") || url.Host.Length == 0)
        {
            return "This is no address that begins with https://";
        }

        if (url.UserInfo.Length > 0 || url.Fragment.Length > 0)
        {
            return "An address has neither a user nor a fragment; what is sent is signed";
        }

        var literal = IPAddress.TryParse(url.IdnHost.Trim('[', ']'), out var address);
        var allowed = settings.AllowPrivate.Names(url.IdnHost) || (literal && settings.AllowPrivate.Contains(address!));
        return url.Scheme == "http" && !allowed ? "Messages are sent by https only; Webhooks:AllowPrivateTargets names the hosts for which that is not needed"
            : literal && !allowed && !IsOutside(address!) ? "This address lies within the house; Webhooks:AllowPrivateTargets names those that may be reached"
            : null;
    }

    /// <summary>Whether a connection to this address may be made for this host.</summary>
    /// <param name="encrypted">Whether what is sent is encrypted.</param>
    public bool Admits(string host, IPAddress address, bool encrypted) =>
        settings.AllowPrivate.Names(host) || settings.AllowPrivate.Contains(address) || (encrypted && IsOutside(address));

    /// <summary>Whether an address is one of the open internet.</summary>
    public static bool IsOutside(IPAddress address)
    {
        if (address.IsIPv4MappedToIPv6)
        {
            return IsOutside(address.MapToIPv4());
        }

        if (address.AddressFamily == AddressFamily.InterNetworkV6)
        {
            // A scope says that it is valid on one line of this machine alone.
            if (address.ScopeId != 0)
            {
                return false;
            }

            var bytes = address.GetAddressBytes();
            if (Translated.Contains(address))
            {
                return IsOutside(new IPAddress(bytes.AsSpan(12, 4)));
            }

            if (SixToFour.Contains(address))
            {
                return IsOutside(new IPAddress(bytes.AsSpan(2, 4)));
            }
        }

        return !NotOutside.Any(network => network.Contains(address));
    }
}
