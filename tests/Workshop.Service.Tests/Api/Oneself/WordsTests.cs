using System.Net;
using System.Net.Http.Headers;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Features.Letters;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Letters;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Oneself;

public class WordsTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    /// <summary>Enums of the service that no answer holds as a word of people: storage's own, and operations, which their addresses explain.</summary>
    private static readonly Type[] Inward = [typeof(StorageEngine), typeof(IdempotencyState), typeof(Operation), typeof(LetterPart), typeof(LetterState), typeof(MailOutcome)];

    public static TheoryData<Type> Enums => [.. typeof(Writer).Assembly.GetExportedTypes().Where(type => type.IsEnum && !Inward.Contains(type))];

    [Theory, MemberData(nameof(Enums))]
    public void Every_word_of_the_services_own_lists_has_a_text(Type type)
    {
        var name = type.Name switch
        {
            "EventOutcome" => "outcome",
            "PolishWish" => "polish",
            var other => char.ToLowerInvariant(other[0]) + other[1..],
        };

        var words = Assert.Single(WordLists.All, list => list.Name == name).Words.Select(row => row.Word).ToHashSet();

        Assert.All(Enum.GetNames(type), member => Assert.Contains(Word.Hyphenated(member), words));
    }

    [Fact]
    public void Every_problem_that_is_no_gates_can_be_said_in_German() => Assert.All(
        ProblemCatalogue.All.Except(GateProblems.All), kind =>
        {
            Assert.NotNull(GermanPhrases.Of(kind.Title));
            Assert.NotNull(GermanPhrases.Of(kind.Remedy));
            Assert.InRange(GermanPhrases.Of(kind.Title)!.Length, 1, Phrase.LineAtMost);
        });

    [Theory]
    [InlineData(null, Language.English)]
    [InlineData("de", Language.German)]
    [InlineData("de-CH, de;q=0.9, en;q=0.8", Language.German)]
    [InlineData("en-GB, de", Language.English)]
    [InlineData("en;q=0.3, de;q=0.7", Language.German)]
    [InlineData("fr-CH, fr;q=0.9, de;q=0.5, en;q=0.4", Language.German)]
    [InlineData("fr, *;q=0.1", Language.English)]
    [InlineData("de;q=0, en", Language.English)]
    [InlineData("fr", Language.English)]
    [InlineData("DE", Language.German)]
    [InlineData("den", Language.English)]
    [InlineData(";;;", Language.English)]
    public void The_language_asked_for_is_the_most_welcome_of_ours(string? header, Language language) =>
        Assert.Equal(language, LanguageAsked.BestOf(header is null ? [] : [header]));

    [Fact]
    public async Task All_words_are_given_in_the_callers_language_and_not_again_to_who_has_them()
    {
        var host = await hosts.On(StorageEngine.Sqlite);

        using var english = await host.Bench.GetAsync("/v1/words");
        using var german = await host.Bench.Send(HttpMethod.Get, "/v1/words", null, "application/json", ("Accept-Language", "de"));
        using var again = await host.Bench.Send(HttpMethod.Get, "/v1/words", null, "application/json", ("Accept-Language", "de"), ("If-None-Match", german.Headers.ETag!.ToString()));
        using var other = await host.Bench.Send(HttpMethod.Get, "/v1/words", null, "application/json", ("If-None-Match", german.Headers.ETag!.ToString()));

        var words = (await german.Json()).GetProperty("words");
        Assert.Equal(WordLists.All.Select(list => list.Name), words.EnumerateObject().Select(list => list.Name));
        Assert.Equal("Zerlegen", words.GetProperty("stage").GetProperty("takedown").GetString());
        Assert.Equal("takedown", (await english.Json()).GetProperty("words").GetProperty("stage").GetProperty("takedown").GetString());
        Assert.Equal(("en", "de"), (Assert.Single(english.Content.Headers.ContentLanguage), Assert.Single(german.Content.Headers.ContentLanguage)));
        Assert.Contains("Accept-Language", german.Headers.Vary);
        Assert.Equal((HttpStatusCode.NotModified, HttpStatusCode.OK), (again.StatusCode, other.StatusCode));
        Assert.Contains("Accept-Language", again.Headers.Vary);
    }

    [Theory, BothEngines]
    public async Task A_bench_that_asks_for_German_is_answered_in_German(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var bench = Device.Pair(host);
        bench.Client.DefaultRequestHeaders.AcceptLanguage.Add(StringWithQualityHeaderValue.Parse("de-CH"));
        var watch = await HouseWatch.TakeIn(host, bench, hazards: ["radium-suspected"]);

        var refused = await watch.Tells("stage.started", """{"stage":"takedown","person":"mara"}""");
        var done = await watch.Finish(Stage.Diagnosis);
        var wrong = await watch.Tells("wear-check.read", """{"kind":"worn","stopped":true,"offsetSeconds":2}""");
        var unknown = await watch.Tells("beauty.admired", "{}");

        Assert.Equal("Kostenvoranschlag: noch nicht fertig", refused.Line);
        Assert.Equal("Hilft weiter: wer es macht; die Leitung kann davon absehen", refused.Say.GetProperty("more").GetString());
        Assert.Equal("wer es macht; die Leitung kann davon absehen", refused.Problem.GetProperty("helps").GetString());
        Assert.Equal("Diagnose fertig. Weiter: Kostenvoranschlag", done.Line);
        Assert.StartsWith("RADIUM möglich", done.Say.GetProperty("cautions")[0].GetProperty("line").GetString());
        Assert.Equal(("Einige Felder stimmen nicht", "/data/offsetSeconds: Eine stehende Uhr hat keine Abweichung."), (wrong.Line, wrong.Say.GetProperty("more").GetString()));
        Assert.Equal("/type ist nicht, wie es sein soll; errors[] sagt mehr.", unknown.Say.GetProperty("more").GetString());
    }

    [Fact]
    public async Task What_was_said_once_is_given_again_as_it_was_said()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        var note = watch.Bench.Write("note.written", watch.Label.ToString(), """{"text":"a note"}""");
        var first = await watch.Bench.Post(note);
        watch.Bench.Client.DefaultRequestHeaders.AcceptLanguage.Add(StringWithQualityHeaderValue.Parse("de"));

        var again = await watch.Bench.Post(note);

        Assert.Equal(("accepted", "replayed"), (first.Outcome, again.Outcome));
        Assert.Equal(("Noted", "Noted"), (first.Line, again.Line));
    }

    [Fact]
    public async Task A_job_tells_what_stands_against_its_next_steps_in_the_callers_language()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);

        using var answer = await host.Bench.Send(HttpMethod.Get, $"/v1/jobs/{watch.Label}", null, "application/json", ("Accept-Language", "de"));

        var takedown = (await answer.Json()).GetProperty("allowedNext").EnumerateArray().Single(step => step.TryGetProperty("stage", out var stage) && stage.GetString() == "takedown");
        Assert.Equal("Kostenvoranschlag: noch nicht fertig", takedown.GetProperty("against")[0].GetProperty("line").GetString());
    }
}
