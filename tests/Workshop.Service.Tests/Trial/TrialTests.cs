using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using Workshop.Service.Trial;

namespace Workshop.Service.Tests.Trial;

/// <summary>The trial of clients, against the one that is shipped and against bad ones.</summary>
public sealed class TrialTests
{
    private const int Situations = 52;

    [Fact]
    public async Task The_shipped_client_comes_through_every_situation()
    {
        await using var door = await TrialDoor.Open();

        var (code, said, complained) = await Run("trial", "device", "--url", $"{door.Address}", "--key", TrialDoor.Key);

        Assert.True(code == 0, said + complained);
        Assert.Equal(Situations, Situation.All.Count);
        Assert.Equal(Situations, Regex.Count(said, @"^\S+ +handled\r?$", RegexOptions.Multiline));
        Assert.Contains($"{Situations} situations: {Situations} handled, 0 not handled", said);
    }

    /// <summary>Each does one thing that a hurried author might do, and the situations that have to notice.</summary>
    public static TheoryData<string, string, string, string[]> HurriedClients => new()
    {
        { "sends a 422 again", "if (status === 400 || status === 409 || status === 422) {", "if (status === 409) {", ["not-right", "not-readable", "set-aside-outlives-a-restart"] },
        { "deletes what is wrong", "state.setAside.push({ event: entry.event, problem: result.problem, at: written(now()) });", "", ["not-right", "not-readable", "in-conflict", "one-that-is-too-large"] },
        { "sends a conflict to oblivion", "&& code !== \"event-conflict\"", "", ["in-conflict", "six-fates-in-one-batch"] },
        { "takes new ids for a retry", "JSON.stringify(one ? batch[0].event : batch.map((entry) => entry.event))", "JSON.stringify(batch.map((entry) => ({ ...entry.event, id: newId() })))", ["the-answer-is-lost", "nobody-there", "not-now-for-an-hour"] },
        { "takes a new time for a retry", "JSON.stringify(one ? batch[0].event : batch.map((entry) => entry.event))", "JSON.stringify(one ? { ...batch[0].event, time: written(now()) } : batch.map((entry) => ({ ...entry.event, time: written(now()) })))", ["set-between-pressing-and-sending", "a-day-offline", "the-answer-is-lost"] },
        { "believes any 200", "if (!whole) {", "if (!whole) { state.queue = []; await save(); }\n    if (!whole) {", ["a-sign-in-page", "another-shape", "results-of-others"] },
        { "follows a redirection", "redirect: \"error\",", "redirect: \"follow\",", ["sent-somewhere-else"] },
        { "goes on with a withdrawn key", "async function askToBePaired() {", "async function askToBePaired() {\n    return wait();", ["key-withdrawn", "source-not-its-own", "unpaired-it-still-listens"] },
        { "does not grow its pauses", "2 ** failures++", "2", ["not-now-for-an-hour"] },
        { "leaves nothing to chance", "(0.75 + random() / 2)", "1", ["not-all-at-the-same-moment"] },
        { "does not hear how long to wait", "return wait(answer.headers.get(\"Retry-After\"));", "return wait();", ["too-many-requests", "more-than-can-be-taken"] },
        { "pauses for a year", "if (span && now() < span.since) {", "if (false) {", ["set-back-while-it-waits"] },
        { "never halves", "return one ? cannotBeSent(batch[0]) : halve(batch);", "return wait();", ["too-much-at-once", "one-that-is-too-large"] },
        { "keeps a gap to itself", "if (entry.event.type !== GAP) {", "if (false) {", ["one-that-is-too-large"] },
        { "sends more than 500", "const BATCH_AT_MOST = 500;", "const BATCH_AT_MOST = 1000;", ["more-than-a-batch-holds"] },
        { "keeps its old numbers when paired anew", "sequence: String(i + 1) }", "sequence: event.sequence }", ["paired-anew"] },
        { "keeps its old source when paired anew", "event: { ...event, source, sequence: String(i + 1) }", "event", ["paired-anew"] },
        { "forgets its queue when paired anew", "state.next = state.queue.length + 1;", "state.queue = [];\n      state.next = 1;", ["paired-anew"] },
        { "removes what is held", "return askLater(entry, result, true);", "return remove(entry, result);", ["held-then-accepted", "held-then-refused", "held-holds-up-nobody"] },
        { "asks about what is held all the time", "entry.askAgain = from(ASK_AGAIN_AFTER);", "entry.askAgain = from(0);", ["held-holds-up-nobody"] },
        { "throws away what it does not understand", "return askLater(entry, result, false);", "return remove(entry, result);", ["an-outcome-nobody-knows"] },
        { "cuts the line off", "show({ signal, line, more,", "show({ signal, line: line.slice(0, 40), more,", ["the-line-as-it-is"] },
        { "tells nobody who could help", "helps: problem?.helps, ", "", ["refused-by-a-gate", "held-then-refused"] },
        { "keeps nothing until it sends", "const event = add(type, subject, data ?? {});\n    await save();", "const event = add(type, subject, data ?? {});", ["power-cut-before-the-answer", "power-cut-after-it-was-kept", "unpaired-it-still-listens"] },
        { "does not say when it sends", "\"Sent-At\": written(now()),", "", ["accepted", "a-year-behind"] },
        { "says a time that is not its own", "\"Sent-At\": written(now()),", "\"Sent-At\": \"2026-03-02T08:00:00Z\",", ["a-year-behind", "the-clock-of-a-flat-battery"] },
        { "waits for ever", "signal: within(ANSWER_WITHIN),", "signal: within(ANSWER_WITHIN), patient: true,", ["no-answer-in-time"] },
    };

    [Theory]
    [MemberData(nameof(HurriedClients))]
    public async Task A_client_written_in_a_hurry_is_found_out(string does, string instead, string of, string[] situations)
    {
        Assert.Contains(instead, ScriptedBench.ShippedScript);
        await using var door = await TrialDoor.Open(ScriptedBench.ShippedScript.Replace(instead, of, StringComparison.Ordinal));
        using var device = new TriedDevice(door.Address, TrialDoor.Key);
        var told = new StringWriter();

        await TrialRun.Run(device, new IPEndPoint(IPAddress.Loopback, 0), [.. Situation.All.Where(situation => situations.Contains(situation.Name))], told, CancellationToken.None);

        foreach (var situation in situations)
        {
            var line = told.ToString().Split('\n').Single(said => said.StartsWith($"{situation} ", StringComparison.Ordinal));
            Assert.True(line.Contains("not handled: ", StringComparison.Ordinal), $"A client that {does} came through: {line}");
        }
    }

    [Fact]
    public async Task Nobody_at_the_address_handles_nothing()
    {
        var (code, said, _) = await Run("trial", "device", "--url", "http://127.0.0.1:9", "--key", "k", "--only", "accepted");

        Assert.Equal(1, code);
        Assert.Contains("not handled: POST /trial/reset was not answered", said);
    }

    [Fact]
    public void No_two_situations_have_one_name() => Assert.Equal(Situation.All.Count, Situation.All.DistinctBy(situation => situation.Name).Count());

    private static async Task<(int Code, string Said, string Complained)> Run(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(Workshop.Service.Storage.Writer).Assembly.Location, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        using var process = Process.Start(start)!;
        var said = process.StandardOutput.ReadToEndAsync();
        var complained = process.StandardError.ReadToEndAsync();
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        await process.WaitForExitAsync(patience.Token);
        return (process.ExitCode, await said, await complained);
    }
}
