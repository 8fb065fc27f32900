using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Labels;

public class LabelTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory, BothEngines]
    public async Task A_lost_label_stops_whoever_scans_it_and_what_was_told_before_its_loss_still_counts(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var told = watch.Bench.Now;
        host.Clock.Advance(Duration.FromHours(1));
        var fresh = await Draw(host, "job");

        await watch.Does("label.replaced", $$"""{"label":"{{watch.Label}}","by":"{{fresh}}","reason":"fell off in the rinse"}""");

        var refused = await watch.Tells("stage.started", """{"stage":"diagnosis","person":"mara"}""");
        Assert.Equal((HttpStatusCode.Conflict, "label-replaced"), (refused.Status, refused.Code));
        Assert.Equal(fresh, refused.Problem.GetProperty("by").GetString());
        Assert.Equal("stop", refused.Signal);

        var late = await watch.Tells("stage.started", """{"stage":"diagnosis","person":"mara"}""", told + Duration.FromMinutes(1));
        Assert.Equal("accepted", late.Outcome);

        // Whatever is told under a lost label after its loss may be about another watch, a measurement too.
        var afterLoss = await watch.Tells("note.written", """{"text":"found it under the bench","already":true}""");
        Assert.Equal(("noted", "Kept for review by a manager"), (afterLoss.Outcome, afterLoss.Line));

        var now = await watch.Bench.Say(fresh, "stage.finished", """{"stage":"diagnosis","person":"mara"}""");
        Assert.Equal("accepted", now.Outcome);
        Assert.Equal(watch.Label.ToString(), now.Whole.GetProperty("job").GetString());

        var scanned = await (await host.Bench.GetAsync($"/v1/labels/{watch.Label}")).Json();
        Assert.Equal(fresh, scanned.GetProperty("replaced").GetProperty("by").GetString());
        Assert.Equal("stop", scanned.GetProperty("say").GetProperty("signal").GetString());
        Assert.True(host.Check().Clean, string.Join('\n', host.Check().Differences));
    }

    [Theory, BothEngines]
    public async Task A_piece_is_named_by_its_own_label_and_no_label_names_two_things(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var other = await HouseWatch.TakeIn(host);
        var label = await Draw(host, "piece");

        await watch.Does("label.attached", $$"""{"label":"{{label}}","piece":"case"}""");
        await watch.Does("piece.put", $$"""{"piece":"{{label}}","to":"trays/7"}""");

        Assert.Equal("trays/7", (await watch.Job()).Pieces.Pieces.Single(piece => piece.Id == "case").Holder);
        Assert.Equal("label-taken", (await other.Tells("label.attached", $$"""{"label":"{{label}}","piece":"case"}""")).Code);
        Assert.Equal("piece-unknown", (await watch.Tells("label.attached", $$"""{"label":"{{await Draw(host, "piece")}}","piece":"bezel"}""")).Code);
        Assert.Equal("label-not-of-job", (await other.Tells("label.replaced", $$"""{"label":"{{label}}","by":"{{await Draw(host, "piece")}}","reason":"torn"}""")).Code);

        var shown = await (await host.Bench.GetAsync($"/v1/labels/{label}")).Json();
        Assert.Equal(("case", "trays/7"), (shown.GetProperty("job").GetProperty("piece").GetString(), shown.GetProperty("job").GetProperty("where").GetString()));
        Assert.True(host.Check().Clean, string.Join('\n', host.Check().Differences));
    }

    [Theory, BothEngines]
    public async Task A_thing_of_the_house_gets_a_label_once_and_the_kind_has_to_fit(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var label = await Draw(host, "tray");

        Assert.Equal(HttpStatusCode.OK, (await Name(host, label, "trays/t-1")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await Name(host, label, "trays/t-1")).StatusCode);
        Assert.Equal("label-bound", (await (await Name(host, label, "trays/t-2")).Problem()).Code);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Name(host, label, "benches/bench-2")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Name(host, await Draw(host, "word-card"), "words/abracadabra")).StatusCode);
        Assert.Equal("trays/t-1", (await (await host.Bench.GetAsync($"/v1/labels/{label.ToLowerInvariant().Insert(4, "-")}")).Json()).GetProperty("names").GetString());
    }

    [Theory, BothEngines]
    public async Task What_cannot_be_read_is_400_and_what_nobody_gave_out_404(StorageEngine engine)
    {
        var host = await hosts.On(engine);

        var slip = await host.Bench.GetAsync("/v1/labels/J222222Y");
        Assert.Equal((HttpStatusCode.BadRequest, "label-unreadable"), (slip.StatusCode, (await slip.Problem()).Code));
        var unknown = await host.Bench.GetAsync($"/v1/labels/{Label.Complete(LabelKind.Tray, [1, 1, 1, 1, 1, 1])}");
        Assert.Equal((HttpStatusCode.NotFound, "label-unknown"), (unknown.StatusCode, (await unknown.Problem()).Code));
    }

    internal static async Task<string> Draw(WorkshopHost host, string kind, string? names = null)
    {
        using var answer = await host.Manager.Send(HttpMethod.Post, "/v1/labels", JsonSerializer.Serialize(names is null ? new { kind } : (object)new { kind, names }), "application/json");
        return (await answer.Json()).GetProperty("label").GetString()!;
    }

    private static Task<HttpResponseMessage> Name(WorkshopHost host, string label, string names) =>
        host.Manager.Send(HttpMethod.Put, $"/v1/labels/{label}", $$"""{"names":"{{names}}"}""", "application/json");
}
