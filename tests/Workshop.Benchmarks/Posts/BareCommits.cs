using System.Diagnostics;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Posts;

/// <summary>
/// What the medium itself can do: one row a transaction, through the very connection the service's writer has, with its settings.
/// </summary>
internal static class BareCommits
{
    // About as wide as what an event leaves behind.
    private const int RowBytes = 1000;

    private const string TableSql = "create table if not exists bare_commit (number bigint primary key, content text not null)";

    private const string InsertSql = "insert into bare_commit (number, content) values (@number, @content)";

    public static Figures Measure(StorageSettings storage, TimeSpan span)
    {
        using var database = new Database(storage);
        using var connection = database.OpenWriter();
        connection.Execute(TableSql);
        var content = new string('x', RowBytes);
        using var insert = connection.CreateCommand();
        insert.CommandText = InsertSql;
        var number = insert.CreateParameter();
        number.ParameterName = "number";
        number.DbType = System.Data.DbType.Int64;
        var text = insert.CreateParameter();
        (text.ParameterName, text.Value) = ("content", content);
        insert.Parameters.Add(number);
        insert.Parameters.Add(text);

        var latencies = new Latencies();
        var count = 0L;
        var clock = Stopwatch.StartNew();
        while (clock.Elapsed < span)
        {
            var began = Stopwatch.GetTimestamp();
            using (var transaction = connection.BeginTransaction())
            {
                insert.Transaction = transaction;
                number.Value = ++count;
                insert.ExecuteNonQuery();
                transaction.Commit();
            }

            latencies.Add(Stopwatch.GetElapsedTime(began));
        }

        var figures = new Figures(count / clock.Elapsed.TotalSeconds, latencies);
        connection.Execute("drop table bare_commit");
        return figures;
    }
}
