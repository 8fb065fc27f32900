using System.Buffers.Text;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using Microsoft.Net.Http.Headers;

namespace Workshop.Service.Http.Keys;

/// <summary>
/// <c>Authorization: Bearer &lt;key&gt;</c> (RFC 6750). Pages that a browser opens by itself also take the key as the
/// password of HTTP Basic (RFC 7617), whatever the user name; only there, since a browser would send it along unasked.
/// </summary>
public sealed class Bearer(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logs, UrlEncoder encoder, KeyRing keys, StreamTickets tickets)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logs, encoder)
{
    public const string SchemeName = "Bearer";

    /// <summary>Where the pages are that a browser opens by itself.</summary>
    public static readonly PathString BrowserPages = "/hangfire";

    private const string Realm = "realm=\"workshop\"";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (SentKey() is not { } key)
        {
            return SentTicket() is { } ticket ? Of(await tickets.Take(ticket, Context.RequestAborted)) : AuthenticateResult.NoResult();
        }

        return Of(await keys.Find(key, Context.RequestAborted));
    }

    private AuthenticateResult Of(Caller? found)
    {
        if (found is not { } caller)
        {
            return AuthenticateResult.Fail("No such key.");
        }

        Context.Features.Set(caller);
        return AuthenticateResult.Success(new AuthenticationTicket(caller.Principal, SchemeName));
    }

    /// <summary>401; the status's problem is written by whoever explains bare statuses.</summary>
    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        Response.StatusCode = StatusCodes.Status401Unauthorized;
        Response.Headers.Append(HeaderNames.WWWAuthenticate, SentKey() is null ? $"Bearer {Realm}" : $"Bearer {Realm}, error=\"invalid_token\"");
        if (IsBrowserPage)
        {
            Response.Headers.Append(HeaderNames.WWWAuthenticate, $"Basic {Realm}, charset=\"UTF-8\"");
        }

        return Task.CompletedTask;
    }

    private bool IsBrowserPage => Request.PathBase.Add(Request.Path).StartsWithSegments(BrowserPages);

    // A browser cannot send a header when it opens a stream.
    private string? SentTicket() =>
        Request.PathBase.Add(Request.Path) == StreamTickets.Address && Request.Query["ticket"] is [{ Length: > 0 and < 100 } ticket] ? ticket : null;

    private string? SentKey() =>
        !AuthenticationHeaderValue.TryParse(Request.Headers.Authorization, out var sent) || sent.Parameter is not { Length: > 0 } parameter ? null
        : sent.Scheme.Equals("Bearer", StringComparison.OrdinalIgnoreCase) ? parameter
        : sent.Scheme.Equals("Basic", StringComparison.OrdinalIgnoreCase) && IsBrowserPage ? Password(parameter)
        : null;

    private static string? Password(string parameter) =>
        Base64.IsValid(parameter) && Encoding.UTF8.GetString(Convert.FromBase64String(parameter)) is var userAndPassword && userAndPassword.IndexOf(':') is >= 0 and var colon
            ? userAndPassword[(colon + 1)..]
            : null;
}
