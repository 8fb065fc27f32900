using System.Text;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Workshop.Service.Storage;

/// <summary>
/// A writing statement, prepared at SQLite itself and filled by place. The driver would look every parameter up by its name and make
/// a reader, at each of the half dozen statements of an event.
/// </summary>
internal sealed class SqliteWrite : IDisposable
{
    private readonly sqlite3 database;
    private readonly sqlite3_stmt statement;
    private readonly int[] places;
    private byte[] text = new byte[1024];

    public SqliteWrite(SqliteConnection connection, HotSql sql)
    {
        database = connection.Handle!;
        Check(raw.sqlite3_prepare_v2(database, sql.Text, out statement));
        places = [.. sql.Parameters.Select(parameter => raw.sqlite3_bind_parameter_index(statement, $"@{parameter.Name}"))];
    }

    /// <exception cref="SqliteException">Nothing was written.</exception>
    public void Run(ReadOnlySpan<object?> values)
    {
        for (var i = 0; i < values.Length; i++)
        {
            Check(Bind(places[i], values[i]));
        }

        var result = raw.sqlite3_step(statement);

        // It gives the same result once more, and the message belongs to that.
        Check(raw.sqlite3_reset(statement));
        if (result != raw.SQLITE_DONE)
        {
            throw new InvalidOperationException($"A statement that only writes has ended with {result}.");
        }
    }

    public void Dispose() => statement.Dispose();

    private int Bind(int place, object? value) => value switch
    {
        null => raw.sqlite3_bind_null(statement, place),
        string said => raw.sqlite3_bind_text(statement, place, Utf8(said)),
        long number => raw.sqlite3_bind_int64(statement, place, number),
        byte[] bytes => raw.sqlite3_bind_blob(statement, place, bytes),
        _ => throw new InvalidOperationException($"A value of the kind {value.GetType().Name} is kept nowhere."),
    };

    // SQLite takes a copy, so one place to write to is enough.
    private ReadOnlySpan<byte> Utf8(string said)
    {
        var atMost = Encoding.UTF8.GetMaxByteCount(said.Length);
        if (text.Length < atMost)
        {
            text = new byte[atMost];
        }

        return text.AsSpan(0, Encoding.UTF8.GetBytes(said, text));
    }

    private void Check(int result)
    {
        if (result != raw.SQLITE_OK)
        {
            SqliteException.ThrowExceptionForRC(result, database);
        }
    }
}
