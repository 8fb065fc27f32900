using System.Reflection;
using System.Security.Claims;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Keys;

/// <summary>Who is asking: the key's role, the only source it may speak for, and where it stands.</summary>
public sealed class Caller : IBindableFromHttpContext<Caller>
{
    public required string Site { get; init; }

    /// <summary>The key's id, never the key.</summary>
    public required string KeyId { get; init; }

    public required Role Role { get; init; }

    /// <summary>For example <c>/devices/bench-2/1</c> or <c>/desk/front</c>.</summary>
    public required string Source { get; init; }

    public string? Bench { get; init; }

    /// <summary>Who speaks with a key; null for a role that this program does not know.</summary>
    public static Caller? Behind(ApiKey key) => Word.Read<Role>(key.Role) is { } role
        ? new Caller { Site = key.Site, KeyId = key.Id, Role = role, Source = key.Source, Bench = key.Bench }
        : null;

    public bool MaySee(Sight sight) => Operations.MaySee(Role, sight);

    /// <summary>As the framework wants to know it.</summary>
    internal ClaimsPrincipal Principal => principal ??= new ClaimsPrincipal(new ClaimsIdentity(
        [new Claim(ClaimTypes.NameIdentifier, KeyId), new Claim(ClaimTypes.Role, Word.Of(Role))], Bearer.SchemeName));

    private ClaimsPrincipal? principal;

    /// <summary>The caller of an endpoint that needs one.</summary>
    public static ValueTask<Caller?> BindAsync(HttpContext context, ParameterInfo parameter) => ValueTask.FromResult<Caller?>(
        Of(context) ?? throw new InvalidOperationException("An endpoint that everybody may use has no caller."));

    /// <summary>Null where no valid key was sent.</summary>
    public static Caller? Of(HttpContext context) => context.Features.Get<Caller>();
}
