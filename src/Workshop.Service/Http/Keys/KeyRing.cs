using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Keys;

/// <summary>Finds the caller behind a key, and remembers when which key was used.</summary>
public sealed class KeyRing(ApiKeys keys, IClock clock)
{
    // Ours are shorter; a longer text is no key and not worth a look.
    private const int KeyAtMost = 200;

    /// <returns>null: nobody has this key, or it is revoked.</returns>
    /// <exception cref="StorageUnavailableException">The keys cannot be read.</exception>
    public async ValueTask<Caller?> Find(string key, CancellationToken cancel)
    {
        if (key.Length > KeyAtMost || await keys.Find(key, cancel) is not { } found || Word.Read<Role>(found.Role) is not { } role)
        {
            return null;
        }

        keys.Use(found, clock.GetCurrentInstant());
        return new Caller { Site = found.Site, KeyId = found.Id, Role = role, Source = found.Source, Bench = found.Bench };
    }
}
