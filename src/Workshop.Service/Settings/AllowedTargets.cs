using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Net;

namespace Workshop.Service.Settings;

/// <summary>Hosts and networks within the house to which messages may be sent although nobody outside could.</summary>
public sealed class AllowedTargets
{
    public static readonly AllowedTargets None = new([], []);

    public static readonly AllowedTargets Loopback = new(["localhost"], [IPNetwork.Parse("127.0.0.0/8"), IPNetwork.Parse("::1/128")]);

    private readonly ImmutableHashSet<string> names;
    private readonly ImmutableArray<IPNetwork> networks;

    private AllowedTargets(ImmutableHashSet<string> names, ImmutableArray<IPNetwork> networks)
    {
        this.names = names;
        this.networks = networks;
    }

    /// <summary>Whether the name itself is on the list, wherever it leads.</summary>
    public bool Names(string host) => names.Contains(host.TrimEnd('.'));

    public bool Contains(IPAddress address)
    {
        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return networks.Any(network => network.Contains(plain));
    }

    /// <summary>Names, addresses and networks with commas between them.</summary>
    public static bool TryRead(string text, [NotNullWhen(true)] out AllowedTargets? targets)
    {
        targets = null;
        var names = ImmutableHashSet.CreateBuilder<string>(StringComparer.OrdinalIgnoreCase);
        var networks = ImmutableArray.CreateBuilder<IPNetwork>();
        foreach (var one in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (one.Contains('/'))
            {
                if (!IPNetwork.TryParse(one, out var network))
                {
                    return false;
                }

                networks.Add(network);
            }
            else if (IPAddress.TryParse(one, out var address))
            {
                networks.Add(new IPNetwork(address, address.GetAddressBytes().Length * 8));
            }
            else if (Uri.CheckHostName(one) == UriHostNameType.Dns)
            {
                names.Add(one.TrimEnd('.'));
            }
            else
            {
                return false;
            }
        }

        targets = new AllowedTargets(names.ToImmutable(), networks.ToImmutable());
        return true;
    }
}
