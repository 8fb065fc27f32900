using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Webhooks;

/// <summary>Why a message did not arrive.</summary>
public enum SendingError
{
    TimedOut,
    NameUnknown,
    NoConnection,

    /// <summary>It leads into the house, and no setting allows that.</summary>
    AddressRefused,
    EncryptionFailed,

    /// <summary>What came was no answer of HTTP.</summary>
    AnswerUnreadable,

    /// <summary>3xx: messages follow nobody elsewhere.</summary>
    Redirected,

    /// <summary>Any other status than 2xx.</summary>
    Answered,
}

/// <summary>One attempt.</summary>
/// <param name="At">When it began, real time.</param>
/// <param name="Status">Null where no answer came.</param>
/// <param name="Error">Null where it arrived.</param>
/// <param name="Wish">How long the receiver asked to wait.</param>
public sealed record Attempt(Instant At, int? Status, Duration Took, SendingError? Error, Duration? Wish);

/// <summary>Looks a host's addresses up.</summary>
public sealed record HostNames(Func<string, CancellationToken, Task<IPAddress[]>> Resolve)
{
    public static readonly HostNames Usual = new((host, cancel) => Dns.GetHostAddressesAsync(host, cancel));
}

/// <summary>Posts one message to one address: signed over the very bytes, without redirects, cookies or a proxy, and never into the house.</summary>
public sealed class PostMessage : IDisposable
{
    private static readonly MediaTypeHeaderValue CloudEvent = new("application/cloudevents+json") { CharSet = "utf-8" };
    private static readonly ProductInfoHeaderValue Ourselves = new("Workshop", "1");

    // A connection is opened anew from time to time, so that a name which leads elsewhere by now is looked up again.
    private static readonly TimeSpan ConnectionLives = TimeSpan.FromMinutes(2);

    private readonly WebhookSettings settings;
    private readonly TargetGuard guard;
    private readonly HostNames names;
    private readonly RealTime realTime;
    private readonly HttpClient client;

    public PostMessage(WebhookSettings settings, TargetGuard guard, HostNames names, RealTime realTime)
    {
        this.settings = settings;
        this.guard = guard;
        this.names = names;
        this.realTime = realTime;
        client = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseProxy = false,
            UseCookies = false,
            AutomaticDecompression = DecompressionMethods.None,
            PooledConnectionLifetime = ConnectionLives,
            ConnectCallback = Connect,
        })
        {
            Timeout = Timeout.InfiniteTimeSpan,
        };
    }

    /// <summary>Sends it once. Never throws but where it is cancelled: whatever goes wrong is what came of it.</summary>
    /// <param name="secrets">All that hold now.</param>
    public async Task<Attempt> Send(Uri url, IReadOnlyCollection<WebhookSecret> secrets, string id, byte[] body, CancellationToken cancel)
    {
        var at = realTime.Now;
        var began = Stopwatch.GetTimestamp();
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(settings.Timeout.ToTimeSpan());
        Attempt Came(int? status, SendingError? error, Duration? wish = null) =>
            new(at, status, Duration.FromTimeSpan(Stopwatch.GetElapsedTime(began)), error, wish);

        try
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, url) { Content = new ByteArrayContent(body) };
            request.Content.Headers.ContentType = CloudEvent;
            request.Headers.UserAgent.Add(Ourselves);
            request.Headers.Add(WebhookHeaders.IdName, id);
            request.Headers.Add(WebhookHeaders.TimestampName, WebhookSignature.Seconds(at));
            request.Headers.Add(WebhookHeaders.SignatureName, WebhookSignature.Sign(secrets, id, at, body));

            // What the receiver has to say beyond its status is not read.
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, patience.Token);
            var status = (int)answer.StatusCode;
            SendingError? error = answer.IsSuccessStatusCode ? null : status is >= 300 and < 400 ? SendingError.Redirected : SendingError.Answered;
            return Came(status, error, Wish(answer.Headers.RetryAfter, at));
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return Came(null, SendingError.TimedOut);
        }
        catch (HttpRequestException failure)
        {
            return Came(null, Reason(failure));
        }
        catch (IOException)
        {
            return Came(null, SendingError.AnswerUnreadable);
        }
    }

    public void Dispose() => client.Dispose();

    private static Duration? Wish(RetryConditionHeaderValue? header, Instant now)
    {
        var wish = header switch
        {
            { Delta: { } delta } => Duration.FromTimeSpan(delta),
            { Date: { } date } => Instant.FromDateTimeOffset(date) - now,
            _ => (Duration?)null,
        };
        return wish > Duration.Zero ? wish : null;
    }

    private static SendingError Reason(HttpRequestException failure) => failure switch
    {
        { InnerException: TargetRefusedException } => SendingError.AddressRefused,
        { HttpRequestError: HttpRequestError.NameResolutionError } or { InnerException: SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain } } => SendingError.NameUnknown,
        { HttpRequestError: HttpRequestError.SecureConnectionError } => SendingError.EncryptionFailed,
        { HttpRequestError: HttpRequestError.ConnectionError } or { InnerException: SocketException } => SendingError.NoConnection,
        _ => SendingError.AnswerUnreadable,
    };

    private async ValueTask<Stream> Connect(SocketsHttpConnectionContext context, CancellationToken cancel)
    {
        var host = context.DnsEndPoint.Host;
        var encrypted = context.InitialRequestMessage.RequestUri?.Scheme == Uri.UriSchemeHttps;
        var found = IPAddress.TryParse(host, out var literal) ? [literal] : await names.Resolve(host, cancel);
        var admitted = found.Where(address => guard.Admits(host, address, encrypted)).ToArray();
        if (admitted.Length == 0)
        {
            throw found.Length == 0
                ? new SocketException((int)SocketError.HostNotFound)
                : new TargetRefusedException("The address lies within the house, and Webhooks:AllowPrivateTargets does not name it.");
        }

        // Each in turn, as it was looked up and looked at; a name is not looked up a second time.
        SocketException? last = null;
        foreach (var address in admitted)
        {
            var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
            try
            {
                await socket.ConnectAsync(new IPEndPoint(address, context.DnsEndPoint.Port), cancel);
                return new NetworkStream(socket, ownsSocket: true);
            }
            catch (SocketException failure)
            {
                socket.Dispose();
                last = failure;
            }
            catch
            {
                socket.Dispose();
                throw;
            }
        }

        throw last!;
    }
}
