using System.Net;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Customers;

public class CustomerTests
{
    [Theory]
    [BothEngines]
    public async Task A_customer_is_changed_by_whoever_has_seen_the_newest_state(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();
        var address = $"/v1/customers/{taken.Text("customer")}";
        using var seen = await host.Desk.GetAsync(address);
        const string Moved = """{ "name": "Ida Marlow", "telephone": "01632 960 300" }""";

        using var blind = await host.Desk.Put(address, Moved);
        using var changed = await host.Desk.Put(address, Moved, seen.Headers.ETag!.Tag);
        using var late = await host.Desk.Put(address, Moved, seen.Headers.ETag!.Tag);
        var after = await host.Desk.Get(address);

        Assert.Equal("if-match-needed", (await blind.Problem()).Code);
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
        Assert.Equal("changed-meanwhile", (await late.Problem()).Code);
        Assert.Equal("01632 960 300", after.Text("telephone"));
        Assert.False(after.TryGetProperty("email", out _));

        // Found by the new number, and no longer by the old one.
        Assert.Single((await (await host.Desk.PostJson("/v1/jobs/search", """{ "telephone": "+44 1632 960300" }""")).Json()).GetProperty("items").EnumerateArray());
        Assert.Empty((await (await host.Desk.PostJson("/v1/jobs/search", """{ "telephone": "020 7946 0018" }""")).Json()).GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData("""{ "name": "Ida" }""", "")]
    [InlineData("{}", "")]
    [InlineData("""{ "telephone": "x" }""", "/telephone")]
    [InlineData("""{ "email": "x" }""", "/email")]
    [InlineData("""{ "email": "a@b.example", "version": 2 }""", "/version")]
    public async Task Somebody_who_cannot_be_reached_is_refused(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake)).Json();

        var problem = await (await host.Desk.Put($"/v1/customers/{taken.Text("customer")}", body, "*")).Problem();

        Assert.Equal([pointer], problem.Pointers);
    }

    [Fact]
    public async Task Only_the_desk_knows_customers()
    {
        await using var host = await Counter.Open();
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();

        foreach (var role in new[] { Role.Bench, Role.Wall, Role.Storefront })
        {
            using var customer = await host.As(role).GetAsync($"/v1/customers/{taken.Text("customer")}");
            using var watch = await host.As(role).GetAsync($"/v1/watches/{taken.Text("watch")}");
            Assert.Equal(HttpStatusCode.Forbidden, customer.StatusCode);
            Assert.Equal(HttpStatusCode.Forbidden, watch.StatusCode);
        }
    }

    [Fact]
    public async Task Nobody_and_nothing_unknown_is_made_up()
    {
        await using var host = await Counter.Open();

        Assert.Equal("no-such-thing", (await (await host.Desk.GetAsync("/v1/customers/nobody")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Desk.Put("/v1/customers/nobody", """{ "email": "a@b.example" }""", "*")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Desk.GetAsync("/v1/watches/none")).Problem()).Code);
    }
}
