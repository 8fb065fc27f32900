using System.Data.Common;
using System.Reflection;
using System.Text.RegularExpressions;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

/// <summary>Each statement of the program is shown to both engines: one text for two databases is a promise to be kept.</summary>
public partial class StatementsTests(StatementsTests.Engines engines) : IClassFixture<StatementsTests.Engines>
{
    private static readonly string[] Verbs = ["select", "insert", "update", "delete", "with"];

    // Said to one engine only; the reason stands where it is.
    private static readonly string[] PostgresAlone = ["WaitForOthersSql", "LetOthersGoOnSql"];

    private static readonly string[] SqliteAlone = ["HasSitesSql"];

    public static TheoryData<string, string> Statements
    {
        get
        {
            var all = new TheoryData<string, string>();
            foreach (var (name, text) in Found())
            {
                all.Add(name, text);
            }

            return all;
        }
    }

    [Fact]
    public void The_statements_are_found()
    {
        var found = Found().Select(one => one.Name).ToList();

        Assert.True(found.Count >= 40, $"only {found.Count} found");
        Assert.Contains("JournalTable.InsertEntrySql", found);
        Assert.Contains("Turn.OtherJobSql", found);
    }

    [Theory, MemberData(nameof(Statements))]
    public void Both_engines_understand_each_statement(string name, string text)
    {
        if (!IsOneOf(PostgresAlone, name))
        {
            Explain(engines.Sqlite, text);
        }

        if (!IsOneOf(SqliteAlone, name))
        {
            Explain(engines.Postgres, text);
        }
    }

    [Theory, MemberData(nameof(Statements))]
    public void Each_statement_names_its_site(string name, string text)
    {
        // A label is unique over all sites, and so is the hash of a key, a page, a feed, a ticket or a secret; six digits lead to theirs; waiting for another migration is about none, nor is whether there are tables.
        string[] aboutAllSites =
        [
            "DemoFolder.HasSitesSql", "Labels.FindSql", "ApiKeys.FindSql", "PairingStore.OpenSql", "Migrations.NewSiteSql", "Migrations.WaitForOthersSql",
            "Migrations.LetOthersGoOnSql", "PublicLinkStore.OfHashSql", "StreamTickets.FindSql", "SealKeyStore.OfIdSql", "SealKeyStore.ListSql", "FeedStore.OfTokenSql",
            "StorefrontStore.SecretsInForceSql",
        ];

        Assert.True(aboutAllSites.Contains(name) || OfTheSitesThemselves().IsMatch(text) || text.Contains("@site", StringComparison.Ordinal), name);
    }

    [Theory, MemberData(nameof(Statements))]
    public void No_statement_reads_the_databases_clock_or_all_columns(string name, string text) =>
        Assert.False(Careless().IsMatch(text), $"{name}: {text}");

    [Theory, MemberData(nameof(Statements))]
    public void No_statement_reads_through_all_rows_of_a_site_unless_it_means_to(string name, string text)
    {
        // All keys, all open jobs, all checks that run, all that is in the house, all that is due, all causes ever found behind stops, how far letters were read, the one key of their links, all recordings that wait, all that waits at endpoints, all endpoints that messages go to, a page of a search by anything; and what looks at a table as a whole, at a start or in a check.
        string[] meansTo =
        [
            "ApiKeys.ListSql", "Turn.OpenJobsSql", "WhereaboutsStore.InHouseSql", "AgendaStore.ListSql", "RunningChecks.JobsSql", "IdempotencyStore.ForgetRunningSql",
            "HeldEvents.NextReleaseSql", "Migrations.HasDocumentsSql", "Migrations.OlderFoldsSql", "CheckJournal.RowsWithoutJobSql", "CheckJournal.LabelsSql", "ProofStore.AnySql",
            "GramTable.OlderNamesSql", "GramTable.OlderNumbersSql", "RunTable.AllSql", "StopCauses.OfShopSql", "RateRows.SeriesSql", "LetterStore.ReadToSql", "PublicLinkStore.KeySql", "StandingFigures.DeliveriesSql", "FeedStore.ListSql",
            "SealKeyStore.NewestSql", "SealKeyStore.RetireSql", "SealKeyStore.ListSql", "AgendaStore.AllSql", "ErasureStore.ForgetRefusedSql", "ErasureStore.ForgetAnswersSql", "ErasureStore.ForgetLettersSql",
            "ErasureStore.DueSql", "WebhookStore.EnabledSql", "WebhookStore.CountSql", "HouseAgenda.StoppedSql", "StorefrontStore.AllSql", "StorefrontStore.SecretsInForceSql",
            "StorefrontStore.EndSecretsSql", "ExpectedWatches.WaitedForSql", "ExpectedWatches.FlaggedSql", "MessageStore.OpenOfOrderSql", "MessageStore.OpenOfCustomerSql", "RecordingStore.WaitingSql", "StandingFigures.RecordingsSql",
        ];
        if (IsOneOf(PostgresAlone, name) || IsOneOf(SqliteAlone, name) || OfTheSitesThemselves().IsMatch(text) || meansTo.Contains(name))
        {
            return;
        }

        var plan = PlanOfSqlite(text);

        // Candidates are what a statement has narrowed to a few itself.
        Assert.DoesNotContain(plan, step => (step.StartsWith("SCAN", StringComparison.Ordinal) && step is not ("SCAN candidates" or "SCAN said" or "SCAN CONSTANT ROW")) || step.EndsWith("(site=?)", StringComparison.Ordinal));
    }

