using System.Net;
using Microsoft.AspNetCore.Mvc.Testing;

namespace Workshop.Service.Tests.Api;

public class HealthTests(WebApplicationFactory<Program> service) : IClassFixture<WebApplicationFactory<Program>>
{
    [Fact]
    public async Task A_running_service_says_that_it_lives()
    {
        var answer = await service.CreateClient().GetAsync("/health/live");

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }
}
