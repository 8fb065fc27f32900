using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api;

public class HealthTests
{
    [Theory, BothEngines]
    public async Task A_running_service_says_without_a_key_that_it_lives_and_reaches_its_database(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);

        Assert.Equal("""{"status":"live"}""", await host.Stranger.GetStringAsync("/health/live"));
        Assert.Equal("""{"status":"ready"}""", await host.Stranger.GetStringAsync("/health/ready"));
    }

    [Fact]
    public async Task A_service_that_cannot_read_its_database_says_that_it_is_not_ready()
    {
        var server = await ScratchPostgres.Start();
        await using var host = await WorkshopHost.Start(StorageEngine.Postgres, connection: server.ConnectionString);
        await server.DisposeAsync();

        var answer = await host.Stranger.GetAsync("/health/ready");

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.NotNull(answer.Headers.RetryAfter);
        Assert.Equal("storage-unavailable", (await answer.Problem()).Code);
    }
}
