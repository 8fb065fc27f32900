using System.Net;
using SkiaSharp;
using UglyToad.PdfPig;
using Workshop.Core.Labels;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;
using ZXing;

namespace Workshop.Service.Tests.Api.Labels;

/// <summary>Labels on paper, read back by libraries that did not draw them: ZXing the square code, PdfPig the sheets.</summary>
public class PrintLabelTests
{
    private const double PointsPerMillimetre = 72 / 25.4;

    [Theory]
    [BothEngines]
    public async Task A_scanner_reads_the_eight_characters_and_nothing_else(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();

        using var answer = await host.Bench.GetAsync($"/v1/labels/{label}/print.png");
        using var picture = SKBitmap.Decode(await answer.Content.ReadAsByteArrayAsync());

        Assert.Equal("image/png", answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal((38 * 12, 13 * 12), (picture.Width, picture.Height));
        Assert.Equal(label, Scan(picture));
    }

    [Fact]
    public async Task Another_roll_has_another_size_and_one_that_nobody_could_read_is_refused()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var svg = await host.Bench.GetStringAsync($"/v1/labels/{label}/print.svg?width=52.5&height=18");
        var pdf = await host.Bench.GetByteArrayAsync($"/v1/labels/{label}/print.pdf?width=52.5&height=18");
        var low = await (await host.Bench.GetAsync($"/v1/labels/{label}/print.svg?height=8")).Problem();
        var narrow = await (await host.Bench.GetAsync($"/v1/labels/{label}/print.svg?width=20")).Problem();
        var noNumber = await (await host.Bench.GetAsync($"/v1/labels/{label}/print.svg?width=wide")).Problem();
        var noForm = await (await host.Bench.GetAsync($"/v1/labels/{label}/print.gif")).Problem();
        var unknown = await (await host.Bench.GetAsync($"/v1/labels/{Label.Complete(LabelKind.Tray, [3, 1, 4, 1, 5, 9])}/print.svg")).Problem();
        var unreadable = await (await host.Bench.GetAsync("/v1/labels/J7K3MQ4U/print.svg")).Problem();

        Assert.Contains("width=\"52.5mm\" height=\"18mm\" viewBox=\"0 0 52.5 18\"", svg);
        Assert.Contains($"<title>{label[..4]} {label[4..]}, job</title>", svg);
        using var read = PdfDocument.Open(pdf);

        // The paper is given in whole points, a third of a millimetre each; what is drawn on it is not.
        Assert.Equal(52.5, read.GetPage(1).Width / PointsPerMillimetre, tolerance: 0.18);
        Assert.Equal(18, read.GetPage(1).Height / PointsPerMillimetre, tolerance: 0.18);
        Assert.Equal(["bad-fields", "bad-fields", "bad-fields", "no-such-thing", "label-unknown", "label-unreadable"], new[] { low, narrow, noNumber, noForm, unknown, unreadable }.Select(problem => problem.Code));
    }

    [Fact]
    public async Task A_label_says_what_it_is_on_and_warns_of_radium_and_of_having_been_replaced_and_names_nobody()
    {
        await using var host = await Counter.Open();
        var old = await host.TakeIn(Counter.WholeIntake.Replace("\"luminousPaint\": false", "\"luminousPaint\": true").Replace("2011", "1951"));
        await (await host.Manager.PostJson("/v1/labels", """{ "kind": "tray", "names": "trays/tray-12" }""")).Json();
        var tray = (await (await host.Manager.PostJson("/v1/labels", """{ "kind": "tray", "names": "trays/tray-13" }""")).Json()).Text("label");
        var blank = (await (await host.Manager.PostJson("/v1/labels", """{ "kind": "job" }""")).Json()).Text("label");

        var glowing = await TextOf(host, old);
        await host.Say(old, "label.replaced", $$"""{ "label": "{{old}}", "by": "{{blank}}", "reason": "torn", "person": "mara" }""");
        var replaced = await TextOf(host, old);

        Assert.Contains("RADIUM SUSPECTED", glowing);
        Assert.DoesNotContain("Marlow", glowing);
        Assert.DoesNotContain("Halyard", glowing);
        Assert.Contains("REPLACED, DO NOT USE", replaced);
        Assert.Contains("tray tray-13", await TextOf(host, tray));
        Assert.Contains("Tablett tray-13", await TextOf(host, tray, "de"));
    }

