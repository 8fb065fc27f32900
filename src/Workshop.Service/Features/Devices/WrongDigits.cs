using System.Net;
using System.Net.Sockets;

namespace Workshop.Service.Features.Devices;

/// <summary>
/// How often wrong digits came from an address lately. It is asked before any digits are looked at; right digits give their try back.
/// Counted in this process and in real time, whatever the workshop's clock shows; what all addresses together may try is counted with
/// the pairings themselves.
/// </summary>
public sealed class WrongDigits(TimeProvider time)
{
    /// <summary>Wrong tries from one address within <see cref="Window"/>. Own choice: a tired person's, not a program's.</summary>
    public const int AtMost = 5;

    public static readonly TimeSpan Window = TimeSpan.FromMinutes(1);

    private const int AddressesAtMost = 10_000;

    private readonly Dictionary<string, Queue<long>> tries = new(StringComparer.Ordinal);
    private readonly Lock gate = new();

    /// <summary>Takes a try, unless there were too many.</summary>
    /// <returns>null: go on; else how long to wait.</returns>
    public TimeSpan? Begin(IPAddress? address)
    {
        var name = NameOf(address);
        lock (gate)
        {
            if (tries.Count >= AddressesAtMost)
            {
                foreach (var idle in tries.Where(one => one.Value.All(IsOver)).Select(one => one.Key).ToArray())
                {
                    tries.Remove(idle);
                }
            }

            if (!tries.TryGetValue(name, out var those))
            {
                // Somebody who comes from so many addresses at once is no tablet.
                if (tries.Count >= AddressesAtMost)
                {
                    return Window;
                }

                tries[name] = those = new Queue<long>();
            }

            while (those.TryPeek(out var oldest) && IsOver(oldest))
            {
                those.Dequeue();
            }

            if (those.Count >= AtMost)
            {
                return Window - time.GetElapsedTime(those.Peek());
            }

            those.Enqueue(time.GetTimestamp());
            return null;
        }
    }

    /// <summary>The digits were right: the try does not count.</summary>
    public void WereRight(IPAddress? address)
    {
        lock (gate)
        {
            tries.Remove(NameOf(address));
        }
    }

    private bool IsOver(long since) => time.GetElapsedTime(since) >= Window;

    // Whoever has one IPv6 address usually has a whole /64 of them (RFC 6177).
    private static string NameOf(IPAddress? address) => address switch
    {
        null => "",
        { IsIPv4MappedToIPv6: true } => address.MapToIPv4().ToString(),
        { AddressFamily: AddressFamily.InterNetworkV6 } => Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8)),
        _ => address.ToString(),
    };
}
