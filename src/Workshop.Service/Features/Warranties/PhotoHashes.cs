using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Service.Features.Warranties;

/// <summary>Photos named by the hashes of their bytes; one that has not come yet may be named.</summary>
internal static class PhotoHashes
{
    private const int Length = 64;

    public static IEnumerable<Fault> Faults(ImmutableArray<string>? photos) => (photos ?? []).Index()
        .Where(one => one.Item is not { Length: Length } hash || hash.Any(c => !char.IsAsciiHexDigitLower(c)))
        .Select(one => new Fault($"/photos/{one.Index}", "A photo is named by its SHA-256, 64 small hexadecimal digits"));
}