    private static bool IsOneOf(string[] statements, string name) => statements.Any(one => name.EndsWith($".{one}", StringComparison.Ordinal));

    // Each line of the plan as SQLite words it: SEARCH job USING INDEX job_stage (site=? AND stage=?).
    private List<string> PlanOfSqlite(string text)
    {
        using var connection = engines.Sqlite.Database.OpenShortWriter();
        using var command = Asking(connection, $"explain query plan {text}");
        using var reader = command.ExecuteReader();
        var steps = new List<string>();
        while (reader.Read())
        {
            steps.Add(reader.GetString(3));
        }

        return steps;
    }

    private static void Explain(TestStorage storage, string text)
    {
        using var connection = storage.Database.OpenShortWriter();
        using var command = Asking(connection, $"explain {text}");
        using var reader = command.ExecuteReader();
        Assert.True(reader.Read());
    }

    private static DbCommand Asking(DbConnection connection, string text)
    {
        var command = connection.CreateCommand();
        command.CommandText = text;
        foreach (var name in Parameters().Matches(text).Select(match => match.Value).Distinct())
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = name;
            parameter.Value = DBNull.Value;
            command.Parameters.Add(parameter);
        }

        return command;
    }

    private static IEnumerable<(string Name, string Text)> Found() =>
        from type in typeof(Database).Assembly.GetTypes()
        from field in type.GetFields(BindingFlags.Static | BindingFlags.NonPublic | BindingFlags.Public | BindingFlags.DeclaredOnly)
        where field is { IsLiteral: true } && field.FieldType == typeof(string)
        let text = (string)field.GetRawConstantValue()!
        where Verbs.Any(verb => text.StartsWith(verb + " ", StringComparison.Ordinal) || text.StartsWith(verb + "\n", StringComparison.Ordinal))
        orderby type.Name, field.Name
        select ($"{type.Name}.{field.Name}", text);

    /// <summary>One migrated database on each engine for all of these.</summary>
    public sealed class Engines : IAsyncLifetime
    {
        public TestStorage Sqlite { get; private set; } = null!;

        public TestStorage Postgres { get; private set; } = null!;

        public async Task InitializeAsync()
        {
            Sqlite = await TestStorage.Create(StorageEngine.Sqlite);
            Postgres = await TestStorage.Create(StorageEngine.Postgres);
        }

        public async Task DisposeAsync()
        {
            await Sqlite.DisposeAsync();
            await Postgres.DisposeAsync();
        }
    }

    [GeneratedRegex(@"\Aselect [^\n]+\nfrom site\b")]
    private static partial Regex OfTheSitesThemselves();

    [GeneratedRegex(@"@\w+")]
    private static partial Regex Parameters();

    [GeneratedRegex(@"\bnow\(|current_timestamp|datetime\(|strftime|select \*|\.\*", RegexOptions.IgnoreCase)]
    private static partial Regex Careless();
}
