using System.Security.Cryptography;
using Npgsql;

namespace Workshop.Service.Tests;

/// <summary>
/// An empty database of its own in the test run's server: for a class of tests as its fixture, or within one test by
/// <c>await using var database = await PostgresDatabase.Create();</c>.
/// </summary>
public sealed class PostgresDatabase : IAsyncLifetime
{
    private readonly string name = $"workshop_test_{RandomNumberGenerator.GetHexString(16, lowercase: true)}";
    private string? connectionString;
    private string? template;

    /// <summary>For Npgsql and for the service's settings.</summary>
    public string ConnectionString =>
        connectionString ?? throw new InvalidOperationException("The database has not been created yet.");

    public static async Task<PostgresDatabase> Create()
    {
        var database = new PostgresDatabase();
        await database.InitializeAsync();
        return database;
    }

    /// <summary>A copy of this one, which nobody may be connected to meanwhile.</summary>
    public async Task<PostgresDatabase> Copy()
    {
        var copy = new PostgresDatabase { template = name };
        await copy.InitializeAsync();
        return copy;
    }

    /// <summary>Nobody is connected any longer, and nobody can be.</summary>
    public async Task Close()
    {
        var server = await PostgresServer.ConnectionString();
        await Execute(server, $"ALTER DATABASE {name} WITH ALLOW_CONNECTIONS false");
        await Execute(server, $"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = '{name}'");
    }

    public async Task InitializeAsync()
    {
        var server = await PostgresServer.ConnectionString();
        await Execute(server, template is null ? $"CREATE DATABASE {name}" : $"CREATE DATABASE {name} TEMPLATE {template} STRATEGY file_copy");
        connectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
    }

    /// <summary>For the end of the process: a server made for the run goes with all it has, one that was named stays.</summary>
    public void DropIfServerStays()
    {
        if (Environment.GetEnvironmentVariable(PostgresServer.Variable) is { Length: > 0 } server)
        {
            using var connection = new NpgsqlConnection(server);
            connection.Open();
            using var command = new NpgsqlCommand($"DROP DATABASE IF EXISTS {name} WITH (FORCE)", connection);
            command.ExecuteNonQuery();
        }
    }

    /// <summary>Drops the database, also from under connections that are still open.</summary>
    public async Task DisposeAsync()
    {
        await using (var open = new NpgsqlConnection(ConnectionString))
        {
            NpgsqlConnection.ClearPool(open);
        }

        await Execute(await PostgresServer.ConnectionString(), $"DROP DATABASE {name} WITH (FORCE)");
    }

    private static async Task Execute(string server, string statement)
    {
        await using var connection = new NpgsqlConnection(server);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(statement, connection);
        await command.ExecuteNonQueryAsync();
    }
}
