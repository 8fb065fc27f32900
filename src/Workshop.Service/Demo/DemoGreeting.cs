using Workshop.Core.Scans;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>What a demo prints for whoever started it.</summary>
internal static class DemoGreeting
{
    // The watch that somebody is at, so that a note on it is worth reading.
    private const string SomeJobSql = """
        select label
        from job
        where site = @site
          and stage = 'rebuild'
        order by taken_in_at
        limit 1
        """;

    public static async Task<string> Write(DemoHouse house, CancellationToken cancel)
    {
        var demo = house.Address;
        var job = await house.App.Services.GetRequiredService<Reader>().QueryFirst<string>(SomeJobSql, new { site = Migrations.FirstSite }, cancel);
        return $"""
            DEMO: the watch workshop of {DemoTown.Name}, a town on no map. Nothing in it is real; it lives in
            {demo.Data}

              address    {demo.Url}
              reference  {new Uri(demo.Url, "/docs")}
              tasks      {new Uri(demo.Url, "/hangfire")} (any name, the manager's key as password)
              clock      {new Uri(demo.Url, "/demo/clock")}

            One key for each role:
            {string.Join('\n', demo.Keys.Select(pair => $"  {pair.Key,-10} {pair.Value}"))}

            Worth trying:
            {string.Join("\n\n", Commands(demo, job).Select(command => $"  {command}"))}

            Ctrl+C ends it; 'demo --fresh' begins anew; 'demo --walk' plays one watch's whole life.
            """;
    }

    /// <summary>A few commands that work as they are printed.</summary>
    public static IReadOnlyList<string> Commands(DemoAddress demo, string? job) => job is null
        ?
        [
            Get(demo, "/v1/me", "bench"),
            Get(demo, "/v1/agenda?due=all", "desk"),
            Post(demo, "/v1/jobs", "desk", "application/json", """{"customer":{"telephone":"+44 1632 960999"},"watch":{"words":"steel, with a date, stops at night"}}"""),
        ]
        :
        [
            Get(demo, "/v1/agenda?due=today", "desk"),
            Get(demo, $"/v1/jobs/{job}", "desk"),
            Post(demo, "/v1/bench-events", "bench", "application/cloudevents+json",
                $$$"""{"specversion":"1.0","id":"hello","source":"{{{demo.Sources["bench"]}}}","type":"note.written","subject":"{{{job}}}","data":{"text":"Hello from bench 1","person":"{{{DemoTown.FirstWatchmaker}}}"}}"""),

            // Two labels say everything: the watch, and the card "stop, question".
            Post(demo, "/v1/bench-events", "bench", "application/cloudevents+json",
                $$$"""{"specversion":"1.0","id":"scan","source":"{{{demo.Sources["bench"]}}}","type":"scan.made","data":{"codes":["{{{job}}}","{{{DemoLabels.OfWord(WordCard.StopQuestion)}}}"],"person":"{{{DemoTown.FirstWatchmaker}}}"}}"""),
        ];

    private static string Get(DemoAddress demo, string path, string role) =>
        $"""curl -s "{new Uri(demo.Url, path)}" -H "Authorization: Bearer {demo.Keys[role]}" """.Trim();

    private static string Post(DemoAddress demo, string path, string role, string mediaType, string body) =>
        $"""curl -s "{new Uri(demo.Url, path)}" -H "Authorization: Bearer {demo.Keys[role]}" -H "Content-Type: {mediaType}" -d '{body}'""";
}
