using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class EventCodecTests
{
    public static TheoryData<string> Types => [.. EventCatalogue.Rows.Select(row => row.Type)];

    [Theory, MemberData(nameof(Types))]
    public void What_an_event_says_survives_writing_and_reading(string type)
    {
        var read = EventCodec.Read(type, EventSamples.Full[type]);

        Assert.Empty(read.Faults);
        Assert.Empty(read.UnknownMembers);
        Assert.IsType(EventCatalogue.RecordOf(type)!, read.Event);
        AssertSameJson(EventSamples.Full[type], EventCodec.Write(read.Event!));
        AssertSameJson(EventSamples.Full[type], EventCodec.Write(EventCodec.ReadKept(type, EventSamples.Full[type])));
    }

    [Fact]
    public void Every_sample_holds_every_member_of_its_event()
    {
        foreach (var (type, record, _) in EventCatalogue.Rows)
        {
            var members = WorkshopJson.Stored.GetTypeInfo(record).Properties.Where(member => member.Set is not null).Select(member => member.Name);
            using var sample = JsonDocument.Parse(EventSamples.Full[type]);
            Assert.Equal(members.Order(), sample.RootElement.EnumerateObject().Select(member => member.Name).Order());
        }
    }

    [Fact]
    public void How_an_event_is_meant_is_read_beside_what_it_says()
    {
        const string Data = """
            {"stage":"casing","already":true,"despite":["needs/regulation"],"insteadOf":{"source":"/devices/bench-2/1","id":"e-1"},"bench":"bench-2","person":"A234567B"}
            """;

        var read = EventCodec.Read("stage.started", Data);

        Assert.Empty(read.Faults);
        Assert.Empty(read.UnknownMembers);
        Assert.Equal(new StageStarted { Stage = Stage.Casing }, read.Event);
        Assert.True(read.Manner.Already);
        Assert.Equal<string>(["needs/regulation"], read.Manner.Despite);
        Assert.Equal(new EventId("/devices/bench-2/1", "e-1"), read.Manner.InsteadOf);
        Assert.Equal("bench-2", read.Manner.Bench);
        Assert.Equal("A234567B", read.Manner.Person);
        AssertSameJson(Data, EventCodec.Write(read.Event!, read.Manner));
    }

    [Fact]
    public void A_member_that_is_all_default_is_written_for_the_plain_manner_too()
    {
        Assert.Equal("""{"stage":"casing"}""", EventCodec.Write(new StageStarted { Stage = Stage.Casing }, new Manner { Despite = [] }));
    }

    [Fact]
    public void A_newer_tablet_does_not_poison_its_queue()
    {
        var read = EventCodec.Read("note.written", """{"text":"dry","mood":"good","light":{"lux":[1,2]}}""");

        Assert.Empty(read.Faults);
        Assert.Equal<string>(["mood", "light"], read.UnknownMembers);
        Assert.Equal("dry", Assert.IsType<NoteWritten>(read.Event).Text);
    }

    [Fact]
    public void All_faults_of_an_event_come_at_once_with_a_pointer_and_a_sentence()
    {
        var read = EventCodec.Read("stage.sent-back", """{"stage":"washing","reason":7,"despite":"all","already":"yes"}""");

        Assert.Null(read.Event);
        Assert.Equal(["/already", "/despite", "/reason", "/stage", "/to"], read.Faults.Select(fault => fault.Pointer));
        Assert.Equal("This is not true or false.", read.Faults[0].Detail);
        Assert.Equal("This is not a list.", read.Faults[1].Detail);
        Assert.Equal("This is not text.", read.Faults[2].Detail);
        Assert.StartsWith("'washing' is not one of expected, intake, diagnosis", read.Faults[3].Detail);
        Assert.Equal("'to' is missing.", read.Faults[4].Detail);
    }

    [Theory]
    [InlineData("rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4},{"position":"sideways","ratePerDaySeconds":4}]}""", "/readings/1/position", "'sideways' is not one of dial-up")]
    [InlineData("rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":"4"}]}""", "/readings/0/ratePerDaySeconds", "This is not a number.")]
    [InlineData("rate-set.recorded", """{"readings":[{"position":"dial-up"}]}""", "/readings/0", "Missing: ratePerDaySeconds.")]
    [InlineData("wear-check.started", """{"kind":"worn","owed":"24:00:00"}""", "/owed", "'24:00:00' is not elapsed time")]
    [InlineData("wear-check.started", """{"kind":"worn","owed":"P2D"}""", "/owed", "'P2D' is not elapsed time")]
    [InlineData("wear-check.started", """{"kind":"worn","shownDay":1.5}""", "/shownDay", "This is not a whole number.")]
    [InlineData("hold.placed", """{"hold":"query","until":"20.3.2026"}""", "/until", "")]
    [InlineData("note.written", """{"text":null}""", "/text", "This must not be null.")]
    [InlineData("note.written", """{"text":"a","text":"b"}""", "", "'text' is there twice.")]
    [InlineData("note.written", """{"text":"a","person":"ma\u0000ra"}""", "", "A text holds the character U+0000.")]
    [InlineData("note.written", """["text"]""", "", "The data of an event is an object.")]
    [InlineData("note.written", """{"text":""", "", "This is not readable JSON.")]
    [InlineData("note.scribbled", "{}", "", "There is no event of the type 'note.scribbled'.")]
    public void A_fault_is_a_pointer_and_a_sentence(string type, string data, string pointer, string sentence)
    {
        var fault = Assert.Single(EventCodec.Read(type, data).Faults);

        Assert.Equal(pointer, fault.Pointer);
        Assert.StartsWith(sentence, fault.Detail);
        Assert.DoesNotContain("System.", fault.Detail);
        Assert.DoesNotContain("Path:", fault.Detail);
    }

    [Fact]
    public void A_backslash_before_zeros_is_an_ordinary_text() =>
        Assert.Empty(EventCodec.Read("note.written", """{"text":"engraved \\u0000"}""").Faults);

    [Fact]
    public void Nothing_judged_is_written_as_nothing()
    {
        Assert.Equal("{}", EventCodec.WriteJudged(Judged.Nothing));
        Assert.Equal("{}", EventCodec.WriteJudged(new Judged()));
        Assert.Same(Judged.Nothing, EventCodec.ReadJudged("{}"));
    }

    [Fact]
    public void What_was_judged_survives_writing_and_reading()
    {
        var judged = new Judged
        {
            Person = "mara",
            Bench = "bench-2",
            Role = "manager",
            Passing = ["needs/regulation"],
            Failed = ["needs/casing"],
            WaiversUsed = [new EventId("/devices/bench-2/1", "w-1")],
            Route = ShopRulesReader.ReadRoute(Default("variant/full-automatic.json")),
            Wear = new WearTerms
            {
                Window = new RateWindow(-4, 10.5m),
                Owed = Duration.FromHours(48),
                ForAPass = Duration.FromHours(22) + Duration.FromMinutes(30),
                FlaggedBeyond = Duration.FromHours(72),
                StartUncertaintySeconds = 1m,
                ByEyeSeconds = 0.5m,
                FailsBeforeTheManager = 3,
            },
            UsableUntil = Instant.FromUtc(2026, 3, 2, 23, 0),
            Warranty =
            [
                new WarrantyTerm("movement", Period.FromMonths(24), new LocalDate(2025, 3, 14), new LocalDate(2027, 3, 14)),
                new WarrantyTerm("rate", Period.FromMonths(3), new LocalDate(2025, 3, 14), new LocalDate(2025, 6, 21))
                {
                    Start = WarrantyStart.PresumedDelivered, From = new LocalDate(2025, 3, 21), Text = "one re-adjustment", Rules = WarrantyRuleSet.ShopDefault with { NewWork = null },
                    DaysOff = new DaysOff { When = RollWhen.WeekendOrHoliday, Weekdays = [IsoDayOfWeek.Sunday], Dates = [new LocalDate(2025, 6, 23)], KnownThrough = new LocalDate(2027, 6, 21) },
                },
            ],
        };

        var text = EventCodec.WriteJudged(judged);

        Assert.Equal(text, EventCodec.WriteJudged(EventCodec.ReadJudged(text)));
        Assert.Contains("\"forAPass\":\"PT22H30M\"", text);
        Assert.Contains("\"term\":\"P24M\"", text);
        Assert.Contains("\"needs\":[\"inspection\",\"quote!\"]", text);
        Assert.Contains("\"wornRate\":{\"lowest\":-4,\"highest\":10}", text);
        Assert.Empty(EventCodec.ReadJudged("""{"person":"mara"}""").Passing);

        // What a rule set does not have is not there again when it is read.
        var rate = EventCodec.ReadJudged(text).Warranty!.Value[1];
        Assert.Equal((null, Period.FromDays(30)), (rate.CountedBy.NewWork, rate.CountedBy.Claim.WatchArrivesWithin));
        Assert.Equal(new LocalDate(2025, 6, 24), rate.DaysOff!.Roll(new LocalDate(2025, 6, 22)));
        Assert.Null(EventCodec.ReadJudged(text).Warranty!.Value[0].Rules);
    }

    [Fact]
    public void A_hand_over_without_warranty_lines_is_another_thing_than_none_decided()
    {
        var none = EventCodec.ReadJudged(EventCodec.WriteJudged(new Judged { Warranty = ImmutableArray<WarrantyTerm>.Empty }));

        Assert.True(none.Warranty is { IsEmpty: true });
    }

    internal static string Default(string name)
    {
        using var text = new StreamReader(typeof(EventCodec).Assembly.GetManifestResourceStream($"Defaults/{name}")!);
        return text.ReadToEnd();
    }

    private static void AssertSameJson(string expected, string actual)
    {
        using var one = JsonDocument.Parse(expected);
        using var other = JsonDocument.Parse(actual);
        Assert.True(JsonElement.DeepEquals(one.RootElement, other.RootElement), $"expected {expected}, was {actual}");
    }
}
