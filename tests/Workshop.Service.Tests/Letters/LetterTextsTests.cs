using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Parts;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Letters;
using Workshop.Service.Letters;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Documents;

namespace Workshop.Service.Tests.Letters;

/// <summary>
/// Every moment in every language for one watch's rich life, against texts that somebody has read aloud and approved. A text that was
/// changed on purpose is written anew with WORKSHOP_APPROVE=1, and read again.
/// </summary>
public partial class LetterTextsTests(LetterTextsTests.Life life) : IClassFixture<LetterTextsTests.Life>
{
    // What only the house knows, and what nobody may claim.
    private static readonly string[] Forbidden =
    [
        "certif", "zertifi", "waiver", "mix-up", "declared", "margin", "cage", "supplier", "lieferant", "bench", "werktisch", "tresor", " safe", "mara", "otto", "240000", "2400", "mother", "gorse", "heather",
        "20-417", "M 77.1", "winder", "wear-check", "null", "customer-",
    ];

    private const string Page = "https://watches.vennlowe.example/page/Qm9uZHJ5Y2FsaWJlcmlzaW52ZW50ZWRoZXJlISE";
    private const string OtherPage = "https://watches.vennlowe.example/page/VGlydmFsbGVpc2FuaW52ZW50ZWRtYWtlcnRvbzE";

    public static TheoryData<LetterMoment, Language> Letters
    {
        get
        {
            var all = new TheoryData<LetterMoment, Language>();
            foreach (var moment in Enum.GetValues<LetterMoment>())
            {
                all.Add(moment, Language.English);
                all.Add(moment, Language.German);
            }

            return all;
        }
    }

    [Theory, MemberData(nameof(Letters))]
    public void A_letter_reads_as_it_was_approved(LetterMoment moment, Language language)
    {
        var made = life.Of(moment, language);
        Reads(made, $"{Word.Of(moment)}.{(language == Language.German ? "de" : "en")}.txt");

        // The address stands alone on its line, and leads where it says.
        if (moment is LetterMoment.OrderReceived or LetterMoment.KitSent or LetterMoment.ArrivalAsked)
        {
            return;
        }

        Assert.Single(made.Text.Split('\n'), line => line == Page);
        Assert.Single(Links().Matches(made.Html), link => link.Value == $"<a href=\"{Page}\">{Page}</a>");
    }

    // Where a shop shows no pages, what asks for something says where else.
    [Theory]
    [InlineData(LetterMoment.QuoteReady)]
    [InlineData(LetterMoment.QuoteReminder)]
    [InlineData(LetterMoment.SupplementaryQuote)]
    [InlineData(LetterMoment.WearAskedWeek)]
    [InlineData(LetterMoment.WearAskedMonth)]
    [InlineData(LetterMoment.WearAskedBack)]
    public void A_letter_of_a_shop_that_shows_no_pages_reads_as_it_was_approved(LetterMoment moment)
    {
        foreach (var language in Enum.GetValues<Language>())
        {
            var made = life.Of(moment, language, LetterPages.None);
            Reads(made, $"{Word.Of(moment)}.no-page.{(language == Language.German ? "de" : "en")}.txt");
            Assert.DoesNotContain("href", made.Html);
        }
    }

    [Theory]
    [InlineData(Language.English)]
    [InlineData(Language.German)]
    public void A_letter_about_two_watches_reads_as_it_was_approved(Language language) =>
        Reads(life.OfTwo(LetterMoment.ReadyToCollect, LetterMoment.QuoteReady, language), $"two-watches.{(language == Language.German ? "de" : "en")}.txt");

    private static void Reads(MadeLetter made, string name)
    {
        var whole = $"{made.Subject}\n\n{made.Text}\n\n----\n{made.Html}\n";
        Assert.DoesNotMatch(Leftover(), whole);
        Assert.All(Forbidden, word => Assert.DoesNotContain(word, whole, StringComparison.OrdinalIgnoreCase));
        Assert.StartsWith("<!doctype html>", made.Html);
        Assert.DoesNotContain("src=", made.Html);
        Approved(name, whole);
    }

    [Theory, MemberData(nameof(Letters))]
    public void The_text_and_the_html_of_a_letter_say_the_same(LetterMoment moment, Language language)
    {
        var made = life.Of(moment, language);
        var spoken = System.Net.WebUtility.HtmlDecode(Tags().Replace(made.Html[made.Html.IndexOf("<body>", StringComparison.Ordinal)..], " "));

        Assert.Equal(Words().Matches(made.Text).Select(word => word.Value), Words().Matches(spoken).Select(word => word.Value));
    }

    [Fact]
    public void Every_text_that_the_program_brings_along_is_there()
    {
        foreach (var moment in Word.All<LetterMoment>().Append(LetterTexts.Frame))
        {
            Assert.NotEmpty(LetterTexts.NamesOf(moment));
        }
    }

