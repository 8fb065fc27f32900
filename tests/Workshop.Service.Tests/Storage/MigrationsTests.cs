using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Tests.Storage;

public class MigrationsTests
{
    [Fact]
    public void Both_engines_have_the_same_scripts_by_number()
    {
        var sqlite = Migrations.Names(StorageEngine.Sqlite);

        Assert.NotEmpty(sqlite);
        Assert.Equal(sqlite, Migrations.Names(StorageEngine.Postgres));
        Assert.Equal(Enumerable.Range(1, sqlite.Count).Select(i => $"{i:0000}"), sqlite.Select(name => name[..4]));
    }

    [Fact]
    public async Task Both_engines_have_the_same_tables_and_columns()
    {
        await using var sqlite = await TestStorage.Create(StorageEngine.Sqlite);
        await using var postgres = await TestStorage.Create(StorageEngine.Postgres);

        var one = await sqlite.Reader.Query<string>("""
            select t.name || '.' || c.name || ' ' || lower(c.type) || ' ' || c."notnull"
            from pragma_table_list as t, pragma_table_info(t.name) as c
            where t.schema = 'main'
              and t.name not like 'sqlite_%'
              and t.name <> 'SchemaVersions'
            """);
        var other = await postgres.Reader.Query<string>("""
            select table_name || '.' || column_name || ' ' || replace(replace(data_type, 'bigint', 'integer'), 'bytea', 'blob')
                   || ' ' || case is_nullable when 'NO' then '1' else '0' end
            from information_schema.columns
            where table_schema = 'public'
              and table_name <> 'schemaversions'
            """);

        Assert.NotEmpty(one);
        Assert.Equal(one.Order(StringComparer.Ordinal), other.Order(StringComparer.Ordinal));
    }

    [Theory, BothEngines]
    public async Task A_new_database_begins_with_a_calendar_and_every_kind_of_work(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var rules = await storage.Writer.Turn(TestStorage.Site, turn => turn.Rules);

        Assert.Equal("Europe/Zurich", rules.Calendar.Zone.Id);
        Assert.Equal([.. VariantDocument.ClosedList.Order(StringComparer.Ordinal), "x-partial-repair"], rules.Routes.Keys.Order(StringComparer.Ordinal));
        Assert.True(rules.Version > 0);
        Assert.Empty(storage.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Migrating_again_changes_nothing(StorageEngine engine)
    {
        await using var storage = await TestStorage.CreateEmpty(engine);
        storage.Migrate();
        var before = storage.Check().Entries;

        storage.Migrate();

        Assert.True(before > 0);
        Assert.Equal(before, storage.Check().Entries);
    }

    [Theory, BothEngines]
    public async Task Jobs_that_older_code_folded_are_folded_anew_and_the_journal_stays(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        var job = await storage.TakeIn();
        await storage.Post(job, "e-1", "piece.put", """{"to":"trays/7"}""");
        await storage.Writer.Turn(TestStorage.Site, turn => turn.Execute(
            "update job set fold_version = 0, document = '{\"from\":\"older code\"}', stage = 'cleaning' where label = @label", new { label = job.ToString() }));
        await storage.Writer.Turn(TestStorage.Site, turn => turn.Execute("delete from holding where job = @label", new { label = job.ToString() }));
        await storage.Writer.StopAsync(CancellationToken.None);
        var before = storage.Check();

        storage.Migrate();

        var after = storage.Check();
        Assert.NotEmpty(before.Differences);
        Assert.Empty(after.Differences);
        Assert.Equal(before.Entries, after.Entries);
    }
}
