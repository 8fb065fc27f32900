using System.Text.Json.Nodes;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class AnyBodyTests
{
    /// <summary>What no member expects, as JSON; null stands for a member that is left out.</summary>
    private static readonly string?[] Odd =
    [
        null, "null", "true", "0", "-1", "1.5", "1e300", "9223372036854775807", "99999999999999999999", "\"\"", "\" \"", "\"x\"", "\"\\u0000\"", "\"\\ud800\"", "\"%_!'\\\"\"",
        "[]", "[null]", "[[]]", "{}", "{\"x\":1}", "\"9999-12-31\"", "\"-9998-01-01\"", "\"9999-12-31T23:59:59Z\"", "\"0001-01-01T00:00:00Z\"",
    ];

    [Theory]
    [BothEngines]
    public async Task Whatever_a_body_holds_it_is_answered_and_never_with_500(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var gone = await Warranties.HandOverTests.Ready(host);
        await (await host.Desk.PostJson($"/v1/jobs/{gone}/hand-over", """{ "how": "collected" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{gone}/claims", """{ "reportedOn": "2025-03-14", "text": "a" }""")).Json();
        host.SetTo(2026, 3, 2, 10);
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();
        var label = taken.Text("label");
        await host.SendQuote(label, """, "despite": ["needs/diagnosis"]""");
        var customer = taken.Text("customer");
        (HttpMethod Method, string Address, string Body)[] commands =
        [
            (HttpMethod.Post, "/v1/jobs", Counter.WholeIntake),
            (HttpMethod.Post, "/v1/jobs/search", """{ "text": "ida", "telephone": "020", "serial": "20-417", "label": "J", "name": "ida", "ownNumber": "A", "watch": "a" }"""),
            (HttpMethod.Patch, $"/v1/jobs/{label}/intake", """{ "declaredValueMinor": 1, "currency": "GBP", "declaredValueNote": "a", "wishes": { "polish": "no", "oldPartsBack": true, "fixedDate": "2026-06-12" }, "condition": "a", "conditionGrid": [ { "place": "dial", "condition": "deep", "note": "a" } ], "arrival": { "running": "running", "crown": "works", "pushers": "works", "functions": [ { "function": "rotor", "state": "works", "note": "a" } ], "linksCounted": 1, "seal": "intact", "photosTaken": 1 }, "ownNumber": "A", "labelScannedBack": "J", "remarks": "a", "terms": { "acceptedOn": "2025-01-02" } }"""),
            (HttpMethod.Post, $"/v1/jobs/{label}/quotes", """{ "lines": [ { "text": "a", "amountMinor": 2, "taxMinor": 1 } ], "currency": "GBP", "validThrough": "2026-03-20", "workingDays": 3, "despite": ["needs/diagnosis"], "person": "mara" }"""),
            (HttpMethod.Post, $"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "channel": "telephone", "witness": "otto", "at": "2026-03-02T10:00:00+01:00", "person": "mara" }"""),
            (HttpMethod.Post, $"/v1/jobs/{label}/hand-over", """{ "how": "collected", "pieces": ["movement"], "to": "customer", "identitySeen": true, "at": "2026-03-02T10:00:00+01:00", "despite": ["pieces-home"], "person": "mara" }"""),
            (HttpMethod.Post, $"/v1/jobs/{gone}/claims", """{ "reportedOn": "2026-03-01", "receivedOn": "2026-03-01", "text": "a", "person": "mara" }"""),
            (HttpMethod.Post, $"/v1/jobs/{gone}/claims/1/decision", """{ "covered": true, "lines": ["movement"], "reason": "a", "person": "mara" }"""),
            (HttpMethod.Put, $"/v1/jobs/{gone}/claims/1/stay", """{ "receivedOn": "2026-03-01", "returnedOn": "2026-03-02", "person": "mara" }"""),
            (HttpMethod.Put, $"/v1/customers/{customer}", """{ "name": "a", "telephone": "0123", "email": "a@b.example", "address": "a", "language": "en", "consents": [ { "kind": "care", "channels": ["letter"], "saidOn": "2026-03-01" } ], "contact": "only-by", "contactBy": "email", "deceasedOn": "2026-03-01" }"""),
            (HttpMethod.Post, "/v1/customers", """{ "name": "a", "telephone": "0123" }"""),
            (HttpMethod.Put, $"/v1/watches/{taken.Text("watch")}", """{ "maker": "a", "model": "a", "reference": "a", "caseSerial": "a", "movementNumber": "a", "words": "a" }"""),
            (HttpMethod.Post, "/v1/jobs", """{ "customer": { "email": "a@b.example" }, "watch": { "words": "a" }, "despite": ["fixed-date"], "adopted": { "takenInOn": "2026-01-12", "at": "rebuild", "promisedOn": "2026-02-01", "ownNumber": "A-1", "quotedMinor": 1 } }"""),
        ];

        var failed = new List<string>();
        var asked = 0;
        foreach (var (method, address, body) in commands)
        {
            foreach (var changed in Changed(body))
            {
                using var answer = await host.Manager.Send(method, address, changed, "application/json", ("If-Match", "*"));
                asked++;
                if ((int)answer.StatusCode is >= 500 or 429)
                {
                    failed.Add($"{(int)answer.StatusCode} {method} {address} {changed}");
                }
            }
        }

        Assert.True(asked > 1000);
        Assert.True(failed.Count == 0, string.Join('\n', failed));
        Assert.Empty(host.Check().Differences);
    }

    /// <summary>The body with each of its members in turn replaced by each odd value, as text: some of them cannot be parsed.</summary>
    private static IEnumerable<string> Changed(string body)
    {
        const string Mark = "\"the member that is changed\"";
        foreach (var path in PathsIn(JsonNode.Parse(body)!))
        {
            foreach (var odd in Odd)
            {
                var root = JsonNode.Parse(body)!;
                var parent = path[..^1].Aggregate(root, (node, step) => node is JsonArray list ? list[int.Parse(step)]! : node[step]!);
                if (parent is JsonArray elements)
                {
                    elements[int.Parse(path[^1])] = JsonNode.Parse(Mark);
                }
                else if (odd is null)
                {
                    parent.AsObject().Remove(path[^1]);
                }
                else
                {
                    parent[path[^1]] = JsonNode.Parse(Mark);
                }

                yield return root.ToJsonString().Replace(Mark, odd ?? "null");
            }
        }
    }

    private static IEnumerable<string[]> PathsIn(JsonNode node) => node switch
    {
        JsonObject members => members.SelectMany(member => Below(member.Key, member.Value)),
        JsonArray elements => elements.SelectMany((element, i) => Below($"{i}", element)),
        _ => [],
    };

    private static IEnumerable<string[]> Below(string step, JsonNode? node) =>
        (node is null ? [] : PathsIn(node)).Select(path => (string[])[step, .. path]).Prepend([step]);
}
