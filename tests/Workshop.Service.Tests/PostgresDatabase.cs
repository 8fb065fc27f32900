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

    /// <summary>For Npgsql and for the service's settings.</summary>
    public string ConnectionString =>
        connectionString ?? throw new InvalidOperationException("The database has not been created yet.");

    public static async Task<PostgresDatabase> Create()
    {
        var database = new PostgresDatabase();
        await database.InitializeAsync();
        return database;
    }

    public async Task InitializeAsync()
    {
        var server = await PostgresServer.ConnectionString();
        await Execute(server, $"CREATE DATABASE {name}");
        connectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
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
