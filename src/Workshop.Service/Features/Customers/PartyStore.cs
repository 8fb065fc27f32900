using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>The table <c>job_party</c>: the jobs that name a customer besides the one of their intake.</summary>
public static class PartyStore
{
    private const string ForgetSql = """
        delete from job_party
        where site = @site
          and job = @job
        """;

    private const string PutSql = """
        insert into job_party (site, customer, job)
        values (@site, @customer, @job)
        """;

    private const string JobsOfSql = """
        select label
        from job
        where site = @site
          and customer_id = @customer
          and closed = 0
        union
        select job_party.job as label
        from job_party
        join job on job.site = job_party.site and job.label = job_party.job
        where job_party.site = @site
          and job_party.customer = @customer
          and job.closed = 0
        order by label
        """;

    /// <summary>Writes down who is named in a job besides its own customer.</summary>
    public static void Put(Turn turn, Label job, IEnumerable<string> customers)
    {
        turn.Execute(ForgetSql, new { site = turn.Site, job = job.ToString() });
        foreach (var customer in customers)
        {
            turn.Execute(PutSql, new { site = turn.Site, customer, job = job.ToString() });
        }
    }

    /// <summary>The jobs that are not closed and have a customer among the people round the watch.</summary>
    public static IReadOnlyList<Label> OpenJobsOf(Turn turn, string customer) => [.. turn.Query<string>(JobsOfSql, new { site = turn.Site, customer }).Select(Label.Read)];
}
