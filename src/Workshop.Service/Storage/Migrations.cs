using System.Data.Common;
using System.Reflection;
using Dapper;
using DbUp;
using DbUp.Engine;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>Brings the database to the shape this program needs: numbered scripts, a pair for the two engines; then the first site; then the fold.</summary>
public sealed partial class Migrations(Database database, IClock clock, ShopSettings shop, ILogger<Migrations> log)
{
    /// <summary>The site of a workshop that has one.</summary>
    public const string FirstSite = "main";

    /// <summary>Jobs refolded in one transaction.</summary>
    private const int AtOnce = 100;

    private const string NewSiteSql = """
        insert into site (id, name, time_zone, last_position, last_hash)
        values (@id, @name, @time_zone, 0, @last_hash)
        on conflict (id) do nothing
        """;

    private const string SitesSql = """
        select id
        from site
        order by id
        """;

    private const string OlderFoldsSql = """
        select label
        from job
        where site = @site
          and fold_version < @fold_version
        order by label
        limit @limit
        """;

    private const string HasDocumentsSql = """
        select count(*)
        from shop_document
        where site = @site
        """;

    // One instance migrates, the others wait for it: any number that nobody else uses.
    private const string WaitForOthersSql = "select pg_advisory_lock(5301977463)";
    private const string LetOthersGoOnSql = "select pg_advisory_unlock(5301977463)";

    /// <summary>Runs whatever has not run yet. Does nothing to a database that is up to date; never writes to the journal of a site that has one.</summary>
    /// <exception cref="StorageNotReadyException">Another process works here, or a script failed.</exception>
    public void Run()
    {
        if (shop.Faults().FirstOrDefault() is { } fault)
        {
            throw new StorageNotReadyException(fault);
        }

        database.TakeLock();
        using var connection = database.OpenWriter();
        if (database.Engine == StorageEngine.Sqlite)
        {
            Run(connection);
            return;
        }

        connection.Execute(WaitForOthersSql);
        try
        {
            Run(connection);
        }
        finally
        {
            // Said, not left to the end of the connection: that one only goes back to its pool.
            connection.Execute(LetOthersGoOnSql);
        }
    }

    /// <exception cref="StorageNotReadyException">It was never migrated, or a script is missing.</exception>
    internal static void MustBeUpToDate(Database database)
    {
        if (database.Engine == StorageEngine.Sqlite && !File.Exists(database.FilePath))
        {
            throw new StorageNotReadyException($"There is no database at '{Path.GetFullPath(database.FilePath)}' yet; run the sub-command migrate first.");
        }

        if (Scripts(database).GetScriptsToExecute() is [var missing, ..])
        {
            throw new StorageNotReadyException($"The database lacks the script {missing.Name}; run the sub-command migrate first.");
        }
    }

    /// <summary>The scripts of an engine in order, by their names without the engine: <c>0001_first</c>.</summary>
    public static IReadOnlyList<string> Names(StorageEngine engine) =>
        [.. typeof(Migrations).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Prefix(engine), StringComparison.Ordinal))
            .Select(name => Path.GetFileNameWithoutExtension(name[Prefix(engine).Length..]))
            .Order(StringComparer.Ordinal)];

    private void Run(DbConnection connection)
    {
        var result = Scripts(database).PerformUpgrade();
        if (!result.Successful)
        {
            throw new StorageNotReadyException($"The database could not be brought up to date: {result.Error.Message}", result.Error);
        }

        foreach (var script in result.Scripts)
        {
            ScriptRan(script.Name);
        }

        connection.Execute(NewSiteSql, new { id = FirstSite, name = shop.Name, time_zone = shop.TimeZone, last_hash = ChainHash.Beginning });
        using var session = new WriterSession(database, clock, jobsInMemory: 2 * AtOnce);
        foreach (var site in connection.Query<string>(SitesSql).AsList())
        {
            Do(session, site, SeedDocuments);
            while (Do(session, site, turn => GramTable.FillSome(turn, AtOnce)) is var takenApart and > 0)
            {
                NamesTakenApart(site, takenApart);
            }

            while (Do(session, site, RefoldSome) is var refolded and > 0)
            {
                JobsRefolded(site, refolded);
            }
        }
    }

    private static bool SeedDocuments(Turn turn)
    {
        if (turn.QueryFirst<long>(HasDocumentsSql, new { site = turn.Site }) == 0)
        {
            ShopDocuments.PutDefaults(turn);
        }

        return true;
    }

    private static int RefoldSome(Turn turn)
    {
        var older = turn.Query<string>(OlderFoldsSql, new { site = turn.Site, fold_version = JobDocument.FoldVersion, limit = AtOnce });
        foreach (var label in older)
        {
            turn.Refold(Core.Labels.Label.Read(label));
        }

        return older.Count;
    }

    private static T Do<T>(WriterSession session, string site, Func<Turn, T> work)
    {
        var request = new TurnRequest<T>(site, work, CancellationToken.None);
        session.Run(request, _ => null);

        // It is finished: without a queue there is nothing to wait for.
        return request.Done.GetAwaiter().GetResult();
    }

    private static UpgradeEngine Scripts(Database database)
    {
        var target = database.Engine == StorageEngine.Sqlite
            ? DeployChanges.To.SqliteDatabase(database.ConnectionString)
            : DeployChanges.To.PostgresqlDatabase(database.ConnectionString);
        return target
            .WithScriptsEmbeddedInAssembly(Assembly.GetExecutingAssembly(), name => name.StartsWith(Prefix(database.Engine), StringComparison.Ordinal))
            .WithTransactionPerScript()
            .WithVariablesDisabled()
            .LogToNowhere()
            .Build();
    }

    private static string Prefix(StorageEngine engine) => $"Migrations/{Core.Words.Word.Of(engine)}/";

    [LoggerMessage(Level = LogLevel.Information, Message = "The database has had the script {Script}.")]
    private partial void ScriptRan(string script);

    [LoggerMessage(Level = LogLevel.Information, Message = "{Rows} customers and watches of the site {Site} were made ready to be searched for.")]
    private partial void NamesTakenApart(string site, int rows);

    [LoggerMessage(Level = LogLevel.Information, Message = "{Jobs} jobs of the site {Site} were folded anew.")]
    private partial void JobsRefolded(string site, int jobs);
}
