using System.Data.Common;
using System.Reflection;
using System.Text.RegularExpressions;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

/// <summary>Each statement of the program is shown to both engines: one text for two databases is a promise to be kept.</summary>
public partial class StatementsTests
{
    private static readonly string[] Verbs = ["select", "insert", "update", "delete", "with"];

    // Said to one engine only; the reason stands where it is.
    private static readonly string[] PostgresAlone = ["WaitForOthersSql", "LetOthersGoOnSql"];

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
    public async Task Both_engines_understand_each_statement(string name, string text)
    {
        var both = await Shared.Value;
        if (!PostgresAlone.Any(alone => name.EndsWith(alone, StringComparison.Ordinal)))
        {
            await Explain(both.Sqlite, text);
        }

        await Explain(both.Postgres, text);
    }

    [Theory, MemberData(nameof(Statements))]
    public void Each_statement_names_its_site(string name, string text)
    {
        // A label is unique over all sites, a key's hash too; the list of sites and the migration's wait are about none.
        string[] aboutAllSites = ["Labels.FindSql", "ApiKeys.FindSql", "Migrations.SitesSql", "CheckJournal.SitesSql", "Migrations.WaitForOthersSql", "Migrations.LetOthersGoOnSql", "Migrations.NewSiteSql"];

        Assert.True(aboutAllSites.Contains(name) || text.Contains("@site", StringComparison.Ordinal), name);
    }

    [Theory, MemberData(nameof(Statements))]
    public void No_statement_reads_the_databases_clock_or_all_columns(string name, string text) =>
        Assert.False(Careless().IsMatch(text), $"{name}: {text}");

    private static readonly Lazy<Task<(TestStorage Sqlite, TestStorage Postgres)>> Shared =
        new(async () => (await TestStorage.Create(StorageEngine.Sqlite), await TestStorage.Create(StorageEngine.Postgres)));

    private static async Task Explain(TestStorage storage, string text) => await storage.Writer.Turn(TestStorage.Site, turn =>
    {
        using var connection = storage.Database.OpenShortWriter();
        using var command = connection.CreateCommand();
        command.CommandText = $"explain {text}";
        foreach (var name in Parameters().Matches(text).Select(match => match.Value).Distinct())
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = name;
            parameter.Value = DBNull.Value;
            command.Parameters.Add(parameter);
        }

        using var reader = command.ExecuteReader();
        Assert.True(reader.Read());
    });

    private static IEnumerable<(string Name, string Text)> Found() =>
        from type in typeof(Database).Assembly.GetTypes()
        from field in type.GetFields(BindingFlags.Static | BindingFlags.NonPublic | BindingFlags.Public | BindingFlags.DeclaredOnly)
        where field is { IsLiteral: true } && field.FieldType == typeof(string)
        let text = (string)field.GetRawConstantValue()!
        where Verbs.Any(verb => text.StartsWith(verb + " ", StringComparison.Ordinal) || text.StartsWith(verb + "\n", StringComparison.Ordinal))
        orderby type.Name, field.Name
        select ($"{type.Name}.{field.Name}", text);

    [GeneratedRegex(@"@\w+")]
    private static partial Regex Parameters();

    [GeneratedRegex(@"\bnow\(|current_timestamp|datetime\(|strftime|select \*|\.\*", RegexOptions.IgnoreCase)]
    private static partial Regex Careless();
}
