using NodaTime;
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
        if (key.Length > KeyAtMost || await keys.Find(key, cancel) is not { } found || Caller.Behind(found) is not { } caller)
        {
            return null;
        }

        keys.Use(found, clock.GetCurrentInstant());
        return caller;
    }
}
