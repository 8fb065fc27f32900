namespace Workshop.Service.Tests;

/// <summary>
/// The PostgreSQL server of this test run: the one named in the environment, else one made for the run. Without either
/// the tests that ask for it fail and say what to install; none is passed over in silence.
/// </summary>
public static class PostgresServer
{
    /// <summary>
    /// A connection string for Npgsql, such as <c>Host=127.0.0.1;Port=5432;Username=workshop;Password=…;Database=workshop</c>,
    /// of a user who may create databases.
    /// </summary>
    public const string Variable = "WORKSHOP_TEST_POSTGRES";

    private static readonly Lazy<Task<string>> Found = new(Find);

    // Held for as long as the run lasts: once collected, it would close its keeper's input, and with that the server.
    private static ScratchPostgres? made;

    /// <summary>How to reach the server; each test works in a <see cref="PostgresDatabase"/> of its own.</summary>
    /// <exception cref="InvalidOperationException">There is none; the message says what to install.</exception>
    public static Task<string> ConnectionString() => Found.Value;

    // Nobody stops the server made here: it lasts as long as the run and sees for itself when that is over.
    private static async Task<string> Find() =>
        Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } named
            ? named
            : (made = await ScratchPostgres.Start()).ConnectionString;
}
