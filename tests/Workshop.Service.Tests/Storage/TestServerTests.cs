using System.Net.Sockets;
using Npgsql;

namespace Workshop.Service.Tests.Storage;

/// <summary>What every other test of the storage takes for granted about the server it runs against.</summary>
public class TestServerTests
{
    [Fact]
    public async Task What_one_test_writes_no_other_test_sees()
    {
        await using var one = await PostgresDatabase.Create();
        await using var other = await PostgresDatabase.Create();

        await Answer(one, "CREATE TABLE bench (name text NOT NULL)");

        Assert.Equal(true, await Answer(one, "SELECT to_regclass('bench') IS NOT NULL"));
        Assert.Equal(false, await Answer(other, "SELECT to_regclass('bench') IS NOT NULL"));
    }

    [Fact]
    public async Task What_is_committed_is_on_the_disk()
    {
        await using var database = await PostgresDatabase.Create();

        Assert.Equal("on", await Answer(database, "SHOW fsync"));
        Assert.Equal("on", await Answer(database, "SHOW synchronous_commit"));
        Assert.Equal("on", await Answer(database, "SHOW full_page_writes"));
    }

    [Fact]
    public async Task A_server_made_for_a_run_leaves_nothing_behind()
    {
        var server = await ScratchPostgres.Start();
        await using (var connection = new NpgsqlConnection(server.ConnectionString))
        {
            await connection.OpenAsync();
            Assert.True(Directory.Exists(server.Folder));
            NpgsqlConnection.ClearPool(connection);
        }

        await server.DisposeAsync();

        Assert.False(Directory.Exists(server.Folder));
        var port = new NpgsqlConnectionStringBuilder(server.ConnectionString).Port;
        using var caller = new TcpClient();
        await Assert.ThrowsAsync<SocketException>(() => caller.ConnectAsync("127.0.0.1", port));
    }

    private static async Task<object?> Answer(PostgresDatabase database, string statement)
    {
        await using var connection = new NpgsqlConnection(database.ConnectionString);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(statement, connection);
        return await command.ExecuteScalarAsync();
    }
}
