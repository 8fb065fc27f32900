using System.Data;
using System.Data.Common;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace Workshop.Service.Storage;

/// <summary>A statement of the hot path: its text and, in the order of the values given later, its parameters.</summary>
internal sealed record HotSql(string Text, params (string Name, DbType Type)[] Parameters);

/// <summary>
/// The writer's prepared statements. Reads run at once. On SQLite writes do too, a call into the library; on PostgreSQL they
/// wait and go over in one message, because there every statement would cost a journey.
/// </summary>
internal sealed class HotStatements(DbConnection connection) : IDisposable
{
    private readonly Dictionary<HotSql, DbCommand> prepared = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<HotSql, SqliteWrite> writes = new(ReferenceEqualityComparer.Instance);
    private readonly NpgsqlConnection? postgres = connection as NpgsqlConnection;
    private NpgsqlBatch? waiting;

    public void Write(HotSql sql, params ReadOnlySpan<object?> values)
    {
        if (postgres is null)
        {
            if (!writes.TryGetValue(sql, out var write))
            {
                writes[sql] = write = new SqliteWrite((SqliteConnection)connection, sql);
            }

            write.Run(values);
            return;
        }

        waiting ??= postgres.CreateBatch();
        var command = new NpgsqlBatchCommand(sql.Text);
        for (var i = 0; i < values.Length; i++)
        {
            command.Parameters.Add(new NpgsqlParameter(sql.Parameters[i].Name, sql.Parameters[i].Type) { Value = values[i] ?? DBNull.Value });
        }

        waiting.BatchCommands.Add(command);
    }

    /// <summary>Sends what waits.</summary>
    public void Flush()
    {
        if (waiting is { } batch)
        {
            waiting = null;
            using (batch)
            {
                batch.ExecuteNonQuery();
            }
        }
    }

    /// <summary>Forgets what waits; its transaction was rolled back.</summary>
    public void Forget()
    {
        waiting?.Dispose();
        waiting = null;
    }

    /// <summary>A reader over the answer, for the caller to dispose of. It sees what was written before, also what still waited.</summary>
    public DbDataReader Read(HotSql sql, params ReadOnlySpan<object?> values)
    {
        Flush();
        return Filled(sql, values).ExecuteReader();
    }

    public void Dispose()
    {
        Forget();
        foreach (var command in prepared.Values)
        {
            command.Dispose();
        }

        foreach (var write in writes.Values)
        {
            write.Dispose();
        }
    }

    private DbCommand Filled(HotSql sql, ReadOnlySpan<object?> values)
    {
        if (!prepared.TryGetValue(sql, out var command))
        {
            prepared[sql] = command = Prepare(sql);
        }

        for (var i = 0; i < values.Length; i++)
        {
            command.Parameters[i].Value = values[i] ?? DBNull.Value;
        }

        return command;
    }

    private DbCommand Prepare(HotSql sql)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql.Text;
        foreach (var (name, type) in sql.Parameters)
        {
            var parameter = command.CreateParameter();

            // As it stands in the statement: found at the first look, at every execution.
            parameter.ParameterName = $"@{name}";
            parameter.DbType = type;
            command.Parameters.Add(parameter);
        }

        command.Prepare();
        return command;
    }
}
