using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Http.Answers;

/// <summary>
/// <c>"&lt;version&gt;-&lt;short hash of the body&gt;"</c>, a strong tag (RFC 9110, section 8.8.3). The version says which
/// state was seen; the hash tells apart what different roles are shown of it.
/// </summary>
public static class EntityTag
{
    private const int HashBytes = 6;

    public static string Of(long version, string body) => string.Create(
        CultureInfo.InvariantCulture,
        $"\"{version}-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(body)).AsSpan(0, HashBytes))}\"");

    /// <summary>Whether If-None-Match names this tag. Compared weakly (RFC 9110, section 13.1.2): a proxy may have weakened it.</summary>
    public static bool IsNamedBy(string? ifNoneMatch, string tag) =>
        ifNoneMatch is not null && Listed(ifNoneMatch).Any(one => one == "*" || Strong(one) == tag);

    /// <summary>The versions named by an If-Match; null stands for <c>*</c>, any state. A weak tag names none, since If-Match compares strongly.</summary>
    internal static IReadOnlyList<long>? VersionsOf(string ifMatch)
    {
        var versions = new List<long>();
        foreach (var one in Listed(ifMatch))
        {
            if (one == "*")
            {
                return null;
            }

            if (one is ['"', .., '"'] && long.TryParse(one[1..^1].Split('-')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var version))
            {
                versions.Add(version);
            }
        }

        return versions;
    }

    // Our own tags have no comma, so that a comma always separates.
    private static string[] Listed(string header) => header.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static string Strong(string tag) => tag.StartsWith("W/", StringComparison.Ordinal) ? tag[2..] : tag;
}

/// <summary>
/// The state a person has seen of what they change: the request's If-Match. Missing is 428; whether it is still the state
/// is asked within the turn, where nobody comes in between.
/// </summary>
public sealed class SeenState : IBindableFromHttpContext<SeenState>, Microsoft.AspNetCore.Http.Metadata.IEndpointParameterMetadataProvider, IRefusable
{
    private readonly IReadOnlyList<long>? versions;

    private SeenState(IReadOnlyList<long>? versions, ProblemHttpResult? refusal)
    {
        this.versions = versions;
        Refusal = refusal;
    }

    public ProblemHttpResult? Refusal { get; }

    /// <summary>Null when the state seen is this version, else the answer 412.</summary>
    public ProblemHttpResult? RefusalUnlessStill(long version) =>
        versions is null || versions.Contains(version)
            ? null
            : Problems.Of(ProblemCatalogue.ChangedMeanwhile, "The state that was seen is no longer the present one.", ("version", version));

    public static ValueTask<SeenState?> BindAsync(HttpContext context, ParameterInfo parameter) => ValueTask.FromResult<SeenState?>(
        context.Request.Headers.IfMatch.ToString() is { Length: > 0 } ifMatch
            ? new SeenState(EntityTag.VersionsOf(ifMatch), null)
            : new SeenState([], Problems.Of(ProblemCatalogue.IfMatchNeeded, "The header If-Match is missing.")));

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new NeedsIfMatch());
}

/// <summary>
/// The state a person has seen of what they save, where there may be none yet: without If-Match something new is made, and nothing
/// that is there is overwritten unseen.
/// </summary>
public sealed class SeenOrNew : IBindableFromHttpContext<SeenOrNew>, Microsoft.AspNetCore.Http.Metadata.IEndpointParameterMetadataProvider
{
    private readonly bool said;
    private readonly IReadOnlyList<long>? versions;

    private SeenOrNew(string ifMatch)
    {
        said = ifMatch.Length > 0;
        versions = said ? EntityTag.VersionsOf(ifMatch) : [];
    }

    /// <summary>Null when the state seen is this one, else the answer: 428 where nothing was said of what is there, 412 where it is another.</summary>
    /// <param name="version">Null where there is nothing yet.</param>
    public ProblemHttpResult? RefusalUnless(long? version) =>
        version is { } there
            ? !said ? Problems.Of(ProblemCatalogue.IfMatchNeeded, "There is one already, and the header If-Match is missing.", ("version", there))
            : versions is null || versions.Contains(there) ? null
            : Problems.Of(ProblemCatalogue.ChangedMeanwhile, "The state that was seen is no longer the present one.", ("version", there))
        : said ? Problems.Of(ProblemCatalogue.ChangedMeanwhile, "There is none yet; what is new is saved without If-Match.")
        : null;

    public static ValueTask<SeenOrNew?> BindAsync(HttpContext context, ParameterInfo parameter) =>
        ValueTask.FromResult<SeenOrNew?>(new SeenOrNew(context.Request.Headers.IfMatch.ToString()));

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new NeedsIfMatch(UnlessNew: true));
}

/// <summary>The endpoint needs an If-Match.</summary>
/// <param name="UnlessNew">Not for what is not there yet.</param>
public sealed record NeedsIfMatch(bool UnlessNew = false);