    [Theory]
    [BothEngines]
    public async Task Sheets_of_blanks_are_given_out_once_and_are_the_same_when_asked_for_again(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        const string Body = """{ "kind": "piece", "count": 70 }""";

        using var first = await host.Desk.Send(HttpMethod.Post, "/v1/labels/sheets", Body, "application/json", [("Idempotency-Key", "sheet-1")]);
        using var again = await host.Desk.Send(HttpMethod.Post, "/v1/labels/sheets", Body, "application/json", [("Idempotency-Key", "sheet-1")]);
        var labels = first.Headers.Location!.ToString().Split('=')[1].Split(',');
        using var pdf = PdfDocument.Open(await first.Content.ReadAsByteArrayAsync());
        using var printedAgain = PdfDocument.Open(await host.Bench.GetByteArrayAsync(first.Headers.Location));

        Assert.Equal((HttpStatusCode.Created, "application/pdf"), (first.StatusCode, first.Content.Headers.ContentType?.MediaType));
        Assert.Equal(first.Headers.Location, again.Headers.Location);
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(70, labels.Distinct().Count());
        Assert.Equal(2, pdf.NumberOfPages);
        Assert.Equal((210, 297), (Math.Round(pdf.GetPage(1).Width / PointsPerMillimetre), Math.Round(pdf.GetPage(1).Height / PointsPerMillimetre)));
        Assert.Equal(labels.Select(label => $"{label[..4]} {label[4..]}"), LabelsIn(pdf));
        Assert.Equal(LabelsIn(pdf), LabelsIn(printedAgain));
        Assert.Equal("Blank: it is on nothing yet", (await host.Bench.Get($"/v1/labels/{labels[0]}")).GetProperty("say").Text("line"));
    }

    [Fact]
    public async Task A_sheet_that_was_begun_is_used_up_and_things_of_the_house_get_theirs_by_name()
    {
        await using var host = await Counter.Open();

        using var answer = await host.Desk.PostJson("/v1/labels/sheets", """{ "kind": "tray", "names": ["trays/tray-1", "trays/tray-2"], "first": 68 }""");
        using var pdf = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync());
        var labels = answer.Headers.Location!.ToString().Split('=')[1].Split(',');

