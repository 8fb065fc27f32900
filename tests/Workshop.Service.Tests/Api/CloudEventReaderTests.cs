using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Tests.Api;

public class CloudEventReaderTests
{
    private const string Plain = """
        { "specversion": "1.0", "id": "0197", "source": "/devices/bench-2/1", "sequence": "412", "time": "2026-03-02T10:14:03+01:00",
          "type": "stage.started", "subject": "J7K3MQ4T", "data": { "stage": "cleaning", "bench": "bench-2" } }
        """;

    [Fact]
    public void An_event_is_read_as_it_was_sent()
    {
        var read = One(Plain).Event!;

        Assert.Equal(("0197", "/devices/bench-2/1", "stage.started", "J7K3MQ4T"), (read.Id, read.Source, read.Type, read.Subject));
        Assert.Equal(412, read.Sequence);
        Assert.Equal("2026-03-02T10:14:03+01:00", read.TimeText);
        Assert.Equal(NodaTime.Instant.FromUtc(2026, 3, 2, 9, 14, 3), read.Time!.Value.ToInstant());
        Assert.Equal("""{ "stage": "cleaning", "bench": "bench-2" }""", read.Data);
    }

    [Fact]
    public void What_may_be_left_out_may_also_be_null()
    {
        foreach (var rest in (string[])["", ""","subject":null,"time":null,"sequence":null,"data":null,"datacontenttype":null,"traceparent":null"""])
        {
            var read = One($$"""{"specversion":"1.0","id":"1","source":"/a","type":"t"{{rest}}}""").Event!;
            Assert.Equal((null, null, null, null, "{}"), (read.Subject, read.TimeText, read.Time, read.Sequence, read.Data));
            Assert.Empty(read.Further);
        }
    }

    /// <remarks>CloudEvents 1.0.2, "Naming Conventions" and "Type System": names of lower-case letters and digits; String, Integer, Boolean.</remarks>
    [Fact]
    public void Any_attribute_that_the_specification_allows_is_kept()
    {
        var read = One(With(""" "traceparent": "00-ab-01", "retries": 3, "urgent": true, "dataschema": "https://example.org/s" """)).Event!;

        Assert.Equal(["dataschema", "retries", "traceparent", "urgent"], read.Further.Keys);
        Assert.Equal("3", read.Further["retries"]);
    }

    [Theory]
    [InlineData(""" "Trace": "x" """, "/Trace")]
    [InlineData(""" "trace-parent": "x" """, "/trace-parent")]
    [InlineData(""" "": "x" """, "/")]
    [InlineData(""" "trace": {} """, "/trace")]
    [InlineData(""" "trace": [1] """, "/trace")]
    [InlineData(""" "trace": 1.5 """, "/trace")]
    [InlineData(""" "trace": 2147483648 """, "/trace")]
    [InlineData(""" "datacontenttype": "text/plain" """, "/datacontenttype")]
    [InlineData(""" "data_base64": "e30=" """, "/data_base64")]
    public void An_attribute_that_it_does_not_allow_is_a_fault(string attribute, string pointer) =>
        Assert.Equal([pointer], One(With(attribute)).Faults.Select(fault => fault.Pointer));

    [Theory]
    [InlineData("id", "\"\"")]
    [InlineData("id", "7")]
    [InlineData("source", "\"\"")]
    [InlineData("type", "null")]
    [InlineData("specversion", "\"0.3\"")]
    [InlineData("specversion", "1.0")]
    [InlineData("sequence", "412")]
    [InlineData("sequence", "\"\"")]
    [InlineData("sequence", "\"-1\"")]
    [InlineData("sequence", "\"1234567890123456789\"")]
    [InlineData("sequence", "\"٤\"")]
    [InlineData("time", "\"2026-03-02T10:14:03\"")]
    [InlineData("time", "\"2026-02-30T10:14:03Z\"")]
    [InlineData("time", "\"2026-03-02 10:14:03Z\"")]
    [InlineData("time", "1772442000")]
    [InlineData("data", "[1]")]
    [InlineData("data", "\"text\"")]
    public void A_wrong_attribute_is_named(string attribute, string value)
    {
        var sent = JsonNode.Parse(Plain)!.AsObject();
        sent[attribute] = JsonNode.Parse(value);

        Assert.Equal([$"/{attribute}"], One(sent.ToJsonString()).Faults.Select(fault => fault.Pointer));
    }

