using System.Data.Common;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api.PersonalData;

/// <summary>Every text of the database, whatever table a later migration brings.</summary>
internal static class EveryText
{
    private const string SqliteColumns = """
        select m.name as "table", c.name as "column"
        from sqlite_master m
        join pragma_table_info(m.name) c
        where m.type = 'table'
          and lower(c.type) = 'text'
          and m.name not like 'sqlite_%'
        """;

    private const string PostgresColumns = """
        select table_name as "table", column_name as "column"
        from information_schema.columns
        where table_schema = current_schema()
          and data_type = 'text'
        """;

    public static IReadOnlyList<(string Table, string Column)> Columns(DbConnection connection, StorageEngine engine) =>
        connection.Query<(string, string)>(engine == StorageEngine.Sqlite ? SqliteColumns : PostgresColumns).AsList();

    public static bool Holds(DbConnection connection, string table, string column, string text) =>
        connection.QueryFirst<long>($"select count(*) from \"{table}\" where \"{column}\" like @text", new { text = $"%{text}%" }) > 0;
}
