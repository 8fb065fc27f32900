using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Warranties;

public class ShipmentTests
{
    [Theory]
    [BothEngines]
    public async Task Two_watches_in_one_parcel_are_asked_for_their_declared_values_together_and_arrive_together(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", """{ "shipping": { "carriers": [ { "id": "post", "name": "Valley Post", "insuresAtMostMinor": 300000, "currency": "GBP" } ] } }""");
        var one = await HandOverTests.Ready(host);
        var two = await HandOverTests.Ready(host);
        await host.Desk.PostJson($"/v1/jobs/{one}/hand-over", """{ "how": "dispatched" }""");
        await host.Desk.PostJson($"/v1/jobs/{two}/hand-over", """{ "how": "dispatched" }""");
        var declared = (await host.Desk.Get($"/v1/jobs/{one}/intake")).GetProperty("declaredValueMinor").GetInt64();
        var parcel = $$"""{ "jobs": [ { "job": "{{one}}" }, { "job": "{{two}}" } ], "direction": "to-customer", "carrier": "post", "number": "99.60.117", "insuredMinor": {{3 * declared}}, "currency": "GBP" """;

        // The carrier insures less than both are worth, whatever was paid for.
        var asked = await (await host.Desk.PostJson("/v1/shipments", parcel + "}")).Problem();
        var entries = await Entries(host, one);
        using var sent = await host.Desk.PostJson("/v1/shipments", parcel + """, "despite": ["insured-enough"] }""");
        var shipment = await sent.Json();
        var id = shipment.Text("id");
        var read = await host.Desk.Get($"/v1/shipments/{id}");
        var presumed = await host.Desk.Get($"/v1/jobs/{one}/warranty");
        var link = (await (await host.Desk.PostJson($"/v1/jobs/{one}/public-links", """{ "view": "status" }""")).Json()).Text("address");
        var onItsWay = (await host.Stranger.Get(link)).GetProperty("shipment");
        host.Clock.Advance(NodaTime.Duration.FromDays(12));
        var arrived = await (await host.Desk.PostJson($"/v1/shipments/{id}/delivered", "{}")).Json();
        using var again = await host.Desk.PostJson($"/v1/shipments/{id}/delivered", "{}");
        var proven = await host.Desk.Get($"/v1/jobs/{two}/warranty");
        var lost = await (await host.Desk.PostJson($"/v1/shipments/{id}/lost", """{ "reason": "x" }""")).Problem();

        Assert.True(2 * declared > 300000);
        Assert.Equal("insured-for-less", asked.Code);
        Assert.Equal("ask", asked.Whole.GetProperty("against")[0].Text("strength"));
        Assert.Equal(HttpStatusCode.Created, sent.StatusCode);
        Assert.Equal(entries + 1, await Entries(host, one) - 2);
        Assert.Equal("Valley Post", shipment.Text("carrier"));
        Assert.Equal(shipment.ToString(), read.ToString());
        Assert.Equal(2, read.GetProperty("jobs").GetArrayLength());
        Assert.Equal(("Valley Post", "99.60.117"), (onItsWay.Text("carrier"), onItsWay.Text("number")));
        Assert.Equal("presumed", presumed.GetProperty("delivery").Text("basis"));
        Assert.Equal("delivered", arrived.Text("state"));
        Assert.Equal(await again.Content.ReadAsStringAsync(), arrived.ToString());
        Assert.Equal(("proven", arrived.Text("deliveredOn")), (proven.GetProperty("delivery").Text("basis"), proven.GetProperty("delivery").Text("on")));
        Assert.Equal("shipment-arrived", lost.Code);
        Assert.Single((await host.Desk.Get($"/v1/jobs/{two}/shipments")).GetProperty("items").EnumerateArray());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_watch_goes_home_in_two_parcels_and_its_warranty_begins_with_the_last(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandOverTests.Ready(host);
        var pieces = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("pieces").EnumerateArray().Select(piece => piece.Text("piece")).ToArray();
        var (first, rest) = (pieces[0], string.Join(", ", pieces[1..].Select(piece => $"\"{piece}\"")));

        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", $$"""{ "how": "dispatched", "pieces": ["{{first}}"] }""")).Json();
        var one = await Send(host, $$"""{ "jobs": [ { "job": "{{label}}", "pieces": ["{{first}}"] } ], "direction": "to-customer", "carrier": "courier", "insuredMinor": 900000, "currency": "GBP" }""");
        var before = await host.Desk.Get($"/v1/jobs/{label}/warranty");
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", $$"""{ "how": "dispatched", "pieces": [{{rest}}] }""")).Json();
        var two = await Send(host, $$"""{ "jobs": [ { "job": "{{label}}", "pieces": [{{rest}}] } ], "direction": "to-customer", "carrier": "courier", "insuredMinor": 900000, "currency": "GBP" }""");
        host.Clock.Advance(NodaTime.Duration.FromDays(1));
        var lost = await (await host.Desk.PostJson($"/v1/shipments/{one.Text("id")}/lost", """{ "reason": "the carrier has given it up" }""")).Json();
        var row = (await host.Manager.Get("/v1/agenda?due=all")).GetProperty("items").EnumerateArray().Single(line => line.Text("kind") == "parcel-lost");
        await (await host.Desk.PostJson($"/v1/shipments/{one.Text("id")}/delivered", "{}")).Json();

        Assert.Empty(before.GetProperty("lines").EnumerateArray());
        Assert.NotEmpty((await host.Desk.Get($"/v1/jobs/{label}/warranty")).GetProperty("lines").EnumerateArray());
        Assert.Equal("lost", lost.Text("state"));
        Assert.Equal(one.Text("id"), row.Text("ref"));
        Assert.DoesNotContain((await host.Manager.Get("/v1/agenda?due=all")).GetProperty("items").EnumerateArray(), line => line.Text("kind") == "parcel-lost");
        Assert.Equal([one.Text("id"), two.Text("id")], (await host.Desk.Get($"/v1/jobs/{label}/shipments")).GetProperty("items").EnumerateArray().Select(item => item.Text("id")));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_may_not_leave_is_not_packed_either()
    {
        await using var host = await Counter.Open();
        var ready = await HandOverTests.Ready(host);
        var label = await host.TakeIn();

        var early = await (await host.Desk.PostJson("/v1/shipments", $$"""{ "jobs": [ { "job": "{{ready}}" }, { "job": "{{label}}" } ], "direction": "to-customer", "carrier": "post", "insuredMinor": 900000, "currency": "GBP" }""")).Problem();

        // Into none of them.
        Assert.Equal("needs", early.Code);
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{ready}/shipments")).GetProperty("items").EnumerateArray());
        using var inbound = await host.Desk.PostJson("/v1/shipments", $$"""{ "jobs": [ { "job": "{{label}}" } ], "direction": "to-workshop", "carrier": "post" }""");
        Assert.Equal(HttpStatusCode.Created, inbound.StatusCode);
    }

    [Theory]
    [InlineData("""{ "jobs": [ { "job": "J7K3MQ4T" } ], "direction": "to-customer", "carrier": "post" }""", "/jobs/0/job")]
    [InlineData("""{ "jobs": [ { "job": "JOB" }, { "job": "JOB" } ], "direction": "to-workshop", "carrier": "post" }""", "/jobs/1/job")]
    [InlineData("""{ "jobs": [ { "job": "JOB", "pieces": ["moon"] } ], "direction": "to-workshop", "carrier": "post" }""", "/jobs/0/pieces/0")]
    [InlineData("""{ "jobs": [ { "job": "JOB" } ], "direction": "to-workshop", "carrier": "post", "insuredMinor": 5 }""", "/currency")]
    [InlineData("""{ "jobs": [ { "job": "JOB" } ], "direction": "to-workshop", "carrier": "post", "insuredMinor": 5, "currency": "CHF" }""", "/currency")]
    [InlineData("""{ "jobs": [ { "job": "JOB" } ], "direction": "to-workshop", "carrier": "post", "sentAt": "2030-01-01T00:00:00Z" }""", "/sentAt")]
    public async Task A_parcel_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var problem = await (await host.Desk.PostJson("/v1/shipments", body.Replace("JOB", label, StringComparison.Ordinal))).Problem();

        Assert.Equal((422, pointer), (problem.Status, Assert.Single(problem.Pointers)));
    }

    private static async Task<JsonElement> Send(WorkshopHost host, string body) => await (await host.Desk.PostJson("/v1/shipments", body)).Json();

    private static async Task<int> Entries(WorkshopHost host, string label) => (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").GetArrayLength();
}
