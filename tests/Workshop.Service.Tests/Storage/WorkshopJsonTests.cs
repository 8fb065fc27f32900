using System.Text.Json;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class WorkshopJsonTests
{
    [Theory]
    [InlineData("PT24H", 24 * 3600)]
    [InlineData("PT39H45M", (39 * 3600) + (45 * 60))]
    [InlineData("PT0S", 0)]
    [InlineData("PT1.5S", 1.5)]
    [InlineData("PT1M0.25S", 60.25)]
    [InlineData("-PT6H10M", -((6 * 3600) + 600))]
    [InlineData("PT168H", 168 * 3600)]
    public void Elapsed_time_is_written_in_hours_minutes_and_seconds(string text, double seconds)
    {
        var duration = Duration.FromSeconds(seconds);

        Assert.Equal($"\"{text}\"", JsonSerializer.Serialize(duration, WorkshopJson.Options));
        Assert.Equal(duration, JsonSerializer.Deserialize<Duration>($"\"{text}\"", WorkshopJson.Options));
    }

    [Theory]
    [InlineData("P1D")]
    [InlineData("P1DT2H")]
    [InlineData("P1M")]
    [InlineData("24:00")]
    [InlineData("PT")]
    [InlineData("PT5")]
    [InlineData("PT24H\\n")]
    [InlineData("")]
    [InlineData("PT99999999999H")]
    public void A_day_is_no_elapsed_time(string text) =>
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Duration>($"\"{text}\"", WorkshopJson.Options));

    [Theory]
    [InlineData("2026-03-02T10:14:03+01:00", "2026-03-02T09:14:03Z")]
    [InlineData("2026-03-02T09:14:03Z", "2026-03-02T09:14:03Z")]
    [InlineData("2026-03-02T09:14:03.123456789Z", "2026-03-02T09:14:03.123456Z")]
    [InlineData("1969-12-31T23:59:59.9999999Z", "1969-12-31T23:59:59.999999Z")]
    public void A_moment_is_read_with_its_offset_and_cut_to_microseconds(string text, string kept) =>
        Assert.Equal($"\"{kept}\"", JsonSerializer.Serialize(JsonSerializer.Deserialize<Instant>($"\"{text}\"", WorkshopJson.Options), WorkshopJson.Options));

    [Theory]
    [InlineData("\"09:00\"", "\"09:00\"")]
    [InlineData("\"18:30:15\"", "\"18:30:15\"")]
    [InlineData("\"18:30:00\"", "\"18:30\"")]
    public void A_time_of_day_has_seconds_only_where_it_needs_them(string sent, string written) =>
        Assert.Equal(written, JsonSerializer.Serialize(JsonSerializer.Deserialize<LocalTime>(sent, WorkshopJson.Options), WorkshopJson.Options));

    [Fact]
    public void Words_names_and_terms_are_text()
    {
        Assert.Equal("\"never-fitted\"", JsonSerializer.Serialize(SealState.NeverFitted, WorkshopJson.Options));
        Assert.Equal("\"P24M\"", JsonSerializer.Serialize(Period.FromMonths(24), WorkshopJson.Options));
        Assert.Equal("\"2026-03-02\"", JsonSerializer.Serialize(new LocalDate(2026, 3, 2), WorkshopJson.Options));
        Assert.Equal("""{"monday":1}""", JsonSerializer.Serialize(new Dictionary<IsoDayOfWeek, int> { [IsoDayOfWeek.Monday] = 1 }, WorkshopJson.Options));
        Assert.Equal("\"Kühn & <Söhne> ±\"", JsonSerializer.Serialize("Kühn & <Söhne> ±", WorkshopJson.Options));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Dictionary<IsoDayOfWeek, int>>("""{"none":1}""", WorkshopJson.Options));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<SealState>("1", WorkshopJson.Options));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<SealState>("\"NeverFitted\"", WorkshopJson.Options));
    }

    [Fact]
    public void A_label_is_its_eight_characters()
    {
        var label = Labels.Draw(LabelKind.Job);

        Assert.Equal($"\"{label}\"", JsonSerializer.Serialize(label, WorkshopJson.Options));
        Assert.Equal(label, JsonSerializer.Deserialize<Label>($"\"{label.ToString().ToLowerInvariant()}\"", WorkshopJson.Options));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Label>("\"J2222222\"", WorkshopJson.Options));
    }

    [Fact]
    public void A_request_body_with_a_member_nobody_knows_is_refused()
    {
        var fault = JsonFaults.Of(Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Body>("""{"name":"a","nmae":"b"}""", WorkshopJson.Bodies)));

        Assert.Equal("There is no such member.", fault.Detail);
        Assert.Equal("/nmae", fault.Pointer);
        Assert.Equal(new Body("a"), JsonSerializer.Deserialize<Body>("""{"name":"a","nmae":"b"}""", WorkshopJson.Options));
    }

    [Theory]
    [InlineData("{}", "Missing: name.")]
    [InlineData("""{"name":null}""", "This must not be null.")]
    [InlineData("""{"name":5}""", "This is not text.")]
    [InlineData("""{"name":"a","count":"3"}""", "This is not a number.")]
    [InlineData("""{"name":"a","count":3.5}""", "This is not a whole number.")]
    [InlineData("""{"name": "a" """, "This is not readable JSON.")]
    [InlineData("""{"name":"a","name":"b"}""", "'name' is there twice.")]
    public void A_fault_of_a_body_is_a_sentence(string body, string sentence) =>
        Assert.Equal(sentence, JsonFaults.Of(Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Body>(body, WorkshopJson.Bodies))).Detail);

    [Theory]
    [InlineData("$", "")]
    [InlineData("$.readings[0].position", "/readings/0/position")]
    [InlineData("$['odd.name'].a", "/odd.name/a")]
    [InlineData("$['a/b~c']", "/a~1b~0c")]
    [InlineData(null, "")]
    public void A_path_of_the_serializer_becomes_a_pointer(string? path, string pointer) =>
        Assert.Equal(pointer, JsonFaults.PointerOfPath(path));

    private sealed record Body(string Name, int Count = 0);
}
