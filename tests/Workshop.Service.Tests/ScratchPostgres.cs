using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Npgsql;

namespace Workshop.Service.Tests;

/// <summary>
/// A PostgreSQL server made for one use from the installed binaries: own folder, own port on the loopback address,
/// and the durability a shop would have (fsync stays on), on the medium of all that tests throw away. It ends with whoever started it,
/// however that ended.
/// </summary>
public sealed class ScratchPostgres : IAsyncDisposable
{
    private const string WhereDebianPutsIt = "/usr/lib/postgresql";
    private const string ServerUser = "postgres";

    // Debian and its kin have had version 15 since 2023; the word order asked for below came with it.
    private const int OldestVersion = 15;

    private static readonly TimeSpan StartingTakesAtMost = TimeSpan.FromMinutes(2);
    private static readonly TimeSpan StoppingTakesAtMost = TimeSpan.FromSeconds(30);

    /// <remarks>
    /// The keeper waits on its input. That closes when the tests end, be it by kill -9, which no exit handler
    /// would survive; so neither a server nor a folder is left behind. Arguments: folder of the binaries, port, where to make its own folder.
    /// The first line of input is the password, which thereby shows in no list of processes.
    /// Texts are sorted by language, as most installations do: a query that leans on the byte order which SQLite
    /// happens to have gives itself away.
    /// </remarks>
    private const string Keeper = """
        trap '' INT TERM HUP
        umask 077
        bin=$1 port=$2 medium=$3
        read -r password
        scratch=$(mktemp -d "$medium/workshop-postgres.XXXXXX") || exit 1
        cd "$scratch" || exit 1
        echo "$password" > password

        give_up() { cat "$1"; cd /; rm -rf "$scratch"; exit 1; }

        "$bin/initdb" --pgdata=data --username=workshop --pwfile=password --auth=scram-sha-256 \
            --encoding=UTF8 --locale=C.UTF-8 --locale-provider=icu --icu-locale=en-US > made.log 2>&1 || give_up made.log
        {
            echo "port = $port"
            echo "listen_addresses = '127.0.0.1'"
            echo "unix_socket_directories = '$scratch'"
            echo "max_connections = 200"
            echo "max_wal_size = 256MB"
        } >> data/postgresql.conf
        "$bin/pg_ctl" --pgdata=data --log=server.log --wait start > start.log 2>&1 || give_up server.log

        echo "ready $scratch"
        cat > /dev/null

        "$bin/pg_ctl" --pgdata=data --mode=immediate --wait stop > /dev/null 2>&1
        cd /
        rm -rf "$scratch"
        """;

    private readonly Process keeper;

    private ScratchPostgres(Process keeper, string folder, string connectionString)
    {
        this.keeper = keeper;
        Folder = folder;
        ConnectionString = connectionString;
    }

    /// <summary>Where the server keeps everything; gone once it has stopped.</summary>
    public string Folder { get; }

    /// <summary>For Npgsql, as a user who may do anything in this server.</summary>
    public string ConnectionString { get; }

    /// <summary>Makes a server and waits until it takes connections.</summary>
    /// <exception cref="InvalidOperationException">It did not start; the message says what to do or what the server said.</exception>
    public static async Task<ScratchPostgres> Start()
    {
        var binaries = FindBinaries();

        // Between the choice of a port and the server's taking it somebody else may have taken it.
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await Start(binaries, FreePort());
            }
            catch (InvalidOperationException failure) when (attempt < 3 && failure.Message.Contains("could not bind"))
            {
            }
        }
    }

    private static async Task<ScratchPostgres> Start(string binaries, int port)
    {
        var password = RandomNumberGenerator.GetHexString(32, lowercase: true);
        var keeper = Process.Start(KeeperOf(binaries, port))
            ?? throw new InvalidOperationException("The keeper of the test server did not start.");
        await keeper.StandardInput.WriteLineAsync(password);
        await keeper.StandardInput.FlushAsync();

        using var patience = new CancellationTokenSource(StartingTakesAtMost);
        var said = new List<string>();
        while (await keeper.StandardOutput.ReadLineAsync(patience.Token) is { } line)
        {
            if (line.StartsWith("ready ", StringComparison.Ordinal))
            {
                var connection = new NpgsqlConnectionStringBuilder
                {
                    Host = IPAddress.Loopback.ToString(),
                    Port = port,
                    Username = "workshop",
                    Password = password,
                    Database = "postgres",
                };
                return new ScratchPostgres(keeper, line["ready ".Length..], connection.ConnectionString);
            }

            said.Add(line);
        }

        said.Add(await keeper.StandardError.ReadToEndAsync(patience.Token));
        throw new InvalidOperationException($"PostgreSQL did not start: {string.Join('\n', said).Trim()}");
    }

    /// <remarks>PostgreSQL refuses to run as root, so root lends it to the user that its package has made.</remarks>
    private static ProcessStartInfo KeeperOf(string binaries, int port)
    {
        string[] asServerUser = Environment.IsPrivilegedProcess ? [Runuser(), "-u", ServerUser, "--"] : [];
        return new ProcessStartInfo("setsid", [.. asServerUser, "sh", "-c", Keeper, "keeper", binaries, $"{port}", ScratchFolder.Medium])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = "/",
        };
    }

    // It is in a folder that is not on the path of everyone who became root.
    private static string Runuser() => File.Exists("/usr/sbin/runuser") ? "/usr/sbin/runuser" : "runuser";

    private static string FindBinaries()
    {
        var newest = !Directory.Exists(WhereDebianPutsIt) ? null : Directory.GetDirectories(WhereDebianPutsIt)
            .Select(folder => (Binaries: Path.Combine(folder, "bin"), Version: VersionOf(folder)))
            .Where(found => found.Version >= OldestVersion && File.Exists(Path.Combine(found.Binaries, "initdb")))
            .OrderByDescending(found => found.Version)
            .Select(found => found.Binaries)
            .FirstOrDefault();

        return newest ?? throw new InvalidOperationException(
            $"These tests need PostgreSQL {OldestVersion} or later: install it (Debian, Ubuntu: apt-get install postgresql), "
            + $"or name a server whose user may create databases in {PostgresServer.Variable}.");
    }

    private static int VersionOf(string folder) =>
        int.TryParse(Path.GetFileName(folder), out var version) ? version : 0;

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, port: 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>Stops the server and waits until its folder is gone.</summary>
    public async ValueTask DisposeAsync()
    {
        keeper.StandardInput.Close();
        using var patience = new CancellationTokenSource(StoppingTakesAtMost);
        await keeper.WaitForExitAsync(patience.Token);
        keeper.Dispose();
    }
}
