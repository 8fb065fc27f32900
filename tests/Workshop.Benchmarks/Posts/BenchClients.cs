using System.Diagnostics;
using System.Net.Sockets;

namespace Workshop.Benchmarks.Posts;

/// <summary>Benches that post at the same time, each the next event once it has its answer; their connections are kept open throughout.</summary>
internal sealed class BenchClients : IDisposable
{
    private const int LookAgainMicroseconds = 1_000_000;

    private readonly BenchClient[] clients;
    private readonly Dictionary<Socket, BenchClient> bySocket;

    /// <param name="waiting">Watches nobody works on yet.</param>
    public BenchClients(Uri service, IEnumerable<KeyedBench> benches, Queue<ReadyJob> waiting)
    {
        clients = [.. benches.Select(bench => new BenchClient(service, bench, waiting))];
        bySocket = clients.ToDictionary(client => client.Socket);
    }

    /// <summary>Lets some of them post for a while and waits for the last answers. One thread speaks for all of them.</summary>
    public Figures Post(int benches, TimeSpan span)
    {
        var latencies = new Latencies();
        var clock = Stopwatch.StartNew();
        var waiting = new List<Socket>(benches);
        foreach (var client in clients.Take(benches))
        {
            client.Post();
            waiting.Add(client.Socket);
        }

        var ready = new List<Socket>(waiting.Count);
        while (waiting.Count > 0)
        {
            ready.Clear();
            ready.AddRange(waiting);
            Socket.Select(ready, null, null, LookAgainMicroseconds);
            foreach (var socket in ready)
            {
                if (bySocket[socket].Hear() is not { } took)
                {
                    continue;
                }

                latencies.Add(took);
                if (clock.Elapsed < span)
                {
                    bySocket[socket].Post();
                }
                else
                {
                    waiting.Remove(socket);
                }
            }
        }

        return new Figures(latencies.Count / clock.Elapsed.TotalSeconds, latencies);
    }

    public void Dispose()
    {
        foreach (var client in clients)
        {
            client.Dispose();
        }
    }
}
