namespace Workshop.Service.Storage;

/// <summary>Where the workshop's memory is kept.</summary>
public enum StorageEngine
{
    Sqlite,
    Postgres,
}

/// <summary>Section <c>Storage</c> of the settings.</summary>
public sealed record StorageSettings
{
    /// <summary><c>sqlite</c> (default) for one process on one machine, or <c>postgres</c>.</summary>
    public StorageEngine Engine { get; init; } = StorageEngine.Sqlite;

    /// <summary>For SQLite: the directory that holds the database and its lock; made when it is missing. Default <c>data</c>.</summary>
    public string Path { get; init; } = "data";

    /// <summary>For PostgreSQL: a connection string, such as <c>Host=127.0.0.1;Username=workshop;Database=workshop</c>.</summary>
    public string? Postgres { get; init; }

    /// <summary>Connections that read at the same time, 1 to 64; default 4.</summary>
    public int Readers { get; init; } = 4;

    /// <summary>What is wrong with these settings, a sentence each naming the setting, its value and what is allowed.</summary>
    public IEnumerable<string> Faults()
    {
        if (Engine == StorageEngine.Postgres && string.IsNullOrWhiteSpace(Postgres))
        {
            yield return "Storage:Postgres is empty; with Storage:Engine postgres it is a connection string such as Host=127.0.0.1;Username=workshop;Database=workshop.";
        }

        if (Engine == StorageEngine.Sqlite && string.IsNullOrWhiteSpace(Path))
        {
            yield return "Storage:Path is empty; with Storage:Engine sqlite it is the directory that holds the database.";
        }

        if (Readers is < 1 or > 64)
        {
            yield return $"Storage:Readers is {Readers}; allowed are 1 to 64 connections.";
        }
    }
}

/// <summary>Of section <c>Events</c>: how much the writer takes on.</summary>
public sealed record WriterSettings
{
    /// <summary>Requests that may wait for the writer before new ones are turned away, 1 to 100000; default 1024.</summary>
    public int QueueLength { get; init; } = 1024;

    /// <summary>Folded jobs kept in memory, 2 to 1000000; default 2000.</summary>
    public int JobsInMemory { get; init; } = 2000;

    public IEnumerable<string> Faults()
    {
        if (QueueLength is < 1 or > 100_000)
        {
            yield return $"Events:QueueLength is {QueueLength}; allowed are 1 to 100000 requests.";
        }

        if (JobsInMemory is < 2 or > 1_000_000)
        {
            yield return $"Events:JobsInMemory is {JobsInMemory}; allowed are 2 to 1000000 jobs.";
        }
    }
}

/// <summary>Section <c>Shop</c>: what a new database begins with. Later the database alone knows it.</summary>
public sealed record ShopSettings
{
    /// <summary>IANA name of the workshop's time zone; default <c>Europe/Zurich</c>.</summary>
    public string TimeZone { get; init; } = "Europe/Zurich";

    /// <summary>The name of the first site.</summary>
    public string Name { get; init; } = "Workshop";

    public IEnumerable<string> Faults()
    {
        if (NodaTime.DateTimeZoneProviders.Tzdb.GetZoneOrNull(TimeZone) is null)
        {
            yield return $"Shop:TimeZone is '{TimeZone}'; allowed are the names of the IANA time zone database, such as Europe/Zurich.";
        }
    }
}
