using System.Collections.Immutable;
using System.Diagnostics.Metrics;
using System.Text.Json;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Demo;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Oneself;
using Workshop.Service.Tests.Commands;
using Workshop.Service.Tests.Letters;

namespace Workshop.Service.Tests.Api.PublicPages;

/// <summary>
/// Nothing that is the house's own leaves it: not on any page, at any moment of any watch's life, not in what is told outside, not in the
/// log. What is looked for is all that the database holds (<see cref="LeakWatch"/>), besides words that were planted where they must stay.
/// </summary>
[Collection(nameof(OwnsTheConsole))]
public sealed class LeakTests
{
    private const string Intake =
        """
        { "customer": { "name": "Canaryname Quill", "telephone": "+44 20 7946 0018", "email": "canary@mail.example", "address": "3 Canarystreet\nUpper Ness AB1 2CD", "language": "en" },
          "watch": { "maker": "Orrery & Finch", "model": "Halyard", "reference": "Canaryreference", "caseSerial": "CANARY-20-417", "movementNumber": "CANARY M 77.1", "words": "canarywords on the dial",
                     "calibre": { "name": "Canarycalibre 9", "kind": "automatic", "vibrationsPerHour": 28800, "liftAngleDegrees": 52 }, "madeInYear": 2011, "luminousPaint": false, "dialRemarks": "canarydial" },
          "variant": "full-automatic", "declaredValueMinor": 7654321, "currency": "GBP", "wishes": { "polish": "no", "oldPartsBack": true }, "condition": "canarycondition", "ownNumber": "CANARYOWN-7",
          "arrival": { "running": "running", "crown": "works", "seal": "never-fitted", "photosTaken": 7 }, "remarks": "canaryremarks", "terms": { "acceptedOn": "2025-01-02" },
          "accessories": [ { "kind": "bracelet", "count": 1, "note": "canarybracelet" } ], "person": "canarydesk" }
        """;

    private const string Passed =
        """
        { "person": "canarysecond", "checks": [ { "check": "looks", "result": "ok" }, { "check": "no-fibres", "result": "ok" }, { "check": "hands-aligned", "result": "ok" },
          { "check": "crown", "result": "ok" }, { "check": "date", "result": "ok" }, { "check": "bracelet-and-bars", "result": "ok" }, { "check": "time-set", "result": "ok" },
          { "check": "accessories-and-old-parts", "result": "ok" }, { "check": "report-and-measurements", "result": "ok" }, { "check": "water-statement", "result": "ok" } ] }
        """;

