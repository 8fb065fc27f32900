using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;
using MimeKit;

namespace Workshop.Service.Tests.Letters;

/// <summary>A mail server of the test's own (RFC 5321, as far as a letter needs it): keeps what it takes, and refuses or dies as told.</summary>
public sealed class MailServer : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource ending = new();
    private readonly ConcurrentQueue<MimeMessage> taken = new();
    private readonly Task listening;

    public MailServer()
    {
        listener.Start();
        listening = Listen();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>Everything it has answered 250 to, in order.</summary>
    public IReadOnlyList<MimeMessage> Taken => [.. taken];

    /// <summary>What it says to the recipient; 250 where left alone.</summary>
    public string Recipient { get; set; } = "250 ok";

    /// <summary>What it says to the letter itself.</summary>
    public string Data { get; set; } = "250 ok";

    /// <summary>Told when a letter has been taken, before that is answered.</summary>
    public Action? Took { get; set; }

    /// <summary>The settings by which the service finds it.</summary>
    public Dictionary<string, string?> Settings(IReadOnlyDictionary<string, string?>? more = null) => new(more ?? new Dictionary<string, string?>())
    {
        ["Smtp:Host"] = "127.0.0.1",
        ["Smtp:Port"] = $"{Port}",
        ["Smtp:Security"] = "none",
        ["Smtp:From"] = "desk@vennlowe.example",
    };

    public async ValueTask DisposeAsync()
    {
        await ending.CancelAsync();
        listener.Stop();
        await listening;
        ending.Dispose();
        foreach (var message in taken)
        {
            message.Dispose();
        }
    }

    private async Task Listen()
    {
        try
        {
            while (!ending.IsCancellationRequested)
            {
                using var client = await listener.AcceptTcpClientAsync(ending.Token);
                try
                {
                    await Serve(client);
                }
                catch (IOException)
                {
                    // Whoever called has gone; the next one is served.
                }
            }
        }
        catch (Exception over) when (over is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The test is over.
        }
    }

    private async Task Serve(TcpClient client)
    {
        await using var stream = client.GetStream();
        using var reader = new StreamReader(stream, Encoding.Latin1);
        await using var writer = new StreamWriter(stream, Encoding.Latin1) { AutoFlush = true, NewLine = "\r\n" };
        await writer.WriteLineAsync("220 ready");
        while (await reader.ReadLineAsync(ending.Token) is { } line)
        {
            switch (line.Split(' ', ':')[0].ToUpperInvariant())
            {
                case "EHLO" or "HELO":
                    await writer.WriteLineAsync("250 hello");
                    break;
                case "RCPT":
                    await writer.WriteLineAsync(Recipient);
                    break;
                case "DATA":
                    await writer.WriteLineAsync("354 go on");
                    await Take(reader);
                    await writer.WriteLineAsync(Data);
                    break;
                case "QUIT":
                    await writer.WriteLineAsync("221 bye");
                    return;
                default:
                    await writer.WriteLineAsync("250 ok");
                    break;
            }
        }
    }

    private async Task Take(StreamReader reader)
    {
        var text = new StringBuilder();
        while (await reader.ReadLineAsync(ending.Token) is { } line and not ".")
        {
            text.Append(line.StartsWith('.') ? line[1..] : line).Append("\r\n");
        }

        if (Data.StartsWith("250", StringComparison.Ordinal))
        {
            using var bytes = new MemoryStream(Encoding.Latin1.GetBytes(text.ToString()));
            taken.Enqueue(await MimeMessage.LoadAsync(bytes, ending.Token));
            Took?.Invoke();
        }
    }
}