    [Fact]
    public void Everything_wrong_in_an_envelope_is_named_at_once() =>
        Assert.Equal(
            ["/data", "/id", "/sequence", "/source", "/specversion", "/time", "/type"],
            One("""{ "time": "now", "sequence": "x", "data": 1 }""").Faults.Select(fault => fault.Pointer).Order());

    /// <remarks>RFC 3339, section 5.6 and its examples in 5.8.</remarks>
    [Theory]
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z")]
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.87Z")]
    [InlineData("1990-12-31T23:59:60Z", "1990-12-31T23:59:59.999999999Z")]
    [InlineData("2026-03-02t10:14:03z", "2026-03-02T10:14:03Z")]
    [InlineData("2026-03-02T10:14:03-00:00", "2026-03-02T10:14:03Z")]
    [InlineData("2026-03-02T10:14:03.123456789123Z", "2026-03-02T10:14:03.123456789Z")]
    public void Every_form_of_a_time_that_the_standard_has_is_read(string text, string moment) =>
        Assert.Equal(moment, NodaTime.Text.InstantPattern.ExtendedIso.Format(Rfc3339.Read(text)!.Value.ToInstant()));

    [Fact]
    public void A_batch_has_one_result_for_each_event_in_order_and_a_bad_one_spoils_no_other()
    {
        var (events, refusal) = CloudEventReader.Read(Bytes($"[{Plain}, 7, {With(""" "id": "" """).Replace("\"id\": \"0197\", ", "")}, {Plain}]"), isBatch: true);

        Assert.Null(refusal);
        Assert.Equal([true, false, false, true], events.Select(one => one.Event is not null));
    }

    [Theory]
    [InlineData("[]", 422)]
    [InlineData("{}", 422)]
    [InlineData("[", 400)]
    [InlineData("[{\"id\":\"1\",\"id\":\"2\"}]", 400)]
    public void A_batch_that_is_none_is_refused_as_a_whole(string body, int status) =>
        Assert.Equal(status, CloudEventReader.Read(Bytes(body), isBatch: true).Refusal!.StatusCode);

    [Fact]
    public void A_batch_holds_500_events_and_no_more()
    {
        Assert.Equal(500, CloudEventReader.Read(Bytes($"[{string.Join(',', Enumerable.Repeat(Plain, 500))}]"), isBatch: true).Events.Length);
        Assert.Equal(413, CloudEventReader.Read(Bytes($"[{string.Join(',', Enumerable.Repeat(Plain, 501))}]"), isBatch: true).Refusal!.StatusCode);
    }

    [Fact]
    public void The_data_are_kept_byte_for_byte()
    {
        const string Data = """{ "b" :1.50,  "a":"\u0041ü", "c":[ ] }""";

        Assert.Equal(Data, One($$"""{"data":{{Data}},"specversion":"1.0","id":"1","source":"/a","type":"t"}""").Event!.Data);
    }

    [Fact]
    public void The_same_said_in_another_way_is_the_same() => Gen.Select(Values, Gen.Int).Sample((value, seed) =>
    {
        var content = new JsonObject { ["value"] = JsonNode.Parse(value), ["x"] = 1 };
        var sent = Event(content.ToJsonString());
        var shuffled = Event(Shuffled(content, new Random(seed)).ToJsonString(new JsonSerializerOptions { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }));

        return One(sent).Event!.Digest.SequenceEqual(One(shuffled).Event!.Digest);
    });

    [Fact]
    public void Something_else_said_is_something_else()
    {
        string[] different =
        [
            Event("{}"), Event("""{"a":1}"""), Event("""{"a":1.0}"""), Event("""{"a":1e0}"""), Event("""{"a":"1"}"""), Event("""{"a":null}"""),
            Event("""{"a":true}"""), Event("""{"a":false}"""), Event("""{"a":[]}"""), Event("""{"a":{}}"""), Event("""{"a":[1,2]}"""), Event("""{"a":[2,1]}"""),
            Event("""{"a":[[1],2]}"""), Event("""{"a":"b","c":"d"}"""), Event("""{"a":"bc","":"d"}"""), Event("""{"ab":"","c":"d"}"""),
            Event("{}", type: "u"), Event("{}", subject: "s"), Event("{}", time: "2026-03-02T10:14:03Z"), Event("{}", time: "2026-03-02T11:14:03+01:00"),
            Event("{}", sequence: "1"), Event("{}", sequence: "01"),
        ];

        Assert.Equal(different.Length, different.Select(one => Convert.ToHexString(One(one).Event!.Digest.AsSpan())).Distinct().Count());
    }

    [Fact]
    public void What_is_no_part_of_the_content_does_not_count() =>
        Assert.True(One(Plain).Event!.Digest.SequenceEqual(One(With(""" "traceparent": "00-ab-01" """)).Event!.Digest));

    [Fact]
    public void No_text_however_broken_makes_the_reader_fail() => Gen.Select(Gen.Int[0, Plain.Length - 1], Gen.Int[0, 40], Gen.Char.AlphaNumeric.Array[0, 5], Gen.Bool).Sample((at, cut, put, isBatch) =>
    {
        var broken = Plain.Remove(at, Math.Min(cut, Plain.Length - at)).Insert(at, new string(put));
        var (events, refusal) = CloudEventReader.Read(Bytes(isBatch ? $"[{broken}]" : broken), isBatch);

        return refusal is not null ? events.IsEmpty : events.Length == 1 && (events[0].Event is null) == (events[0].Faults.Count > 0);
    });

    private static readonly Gen<string> Leaves = Gen.OneOf(
        Gen.Const("null"), Gen.Const("true"), Gen.Int.Select(number => $"{number}"), Gen.Const("1.50"),
        Gen.String[Gen.OneOf(Gen.Char[' ', '~'], Gen.Char['À', 'ž']), 0, 8].Select(text => JsonSerializer.Serialize(text)));

    private static readonly Gen<string> Values = Gen.Recursive<string>((depth, inner) => depth > 3 ? Leaves : Gen.OneOf(
        Leaves,
        inner.Array[0, 3].Select(values => $"[{string.Join(',', values)}]"),
        inner.Array[0, 4].Select(values => $"{{{string.Join(',', values.Select((value, i) => $"\"m{i * 7 % 5}{i}\":{value}"))}}}")));

    private static JsonNode Shuffled(JsonNode node, Random random) => node switch
    {
        JsonObject members => new JsonObject(members.OrderBy(_ => random.Next()).Select(member => KeyValuePair.Create(member.Key, member.Value is null ? null : Shuffled(member.Value, random)))),
        JsonArray elements => new JsonArray([.. elements.Select(element => element is null ? null : Shuffled(element, random))]),
        _ => node.DeepClone(),
    };

    private static string Event(string data, string type = "t", string? subject = null, string? time = null, string? sequence = null) =>
        $$"""{"specversion":"1.0","id":"1","source":"/a","type":"{{type}}","subject":{{Text(subject)}},"time":{{Text(time)}},"sequence":{{Text(sequence)}},"data":{{data}}}""";

    private static string Text(string? text) => text is null ? "null" : $"\"{text}\"";

    private static string With(string attribute) => Plain.TrimEnd().TrimEnd('}') + $",{attribute}}}";

    private static CloudEventRead One(string text)
    {
        var (events, refusal) = CloudEventReader.Read(Bytes(text), isBatch: false);
        Assert.Null(refusal);
        return Assert.Single(events);
    }

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);
}