    [Fact]
    public async Task What_was_planted_in_every_private_field_of_a_watch_is_on_no_page_in_nothing_that_is_told_and_in_no_log()
    {
        using var log = new StringWriter();
        var before = Console.Error;
        Console.SetError(TextWriter.Synchronized(log));
        try
        {
            await using var host = await Counter.Open();
            await host.Save("settings", "main", """{ "shopName": "Tallow Lane Watches", "telephone": "+44 20 7946 0100" }""");
            await host.Save("people", "canarymaker", """{ "name": "Canarymaker Rowe" }""");
            await host.Save("people", "canarysecond", """{ "name": "Canarysecond Vane" }""");
            await host.Save("people", "canarydesk", """{ "name": "Canarydesk Tarn" }""");
            await host.Save("firm", "canaryfirm", """{ "name": "Canaryfirm and Sons", "usualWorkingDays": 5 }""");
            await (await host.Manager.PostJson("/v1/devices/pairings", """{ "device": "canary-bench", "role": "bench" }""")).Json();
            var job = await host.TakeIn(Intake);
            string[] pages = [await PublicPageTests.Link(host, job, "status"), await PublicPageTests.Link(host, job, "status-and-amounts"), await PublicPageTests.Link(host, job, "decide")];
            var seen = new List<string>();

            async Task Look()
            {
                var watch = await Watch(host);
                foreach (var (page, allowed) in pages.Zip(Allowed))
                {
                    foreach (var language in new[] { "en", "de" })
                    {
                        var text = await (await host.Stranger.GetAsync($"{page}?language={language}")).Content.ReadAsStringAsync();
                        watch.AssertClean(text, page);
                        Assert.DoesNotContain("canary", text, StringComparison.OrdinalIgnoreCase);
                        LeakWatch.AssertPaths(JsonElement.Parse(text), allowed);
                        seen.Add(JsonElement.Parse(text).Text("stage"));
                    }

                    Assert.DoesNotContain("7654321", await (await host.Stranger.GetAsync(page)).Content.ReadAsStringAsync());
                }
            }

            await Look();
            await host.Say(job, "note.written", """{ "text": "canarynote for the house", "audience": "house" }""");
            await host.Say(job, "note.written", """{ "text": "We have looked at the crown.", "audience": "customer" }""");
            await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "canarymaker" }""");
            await host.SendQuote(job);
            await Look();
            await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true, "channel": "telephone", "witness": "canarydesk" }""")).Json();
            await Look();
            await host.Say(job, "stage.started", """{ "stage": "takedown", "person": "canarymaker" }""");
            await host.Say(job, "hold.placed", """{ "hold": "parts", "reason": "canaryhold from Canarysupplier", "note": "canaryholdnote", "person": "canarymaker" }""");
            await Look();
            await host.Say(job, "hold.lifted", """{ "hold": "parts", "reason": "canarylift" }""");
            await Look();
            foreach (var (hold, reason) in new[] { ("query", "canaryquery"), ("damage", "canarydamage"), ("loss", "canaryloss"), ("dispute", "canarydispute"), ("legal", "canarylegal"), ("mix-up", "canarymixup"), ("person", "canaryperson"), ("outside-firm", "canaryoutside") })
            {
                await host.Say(job, "hold.placed", $$"""{ "hold": "{{hold}}", "reason": "{{reason}}", "person": "canarymaker" }""");
                await Look();
                await host.Say(job, "hold.lifted", $$"""{ "hold": "{{hold}}", "reason": "{{reason}} lifted" }""");
            }

            await host.Say(job, "piece.given", """{ "kind": "case", "to": "firms/canaryfirm", "person": "canarymaker", "expectedBack": "2026-03-09" }""");
            await Look();
            await host.Say(job, "piece.taken", """{ "kind": "case", "from": "firms/canaryfirm", "person": "canarymaker" }""");
            await host.Say(job, "part.fitted", """{ "part": "canarymainspring", "lot": "CANARYLOT-9", "person": "canarymaker" }""");
            await host.Say(job, "finding.recorded", """{ "system": "power-and-train", "part": "canarybarrel", "condition": "canaryworn", "severity": "should", "person": "canarymaker" }""");
            await host.Service(job, "CANARY-20-417", "CANARY M 77.1");
            await Look();
            await host.Say(job, "case.opened", """{ "reason": "canaryopened", "person": "canarymaker" }""");
            await Look();
            await host.Say(job, "case.closed", $$"""{ "jobLabel": "{{job}}", "caseSerial": "CANARY-20-417", "movementNumber": "CANARY M 77.1", "person": "canarymaker" }""");
            await host.Say(job, "water-test.recorded", """{ "method": "dry", "pressureBar": 3, "holdSeconds": 60, "passed": true, "person": "canarymaker" }""");
            await host.Say(job, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "place": "winder", "person": "canarymaker" }""");
            host.Clock.Advance(Duration.FromHours(25));
            await host.Say(job, "wear-check.read", """{ "kind": "worn", "offsetSeconds": 4, "person": "canarymaker" }""");
            await host.Say(job, "final-control.refused", """{ "to": "dial-and-hands", "reason": "canaryrefusal", "person": "canarysecond" }""");
            await Look();
            foreach (var gate in new[] { "needs/dial-and-hands", "needs/casing" })
            {
                await host.Say(job, "waiver.given", $$"""{ "gate": "{{gate}}", "reason": "canarywaiver for {{gate}}", "person": "canarysecond" }""");
            }

            await host.Say(job, "stage.finished", """{ "stage": "dial-and-hands", "person": "canarymaker" }""");
            await host.Say(job, "case.closed", $$"""{ "jobLabel": "{{job}}", "caseSerial": "CANARY-20-417", "movementNumber": "CANARY M 77.1", "person": "canarymaker" }""");
            await host.Say(job, "water-test.recorded", """{ "method": "dry", "pressureBar": 3, "holdSeconds": 60, "passed": true, "person": "canarymaker" }""");
            await host.Say(job, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "place": "winder", "person": "canarymaker" }""");
            host.Clock.Advance(Duration.FromHours(25));
            await host.Say(job, "wear-check.read", """{ "kind": "worn", "offsetSeconds": 4, "person": "canarymaker" }""");
            await host.Say(job, "stage.finished", """{ "stage": "reserve-and-functions", "person": "canarymaker" }""");
            await host.Say(job, "final-control.passed", Passed);
            await host.Settle(job);
            await Look();
            await (await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected", "identitySeen": true }""")).Json();
            await Look();
            host.Clock.Advance(Duration.FromDays(12));
            await (await host.Desk.PostJson($"/v1/jobs/{job}/claims", """{ "text": "canaryclaim in the customer's words" }""")).Json();
            await (await host.Manager.PostJson($"/v1/jobs/{job}/claims/1/decision", """{ "covered": false, "reason": "canarydecision" }""")).Json();
            await Look();

            Assert.Superset(new HashSet<string> { "received", "your-decision", "waiting-for-part", "approved", "at-the-watchmaker", "ready", "yours-again" }, seen.ToHashSet());
            var all = await Watch(host);
            Assert.True(all.Watched > 40, $"only {all.Watched} things were looked for");
            Assert.NotEmpty(all.FindIn("was it Canaryname Quill at canaryfirm?"));
            foreach (var body in await host.Services.GetRequiredService<Reader>().Query<string>("select body from outbox"))
            {
                all.AssertClean(body, "what is told outside");
                Assert.DoesNotContain("canary", body, StringComparison.OrdinalIgnoreCase);
            }

            // Nor does what is counted; a figure that said too much would be found.
            var figures = await MetricsTests.Scrape(host);
            Clean(figures);
            host.Services.GetRequiredService<IMeterFactory>().Create("Workshop").CreateCounter<long>("workshop.too_much")
                .Add(1, new KeyValuePair<string, object?>("holder", "canarymaker"), new KeyValuePair<string, object?>("outcome", job));
            var tooMuch = await MetricsTests.Scrape(host);
            Assert.ThrowsAny<Exception>(() => Clean(tooMuch));
            Assert.ThrowsAny<Exception>(() => MetricsTests.AssertLabels(tooMuch));
            Assert.ThrowsAny<Exception>(() => Clean(string.Join('\n', tooMuch.Split('\n').Select(line => line.Replace("canarymaker", "")))));
            void Clean(string told)
            {
                all.AssertClean(told, "what is counted");
                Assert.DoesNotContain("canary", told, StringComparison.OrdinalIgnoreCase);
                Assert.All(pages.Select(page => page.Split('/')[^1]).Append(job), secret => Assert.DoesNotContain(secret, told));
            }

            // Forms are answered as cleanly as pages, also where they refuse.
            foreach (var form in new[] { "/answer", "/claim", "/wear-report" })
            {
                var refused = await (await host.Stranger.Send(HttpMethod.Post, pages[2] + form, "quote=1&accepted=no&text=x&stopped=yes&secondFactor=AB12CD", "application/x-www-form-urlencoded")).Content.ReadAsStringAsync();
                all.AssertClean(refused, form);
                Assert.DoesNotContain("canary", refused, StringComparison.OrdinalIgnoreCase);
            }

            await (await host.Stranger.PostJson("/v1/devices/pair", """{ "digits": "000000" }""")).Content.ReadAsStringAsync();
            await host.Sweep();
            all.AssertClean(log.ToString(), "the log");

            // The address that a letter holds stands in that letter, and nowhere else.
            await host.Save("rules", "main", LetterLinkTests.Shown);
            await host.TakeIn(LetterTests.Other("tom"));
            await LetterTests.Round(host);
            var reader = host.Services.GetRequiredService<Reader>();
            var letter = Assert.Single(await reader.Query<string>("select body from outbox where type = 'message.due'"));
            var token = LetterLinkTests.Token(JsonElement.Parse(letter).Text("text"));
            Assert.Equal(System.Net.HttpStatusCode.OK, (await host.Stranger.GetAsync($"/v1/public/{token}")).StatusCode);
            Assert.All(
                (await reader.Query<string>("select data from journal union all select body from outbox where type <> 'message.due'")).Append(log.ToString()).Append(await MetricsTests.Scrape(host)),
                text => Assert.DoesNotContain(token, text));
        }
        finally
        {
            Console.SetError(before);
        }

        Assert.DoesNotContain("Canaryname", log.ToString(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task No_page_of_the_demo_shows_what_is_the_houses_own_and_none_goes_backwards_but_for_a_decision()
    {
        var folder = ScratchFolder.New();
        try
        {
            await using var house = await DemoHouse.Open(
                new DemoOptions { Empty = false },
                MachineSettings.Read(new ConfigurationBuilder().AddInMemoryCollection(new Dictionary<string, string?> { [KnownSettings.StoragePath.Name] = folder, [KnownSettings.HttpPort.Name] = "0" }).Build()),
                CancellationToken.None);
            var reader = house.App.Services.GetRequiredService<Reader>();
            var rules = await house.App.Services.GetRequiredService<ShopRulesSource>().Read(Migrations.FirstSite);
            var watch = await reader.Read(LeakWatch.Of);

            // What the shop says of itself, and the mark that everything of the demo bears.
            var settings = await reader.Read(connection => ShopDocuments.Newest(connection, Migrations.FirstSite, "settings")!.Document);
            string[] ours = [.. JsonElement.Parse(settings).EnumerateObject().Where(member => member.Value.ValueKind == JsonValueKind.String).Select(member => member.Value.GetString()!), "DEMO"];
            var (shown, stages, pages) = (0, new HashSet<PublicStage>(), 0);
            foreach (var label in await reader.Query<string>("select label from job order by label"))
            {
                var job = Label.Read(label);
                var entries = await reader.Read(connection => Reader.Entries(connection, Migrations.FirstSite, job));
                var now = await reader.Read(connection => PublicReading.Of(connection, Migrations.FirstSite, job, rules)!);
                foreach (var view in Enum.GetValues<PublicView>())
                {
                    Page(MakePublicStatus.Of(now, view, entries.Max(entry => entry.Received), Language.German, "/v1/public/x"), Allowed[(int)view]);
                    pages++;
                }

                // As its customer would have seen it after each entry, in the order in which these came.
                ImmutableArray<Entry> arrived = [.. entries.OrderBy(entry => entry.Position)];
                var rank = 0;
                for (var told = 1; told <= arrived.Length; told++)
                {
                    var then = At(now, arrived[..told]);
                    var status = MakePublicStatus.Of(then, PublicView.Decide, arrived[told - 1].Received, told % 2 == 0 ? Language.German : Language.English, "/v1/public/x");
                    stages.Add(status.Stage);
                    shown++;
                    if (told % 3 == 0)
                    {
                        Page(status, Allowed[2]);
                    }

                    var reached = PublicRank.Of(then.Job.Progress.Reached)!.Value;
                    Assert.True(reached >= rank || arrived[told - 1].Event is QuoteAnswered { Accepted: true } or VariantChanged, $"{label}: {arrived[told - 1].Event.Type} brought it back to {then.Job.Progress.Reached}");
                    rank = reached;
                }
            }

            Assert.True(pages > 60 && shown > 500, $"only {pages} pages and {shown} moments were looked at");
            Assert.Superset(new HashSet<PublicStage> { PublicStage.Received, PublicStage.BeingExamined, PublicStage.YourDecision, PublicStage.Approved, PublicStage.AtTheWatchmaker, PublicStage.BeingTested, PublicStage.Ready, PublicStage.YoursAgain }, stages);
            foreach (var body in await reader.Query<string>("select body from outbox"))
            {
                watch.AssertClean(body, "what is told outside", ours);
            }

            void Page(PublicStatus page, IReadOnlySet<string>[] allowed)
            {
                var text = JsonSerializer.Serialize(page, WorkshopJson.Options);
                LeakWatch.AssertPaths(JsonElement.Parse(text), allowed);
                watch.AssertClean(text, $"the page of {page.Reference}", ours);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static readonly IReadOnlySet<string>[][] Allowed =
    [
        [LeakWatch.StatusPaths], [LeakWatch.StatusPaths, LeakWatch.AmountPaths], [LeakWatch.StatusPaths, LeakWatch.AmountPaths, LeakWatch.QuotePaths],
    ];

    private static PublicReading At(PublicReading now, ImmutableArray<Entry> told)
    {
        var counted = Reckoning.InOrder(told).Where(entry => entry.Counts).ToArray();
        return now with
        {
            Job = Job.Replay(now.Job.Label, told),
            Notes = [.. counted.Where(entry => entry.Event is NoteWritten { Audience: Audience.Customer }).Select(entry => (entry.Effective, ((NoteWritten)entry.Event).Text))],
            Quotes = [.. counted.Select(entry => entry.Event).OfType<QuoteSent>()],
        };
    }

    private static Task<LeakWatch> Watch(WorkshopHost host) => host.Services.GetRequiredService<Reader>().Read(LeakWatch.Of);
}
