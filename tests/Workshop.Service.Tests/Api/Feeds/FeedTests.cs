using System.Net;
using System.Text;
using Ical.Net;
using NodaTime;
using Workshop.Service.Features.Feeds;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Feeds;

public class FeedTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 2, 9, 0);

    [Theory]
    [BothEngines]
    public async Task A_calendar_shows_what_falls_due_and_calls_off_what_does_not_any_more(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 3, 10, 10);
        var label = await host.TakeIn();
        await host.Approve(label);
        var feed = await (await host.Desk.PostJson("/v1/agenda/feeds", "{}")).Json();
        var address = feed.Text("address");

        var before = Calendar.Load(await host.Stranger.GetStringAsync(address))!;
        var promise = before.Events.Single(one => one.Summary!.StartsWith($"{label}: Promised by ", StringComparison.Ordinal) && !one.Summary.Contains("from here on", StringComparison.Ordinal));
        await (await host.Desk.PostJson("/v1/promises/moves", $$"""{ "moves": [ { "job": "{{label}}", "to": "2025-05-28", "reason": "part" } ] }""")).Json();
        var moved = Calendar.Load(await host.Stranger.GetStringAsync(address))!.Events.Single(one => one.Uid == promise.Uid);

        Assert.Equal(0, promise.Sequence);
        Assert.Equal(("CONFIRMED", 1), (moved.Status, moved.Sequence));
        Assert.True(moved.Start!.AsUtc > promise.Start!.AsUtc);
        Assert.Equal("UTC", promise.Start.TzId);

        // Nothing changed: the very same bytes.
        Assert.Equal(await host.Stranger.GetStringAsync(address), await host.Stranger.GetStringAsync(address));

        Assert.Equal(HttpStatusCode.NoContent, (await host.Desk.DeleteAsync($"/v1/agenda/feeds/{feed.Text("id")}")).StatusCode);
        using var revoked = await host.Stranger.GetAsync(address);
        using var unknown = await host.Stranger.GetAsync("/v1/agenda/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA.ics");
        Assert.Equal(HttpStatusCode.NotFound, revoked.StatusCode);
        Assert.Equal(await unknown.Content.ReadAsStringAsync(), await revoked.Content.ReadAsStringAsync());
        Assert.Empty((await host.Desk.Get("/v1/agenda/feeds")).GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task A_bench_sees_what_lies_there_and_a_person_what_they_hold()
    {
        await using var host = await Counter.Open();
        host.SetTo(2025, 3, 10, 10);
        await (await host.Manager.Put("/v1/benches/bench-2", """{ "name": "By the stove" }""")).Json();
        await host.Save("people", "mara", """{ "name": "Mara" }""");
        var (mine, other) = (await host.TakeIn(), await host.TakeIn(Counter.LeastIntake));
        await host.Approve(mine);
        await host.Say(mine, "hold.placed", """{ "hold": "parts", "until": "2025-03-20" }""");
        await host.Say(other, "hold.placed", """{ "hold": "customer", "until": "2025-03-21" }""");
        await host.Say(mine, "piece.put", """{ "to": "benches/bench-2" }""");
        async Task<string[]> Summaries(string body)
        {
            var feed = await (await host.Desk.PostJson("/v1/agenda/feeds", body)).Json();
            return [.. Calendar.Load(await host.Stranger.GetStringAsync(feed.Text("address")))!.Events.Select(one => one.Summary![..8]).Distinct()];
        }

        Assert.Equal([mine], await Summaries("""{ "bench": "bench-2" }"""));
        Assert.Empty(await Summaries("""{ "person": "mara" }"""));
        await host.Say(mine, "piece.given", """{ "to": "people/mara" }""");
        await host.Say(mine, "piece.taken", """{ "from": "benches/bench-2", "person": "mara" }""");
        Assert.Equal([mine], await Summaries("""{ "person": "mara" }"""));
        Assert.Superset(new HashSet<string> { mine, other }, (await Summaries("{}")).ToHashSet());

        Assert.Equal(["/bench"], (await (await host.Desk.PostJson("/v1/agenda/feeds", """{ "bench": "bench-99" }""")).Problem()).Pointers);
        Assert.Equal(["/person"], (await (await host.Desk.PostJson("/v1/agenda/feeds", """{ "person": "nobody" }""")).Problem()).Pointers);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.Bench.PostJson("/v1/agenda/feeds", "{}")).StatusCode);
    }

    [Fact]
    public void What_moves_keeps_its_name_what_goes_is_called_off_what_was_done_stays_and_what_is_long_past_is_dropped()
    {
        FeedItem[] first = [new("a", Now + Duration.FromHours(2), "A"), new("b", Now + Duration.FromHours(3), "B"), new("c", Now + Duration.FromHours(1), "C")];
        var begun = FeedChange.Of([], first, Now);
        var later = FeedChange.Of(begun.Kept, [first[0] with { Starts = Now + Duration.FromHours(5) }], Now + Duration.FromHours(2));

        Assert.Equal([0L, 0, 0], begun.Changed.Select(one => one.Sequence));
        Assert.Equal(["a 1 False", "b 1 True", "c 0 False"], later.Kept.OrderBy(one => one.Uid).Select(one => $"{one.Uid} {one.Sequence} {one.Cancelled is not null}"));
        Assert.Equal(["a", "b"], later.Changed.Select(one => one.Uid).Order());
        Assert.True(FeedChange.Of(later.Kept, [first[0] with { Starts = Now + Duration.FromHours(5) }], Now + Duration.FromHours(3)).IsNothing);

        // Due again after it was called off.
        var again = FeedChange.Of(later.Kept, [first[0] with { Starts = Now + Duration.FromHours(5) }, first[1]], Now + Duration.FromHours(2.5));
        Assert.Equal((2, (long?)null), (again.Kept.Single(one => one.Uid == "b").Sequence, again.Kept.Single(one => one.Uid == "b").Cancelled));

        var longAfter = FeedChange.Of(later.Kept, [], Now + Duration.FromDays(40));
        Assert.Equal(["a", "b", "c"], longAfter.Dropped.Order());
    }

    [Fact]
    public void Lines_are_folded_at_75_octets_and_texts_escaped()
    {
        var text = Encoding.UTF8.GetString(FeedCalendar.Write("Agenda", [new StoredFeedEvent
        {
            Uid = "u@workshop", Starts = Microseconds.Of(Now), Line = new string('a', 70) + ", Zoë; Müller\\ü" + new string('é', 60), Sequence = 3, Stamped = Microseconds.Of(Now),
        }]));

        Assert.All(text.Split("\r\n"), line => Assert.True(Encoding.UTF8.GetByteCount(line) <= 75, line));
        Assert.DoesNotContain('\n', text.Replace("\r\n", "", StringComparison.Ordinal));

        // The check of RFC 5545, 3.1: 8 + 70 octets become 75 and, after a blank, 3 more.
        Assert.Contains("SUMMARY:" + new string('a', 67) + "\r\n " + "aaa\\, Zoë\\; Müller\\\\ü", text, StringComparison.Ordinal);
        Assert.Contains("DTSTART:20260302T090000Z\r\n", text, StringComparison.Ordinal);
        Assert.Contains("SEQUENCE:3\r\n", text, StringComparison.Ordinal);
    }
}
