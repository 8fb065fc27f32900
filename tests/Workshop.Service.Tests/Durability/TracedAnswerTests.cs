using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Workshop.Benchmarks;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Durability;

/// <summary>Watched from outside by the kernel's eyes: the write-ahead log is flushed between an event's write and its answer.</summary>
public sealed partial class TracedAnswerTests : IDisposable
{
    private const string Marker = "seen-by-the-tracer";

    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-trace-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task The_log_is_flushed_after_the_write_and_before_the_answer()
    {
        Assert.True(File.Exists("/usr/bin/strace"), "This test needs strace; on Debian: apt-get install strace.");
        var storage = new StorageSettings { Path = folder };
        var workshop = await PreparedWorkshop.Make(storage, benches: 1, jobs: 1);
        var trace = Path.Combine(folder, "trace.txt");
        await using (var service = await ServiceProcess.Start(
            storage, "strace", "-f", "-y", "-ttt", "-s", "4096", "-e", "trace=pwrite64,write,writev,fdatasync,fsync,sendto,sendmsg", "-o", trace))
        {
            using var client = new HttpClient { BaseAddress = service.Address };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", workshop.Benches[0].Key);
            var body = $$"""{"specversion":"1.0","id":"{{Marker}}","source":"{{workshop.Benches[0].Source}}","type":"note.written","subject":"{{workshop.Jobs[0].Label}}","data":{"text":"traced"} }""";
            using var content = new StringContent(body, Encoding.UTF8, new MediaTypeHeaderValue("application/cloudevents+json"));
            using var answer = await client.PostAsync("/v1/bench-events", content);
            Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        }

        var lines = await File.ReadAllLinesAsync(trace);
        var written = Array.FindLastIndex(lines, line => WriteOfLog().IsMatch(line) && line.Contains(Marker, StringComparison.Ordinal));
        var answered = Array.FindIndex(lines, line => Answer().IsMatch(line) && line.Contains(Marker, StringComparison.Ordinal));
        Assert.True(written >= 0, "The event was never written to the log.");
        Assert.True(answered > written, "The answer was not sent after the write.");
        Assert.Contains(lines[written..answered], line => FlushOfLog().IsMatch(line));
    }

    [GeneratedRegex(@"(pwrite64|write|writev)\(\d+<[^>]*-wal>")]
    private static partial Regex WriteOfLog();

    // SQLite calls one or the other, as it was built; both wait for the medium.
    [GeneratedRegex(@"(fdatasync|fsync)\(\d+<[^>]*-wal>")]
    private static partial Regex FlushOfLog();

    [GeneratedRegex(@"(sendto|sendmsg|write|writev)\(\d+<(TCP|socket)[^>]*>")]
    private static partial Regex Answer();
}
