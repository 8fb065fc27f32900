using System.Buffers.Text;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using NodaTime;

namespace Workshop.Benchmarks.Posts;

/// <summary>
/// One bench at its end of a connection that is kept open: posts an event, waits for the answer, posts the next. Bare sockets, since
/// client and service share the processors and what the client uses is missing to what is measured.
/// </summary>
internal sealed class BenchClient : IDisposable
{
    /// <summary>Watches a bench has before it, taken up in turn.</summary>
    public const int JobsAtHand = 4;

    private readonly KeyedBench bench;
    private readonly Queue<ReadyJob> waiting;
    private readonly Queue<BenchWork> atHand = new();
    private readonly string host;
    private readonly byte[] answer = new byte[16 * 1024];
    private int received;
    private long sequence;
    private long sentAt;

    /// <param name="waiting">Watches nobody works on yet; shared by all benches.</param>
    public BenchClient(Uri service, KeyedBench bench, Queue<ReadyJob> waiting)
    {
        this.bench = bench;
        this.waiting = waiting;
        host = service.Authority;
        Socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        Socket.Connect(IPAddress.Parse(service.Host), service.Port);
    }

    public Socket Socket { get; }

    /// <summary>Sends the next event.</summary>
    public void Post()
    {
        var now = SystemClock.Instance.GetCurrentInstant();
        var body = NextWork().Next(bench.Source, ++sequence, now);
        var request = Encoding.UTF8.GetBytes(
            $"POST /v1/bench-events HTTP/1.1\r\nHost: {host}\r\nAuthorization: Bearer {bench.Key}\r\nContent-Type: application/cloudevents+json\r\nContent-Length: {Encoding.UTF8.GetByteCount(body)}\r\n\r\n{body}");
        sentAt = Stopwatch.GetTimestamp();
        Socket.Send(request);
    }

    /// <summary>Reads what has come.</summary>
    /// <returns>How long the answer took, once it is whole.</returns>
    /// <exception cref="InvalidOperationException">The event was not accepted.</exception>
    public TimeSpan? Hear()
    {
        var read = Socket.Receive(answer.AsSpan(received));
        if (read == 0)
        {
            throw new InvalidOperationException("The service has closed the connection.");
        }

        received += read;
        if (!IsWhole(answer.AsSpan(0, received)))
        {
            return null;
        }

        var took = Stopwatch.GetElapsedTime(sentAt);
        var whole = answer.AsSpan(0, received);
        if (!whole.StartsWith("HTTP/1.1 200 "u8) || whole.IndexOf("\"outcome\":\"accepted\""u8) < 0)
        {
            throw new InvalidOperationException($"An event was not accepted: {Encoding.UTF8.GetString(whole)}");
        }

        received = 0;
        return took;
    }

    public void Dispose() => Socket.Dispose();

    private BenchWork NextWork()
    {
        while (atHand.Count < JobsAtHand)
        {
            atHand.Enqueue(new BenchWork(
                waiting.TryDequeue(out var job) ? job : throw new InvalidOperationException("All watches are done; measure for fewer seconds."), bench.Name));
        }

        var work = atHand.Dequeue();
        if (work.IsOver)
        {
            return NextWork();
        }

        atHand.Enqueue(work);
        return work;
    }

    private static bool IsWhole(ReadOnlySpan<byte> sofar)
    {
        var head = sofar.IndexOf("\r\n\r\n"u8);
        if (head < 0)
        {
            return false;
        }

        var body = sofar[(head + 4)..];
        var length = sofar[..head].IndexOf("\r\nContent-Length: "u8);
        return length >= 0
            ? Utf8Parser.TryParse(sofar[(length + 18)..], out int bytes, out _) && body.Length >= bytes
            : body.EndsWith("\r\n0\r\n\r\n"u8);
    }
}
