using System.Collections.Concurrent;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Workshop.Benchmarks;

namespace Workshop.Service.Tests.Durability;

/// <summary>A device that posts notes one after the other and remembers which were acknowledged and which were not.</summary>
internal sealed class Poster(KeyedBench bench, ReadyJob job)
{
    private int next;

    public ReadyJob Job => job;

    public string Source => bench.Source;

    public ConcurrentBag<string> Acknowledged { get; } = [];

    public ConcurrentQueue<string> Unanswered { get; } = new();

    /// <summary>Posts until the service no longer answers.</summary>
    public async Task PostUntilItDies(Uri address)
    {
        using var client = Client(address);
        while (true)
        {
            var id = $"{job.Label}-{next++}";
            if (!await Post(client, id))
            {
                Unanswered.Enqueue(id);
                return;
            }
        }
    }

    /// <summary>Posts again what got no answer: it is new, or the first verdict comes again.</summary>
    public async Task PostAgain(Uri address)
    {
        using var client = Client(address);
        while (Unanswered.TryDequeue(out var id))
        {
            Assert.True(await Post(client, id), $"{id} was posted again and not answered.");
        }
    }

    private async Task<bool> Post(HttpClient client, string id)
    {
        try
        {
            var body = $$"""{"specversion":"1.0","id":"{{id}}","source":"{{bench.Source}}","type":"note.written","subject":"{{job.Label}}","data":{"text":"note {{id}}"} }""";
            using var content = new StringContent(body, Encoding.UTF8, new MediaTypeHeaderValue("application/cloudevents+json"));
            using var answer = await client.PostAsync("/v1/bench-events", content);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Acknowledged.Add(id);
            return true;
        }
        catch (Exception failure) when (failure is HttpRequestException or IOException or TaskCanceledException)
        {
            return false;
        }
    }

    private HttpClient Client(Uri address)
    {
        var client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(10) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", bench.Key);
        return client;
    }
}
