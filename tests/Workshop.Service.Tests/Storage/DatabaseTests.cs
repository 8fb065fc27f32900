using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class DatabaseTests
{
    [Theory]
    [InlineData("journal_mode", "wal")]
    [InlineData("synchronous", "2")]
    [InlineData("foreign_keys", "1")]
    [InlineData("busy_timeout", "5000")]
    [InlineData("wal_autocheckpoint", "0")]
    public async Task The_writers_own_connection_is_durable(string pragma, string value)
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        var found = await storage.Writer.Turn(TestStorage.Site, turn => turn.QueryFirst<string>($"pragma {pragma}"));

        Assert.Equal(value, found);
    }

    [Fact]
    public async Task Every_table_of_SQLite_holds_its_types()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);

        var loose = await storage.Reader.Query<string>("select name from pragma_table_list where schema = 'main' and strict = 0 and name not like 'sqlite_%'");

        Assert.Equal(["SchemaVersions"], loose);
    }

    [Fact]
    public async Task Every_text_of_PostgreSQL_compares_byte_by_byte_and_every_number_is_a_long_one()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Postgres);

        var odd = await storage.Reader.Query<string>("""
            select table_name || '.' || column_name || ' ' || data_type || coalesce(' ' || collation_name, '')
            from information_schema.columns
            where table_schema = 'public'
              and table_name <> 'schemaversions'
              and not (data_type = 'text' and collation_name = 'C')
              and data_type not in ('bigint', 'bytea')
            """);

        Assert.Empty(odd);
    }

    [Fact]
    public async Task A_second_process_on_the_same_directory_is_told_in_one_sentence()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);
        using var second = new Database(storage.Settings);

        var refusal = Assert.Throws<StorageNotReadyException>(second.TakeLock);

        Assert.StartsWith("Another workshop process works in '", refusal.Message);
        Assert.Equal(1, refusal.Message.Count(letter => letter == '.'));
    }

    [Fact]
    public async Task The_directory_is_free_again_when_its_process_ends()
    {
        await using var storage = await TestStorage.CreateEmpty(StorageEngine.Sqlite);
        using (var first = new Database(storage.Settings))
        {
            first.TakeLock();
        }

        using var second = new Database(storage.Settings);
        second.TakeLock();
    }

    [Theory, BothEngines]
    public async Task A_reader_cannot_write(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);

        var failure = await Record.ExceptionAsync(() => storage.Reader.Read(connection => Dapper.SqlMapper.Execute(connection, "delete from label")));

        Assert.IsAssignableFrom<System.Data.Common.DbException>(failure is StorageUnavailableException ? failure.InnerException : failure);
    }

    [Theory, BothEngines]
    public async Task The_writer_refuses_a_database_that_was_not_migrated(StorageEngine engine)
    {
        await using var storage = await TestStorage.CreateEmpty(engine);

        var refusal = await Assert.ThrowsAsync<StorageNotReadyException>(() => storage.Writer.StartAsync(CancellationToken.None));

        Assert.Contains("migrate", refusal.Message);
    }

    [Fact]
    public async Task The_log_is_moved_into_the_file_beside_the_writer()
    {
        await using var storage = await TestStorage.Create(StorageEngine.Sqlite);
        await storage.TakeIn();
        using var beside = storage.Database.OpenShortWriter();

        var (pages, moved) = Checkpoints.Move(beside);

        Assert.True(pages > 0);
        Assert.Equal(pages, moved);
    }

    [Theory]
    [InlineData(StorageEngine.Postgres, "data", "", "Storage:Postgres")]
    [InlineData(StorageEngine.Sqlite, " ", null, "Storage:Path")]
    public void A_setting_that_makes_no_sense_stops_the_start(StorageEngine engine, string path, string? postgres, string named)
    {
        var refusal = Assert.Throws<StorageNotReadyException>(() => new Database(new StorageSettings { Engine = engine, Path = path, Postgres = postgres }));

        Assert.StartsWith(named, refusal.Message);
    }
}
