namespace Workshop.Service.Storage;

/// <summary>The writer has more waiting than it may have; the caller tries again later (503 with <c>Retry-After</c>).</summary>
public sealed class WriterBusyException(int waiting)
    : Exception($"{waiting} requests wait for the writer already; try again in a moment.");

/// <summary>The database cannot be reached or cannot take a write just now; the same request may be sent again (503).</summary>
public sealed class StorageUnavailableException(Exception cause)
    : Exception("The database cannot take this now; send the same again in a moment.", cause);

/// <summary>The database is not as this program needs it; the message is one sentence for whoever starts it.</summary>
public sealed class StorageNotReadyException(string message, Exception? cause = null) : Exception(message, cause);