        Assert.Equal(2, pdf.NumberOfPages);
        Assert.Contains("tray tray-1", pdf.GetPage(1).Text);
        Assert.Contains("tray tray-2", pdf.GetPage(2).Text);
        Assert.Equal("trays/tray-2", (await host.Bench.Get($"/v1/labels/{labels[1]}")).Text("names"));
    }

    [Theory]
    [InlineData("""{ "kind": "tray" }""", "/count")]
    [InlineData("""{ "kind": "tray", "count": 1, "names": ["trays/t"] }""", "/count")]
    [InlineData("""{ "kind": "tray", "count": 301 }""", "/count")]
    [InlineData("""{ "kind": "tray", "names": ["benches/b"] }""", "/names/0")]
    [InlineData("""{ "kind": "expected", "count": 3 }""", "/kind")]
    [InlineData("""{ "kind": "tray", "count": 3, "as": "intake-cards" }""", "/kind")]
    [InlineData("""{ "kind": "tray", "count": 3, "first": 69 }""", "/first")]
    public async Task Sheets_that_cannot_be_are_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();

        Assert.Equal([pointer], (await (await host.Desk.PostJson("/v1/labels/sheets", body)).Problem()).Pointers);
    }

    [Fact]
    public async Task An_address_of_sheets_that_cannot_be_says_why()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        string[] wrong = ["", "?labels=", "?labels=J7K3MQ4U", $"?labels={Label.Complete(LabelKind.Tray, [3, 1, 4, 1, 5, 9])}", $"?labels={label}&first=0", $"?labels={label}&first=69"];

        foreach (var one in wrong)
        {
            Assert.Equal("bad-fields", (await (await host.Desk.GetAsync($"/v1/labels/sheets.pdf{one}")).Problem()).Code);
        }
    }

    [Theory]
    [BothEngines]
    public async Task A_card_filled_in_during_a_power_cut_becomes_the_job_of_its_label_and_no_other_watch_gets_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        using var answer = await host.Desk.PostJson("/v1/labels/sheets", """{ "kind": "job", "count": 2, "as": "intake-cards" }""");
        var labels = answer.Headers.Location!.ToString().Split('=')[1].Split(',');
        using var pdf = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync());

        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake.Replace("{ \"customer\"", $"{{ \"label\": \"{labels[0]}\", \"customer\""))).Json();
        var twice = await (await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake.Replace("{ \"customer\"", $"{{ \"label\": \"{labels[0]}\", \"customer\""))).Problem();
        var noJobs = await (await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake.Replace("{ \"customer\"", $"{{ \"label\": \"{Label.Complete(LabelKind.Tray, [3, 1, 4, 1, 5, 9])}\", \"customer\""))).Problem();
        var customers = (await host.Desk.Get("/v1/customers")).GetProperty("items").GetArrayLength();

        Assert.Equal(2, pdf.NumberOfPages);
        Assert.Equal((148, 210), (Math.Round(pdf.GetPage(1).Width / PointsPerMillimetre), Math.Round(pdf.GetPage(1).Height / PointsPerMillimetre)));
        Assert.Contains("Taken in by hand", pdf.GetPage(1).Text);
        Assert.Equal(4, LabelsIn(pdf).Count(label => label == $"{labels[0][..4]} {labels[0][4..]}"));
        Assert.Equal(labels[0], taken.Text("label"));
        Assert.Equal("label-bound", twice.Code);
        Assert.Equal(["/label"], noJobs.Pointers);
        Assert.Equal(1, customers);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_lost_badge_and_a_lost_blank_name_nothing_ever_again(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var tray = (await (await host.Manager.PostJson("/v1/labels", """{ "kind": "tray", "names": "trays/tray-12" }""")).Json()).Text("label");
        var blank = (await (await host.Manager.PostJson("/v1/labels", """{ "kind": "job" }""")).Json()).Text("label");

        var gone = await (await host.Manager.DeleteAsync($"/v1/labels/{tray}")).Json();
        await (await host.Manager.DeleteAsync($"/v1/labels/{blank}")).Json();
        var again = await (await host.Manager.DeleteAsync($"/v1/labels/{tray}")).Json();
        var rebound = await (await host.Manager.Put($"/v1/labels/{tray}", """{ "names": "trays/tray-12" }""")).Problem();
        var intake = await (await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake.Replace("{ \"customer\"", $"{{ \"label\": \"{blank}\", \"customer\""))).Problem();
        var scan = (await (await host.Manager.Send(
            HttpMethod.Post, "/v1/bench-events",
            $$"""{ "specversion": "1.0", "id": "scan-1", "source": "/desk/office", "type": "scan.made", "data": { "codes": ["{{tray}}"], "person": "mara" } }""",
            "application/cloudevents+json")).Problem()).Whole;
        var watch = await (await host.Manager.DeleteAsync($"/v1/labels/{job}")).Problem();
        var print = await (await host.Manager.GetAsync($"/v1/labels/{tray}/print.svg")).Problem();
        var byDesk = await (await host.Desk.DeleteAsync($"/v1/labels/{tray}")).Problem();

        Assert.All([gone, again], one => Assert.Equal(("stop", true), (one.GetProperty("say").Text("signal"), one.GetProperty("withdrawn").GetBoolean())));
        Assert.Equal("It was on trays/tray-12", gone.GetProperty("say").Text("more"));
        Assert.Equal(["label-bound", "label-bound", "bad-fields", "label-unknown", "not-for-this-role"], new[] { rebound, intake, watch, print, byDesk }.Select(one => one.Code));
        Assert.Equal($"{tray} was taken out of use", scan.GetProperty("say").Text("line"));
        Assert.Empty(host.Check().Differences);
    }

    private static IEnumerable<string> LabelsIn(PdfDocument pdf) => pdf.GetPages()
        .SelectMany(page => System.Text.RegularExpressions.Regex.Matches(page.Text, "[2-9A-Y]{4} [2-9A-Y]{4}").Select(found => found.Value));

    private static async Task<string> TextOf(WorkshopHost host, string label, string language = "en")
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, $"/v1/labels/{label}/print.pdf");
        request.Headers.AcceptLanguage.ParseAdd(language);
        using var answer = await host.Bench.SendAsync(request);
        using var pdf = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync());
        return pdf.GetPage(1).Text;
    }

    private static string? Scan(SKBitmap picture)
    {
        var pixels = picture.Pixels.SelectMany(pixel => new[] { pixel.Red, pixel.Green, pixel.Blue }).ToArray();
        return new BarcodeReaderGeneric().Decode(new RGBLuminanceSource(pixels, picture.Width, picture.Height))?.Text;
    }
}