    // Common practice: what a customer's page never says is in no letter either, whatever stood in the job.
    private static void Approved(string name, string text)
    {
        var path = Path.Combine(Repository.Root, "tests", "Workshop.Service.Tests", "Letters", "Approved", name);
        if (Environment.GetEnvironmentVariable("WORKSHOP_APPROVE") == "1")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, text);
        }

        Assert.Equal(File.ReadAllText(path), text);
    }

    [GeneratedRegex(@"\{\{|\}\}|\{%|%\}|\(\)| ,| \.|\.\.| :|  (?! *$)|\bnil\b")]
    private static partial Regex Leftover();

    [GeneratedRegex("<a .*?</a>")]
    private static partial Regex Links();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tags();

    [GeneratedRegex(@"[\p{L}\p{N}]+")]
    private static partial Regex Words();

    /// <summary>One watch's life over HTTP, looked at at the moments at which its letters are written.</summary>
    public sealed class Life : IAsyncLifetime
    {
        private readonly List<(LetterMoment[] Moments, LetterReading Read, StoredCustomer Customer, LocalDate Today)> looks = [];
        private WorkshopHost? host;
        private string job = "";

        public async Task InitializeAsync()
        {
            host = await Counter.Open();
            host.SetTo(2026, 3, 2, 10);
            await host.Save("settings", "main", """{ "shopName": "The Watch Workshop at Vennlowe", "address": "4 Quay Steps, Vennlowe", "telephone": "+44 1632 960100", "email": "desk@vennlowe.example" }""");
            await host.Save("rules", "main", """{ "money": { "kept": "here" } }""");
            job = await host.TakeIn();
            await Look(LetterMoment.OrderReceived, LetterMoment.KitSent, LetterMoment.ArrivalAsked, LetterMoment.ReceivedSafely);
            await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
            await Desk("quotes",
                """
                { "lines": [ { "text": "Full service", "amountMinor": 48000, "taxMinor": 8000 }, { "text": "New crystal", "amountMinor": 6000, "taxMinor": 1000, "kind": "option", "optional": true, "id": "crystal" } ],
                  "currency": "GBP", "workingDays": 20, "depositMinor": 15000, "feeOnRefusalMinor": 4000 }
                """);
            host.SetTo(2026, 3, 5, 9);
            await Look(LetterMoment.QuoteReady, LetterMoment.QuoteReminder, LetterMoment.QuoteExpired);
            await Desk("quotes/1/answer", """{ "accepted": true, "options": [ { "option": "crystal", "accepted": true } ] }""");
            await Look(LetterMoment.PaymentAsked);
            await Pay("deposit", 15_000);
            await Look(LetterMoment.ApprovalConfirmed);
            await Desk("quotes", """{ "lines": [ { "text": "New mainspring", "amountMinor": 3500, "taxMinor": 583 } ], "currency": "GBP", "supplementary": true }""");
            await Look(LetterMoment.SupplementaryQuote);
            await Desk("quotes/2/answer", """{ "accepted": true }""");
            host.SetTo(2026, 3, 10, 9);
            await (await host.Desk.PostJson("/v1/promises/moves", $$"""{ "moves": [ { "job": "{{job}}", "to": "2026-04-15", "reason": "part" } ] }""")).Json();
            await Look(LetterMoment.DateChanged, LetterMoment.PartDelayed);
            await host.Service(job);
            await Look(LetterMoment.Tested, LetterMoment.ReadyToCollect, LetterMoment.ReadyReminder);
            await Pay("balance", 45_000);
            await Look(LetterMoment.RefundOwed);
            await Pay("refund", 2_500);
            await Desk("hand-over", """{ "how": "dispatched" }""");
            await Look(LetterMoment.Dispatched, LetterMoment.HandedOver, LetterMoment.ReturnedUnrepaired, LetterMoment.WearAskedWeek);
            host.SetTo(2026, 3, 25, 12);
            await Desk("wear-reports", """{ "amount": 2, "unit": "minutes", "overDays": 7 }""");
            await Look(LetterMoment.WearAskedBack);
            await Desk("wear-reports", """{ "amount": 2, "unit": "minutes", "direction": "gains", "overDays": 7 }""");
            await Look(LetterMoment.WearInvitation, LetterMoment.WearAskedMonth);
            await Desk("claims", """{ "reportedOn": "2026-03-24", "text": "runs fast" }""");
            await Look(LetterMoment.ClaimReceived);
            await (await host.Manager.PostJson($"/v1/jobs/{job}/claims/1/decision", """{ "covered": false, "reason": "magnetised on a loudspeaker", "goodwill": "magnetism-removed" }""")).Json();
            await (await host.Manager.PostJson($"/v1/jobs/{job}/letters/damage-told/release", """{ "words": "When we closed the case, a spring bar left a scratch inside one lug." }""")).Json();
            await (await host.Manager.PostJson($"/v1/jobs/{job}/letters/loss-told/release", """{ "words": "One of the two links that came with the bracelet." }""")).Json();
            await Look(LetterMoment.ClaimDecided, LetterMoment.DamageTold, LetterMoment.LossTold, LetterMoment.WarrantyEndsSoon, LetterMoment.WaterTestDue, LetterMoment.CellDue, LetterMoment.ServiceDue);
        }

        public async Task DisposeAsync() => await host!.DisposeAsync();

        public MadeLetter Of(LetterMoment moment, Language language, LetterPages? pages = null)
        {
            var (paragraph, customer, today) = Paragraph(moment);
            return Made([paragraph], customer, today, language, pages ?? LetterPages.At((_, _) => Page));
        }

        /// <summary>One letter about this watch at a moment, and about another one like it at another.</summary>
        public MadeLetter OfTwo(LetterMoment moment, LetterMoment ofOther, Language language)
        {
            var (paragraph, customer, today) = Paragraph(moment);
            var (other, _, _) = Paragraph(ofOther);
            var label = Label.Complete(LabelKind.Job, [8, 7, 6, 5, 4, 3]);
            other = other with { Read = other.Read with { Job = other.Read.Job with { Label = label }, Watch = other.Read.Watch! with { Maker = "Tirvalle", Model = null } } };
            var made = Made([paragraph, other], customer, today, language, LetterPages.At((of, _) => of == label ? OtherPage : Page));
            return With(made, text => text.Replace(label.ToString(), "J4TQ2M9X"));
        }

        private (LetterParagraph Paragraph, StoredCustomer Customer, LocalDate Today) Paragraph(LetterMoment moment)
        {
            var (_, looked, customer, today) = looks.Single(look => look.Moments.Contains(moment));
            var read = Otherwise(looked, moment);

            // Moments of an order, of another end or of another kind of watch have no occasion of their own in this life.
            var occasion = read.Occasions(LetterJudge.At(today, new LocalTime(12, 0), read.Rules)).LastOrDefault(one => one.Moment == moment) ?? new LetterOccasion(moment, "1", default);
            return (new LetterParagraph(read, occasion), customer, today);
        }

        private MadeLetter Made(LetterParagraph[] paragraphs, StoredCustomer customer, LocalDate today, Language language, LetterPages pages)
        {
            var reader = customer with { Language = language == Language.German ? "de-CH" : "en" };
            var made = host!.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => MakeLetter.Of(new LetterHouse(turn), reader, paragraphs, today, pages)).GetAwaiter().GetResult();
            return With(made, text => text.Replace(job, "J7K3MQ4T"));
        }

        private static MadeLetter With(MadeLetter made, Func<string, string> change) => new(change(made.Subject), change(made.Text), change(made.Html));

        // What this life did not bring: a part that slips, a quote that was refused.
        private static LetterReading Otherwise(LetterReading read, LetterMoment moment) => moment switch
        {
            LetterMoment.OrderReceived or LetterMoment.KitSent or LetterMoment.ArrivalAsked => read with { Job = read.Job with { Intake = read.Job.Intake with { TakenInAt = null } } },
            LetterMoment.PartDelayed => read with
            {
                Entries = read.Entries.Add(read.Entries.First(entry => entry.Counts) with { Event = new PartExpected { Part = "stem-41", ExpectedOn = new LocalDate(2026, 3, 23), Was = new LocalDate(2026, 3, 12) } }),
            },
            LetterMoment.ReturnedUnrepaired => read with
            {
                Job = read.Job with
                {
                    Standings = read.Job.Standings with { ReturnsUnrepaired = true },
                    Quotes = read.Job.Quotes with { Versions = [read.Job.Quotes.Versions[0] with { Accepted = false }] },
                },
            },
            _ => read,
        };

        private async Task Look(params LetterMoment[] moments) => looks.Add(await host!.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
        {
            var read = LetterReading.Of(turn, Label.Read(job))!;
            var ordered = read with { Job = read.Job with { Intake = read.Job.Intake with { Ordered = new OrderedAs(Label.Read(job), "/storefront/shop", "V-1042", "1", 1) } } };
            return (moments, ordered, CustomerStore.Find(turn, read.Job.Intake.Customer)!, turn.Rules.Calendar.DateOf(turn.Now));
        }));

        private async Task Desk(string path, string body) => await (await host!.Desk.PostJson($"/v1/jobs/{job}/{path}", body)).Json();

        private Task Pay(string kind, int amount) => Desk("payments", $$"""{ "kind": "{{kind}}", "amountMinor": {{amount}}, "currency": "GBP", "how": "card" }""");
    }
}
