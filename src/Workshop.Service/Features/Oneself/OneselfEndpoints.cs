using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Oneself;

/// <summary>What a device can ask about itself.</summary>
public static class OneselfEndpoints
{
    public static void MapOneself(this IEndpointRouteBuilder routes)
    {
        var oneself = routes.MapGroup("/v1").WithTags("Oneself");
        oneself.MapGet("me", ReadOneself.Handle)
            .WithSummary("Who I am by my key, and what I may do")
            .WithExample(answer: """{"site":"main","role":"bench","source":"/devices/bench-2/1","bench":"bench-2","mayDo":["read-oneself","post-bench-events"],"maySee":["work"],"signedOn":{"person":"mara","name":"Mara Vonlanthen","since":"2026-03-02T07:02:10Z","until":"2026-03-02T23:00:00Z","proven":true}}""")
            .RequireOperation(Operation.ReadOneself);
        oneself.MapGet("words", ReadWords.Handle)
            .WithSummary("Every word that fields may hold, in the caller's language")
            .WithExample(answer: """{"language":"de","words":{"stage":{"takedown":"Zerlegen","casing":"Einschalen"},"position":{"dial-up":"Zifferblatt oben"},"positionSymbol":{"dial-up":"CH"}}}""")
            .RequireOperation(Operation.ReadWords);
        oneself.MapGet("time", ReadTime.Handle)
            .WithSummary("What time it is here, and how far this clock is to be trusted")
            .WithExample(answer: """{"now":"2026-03-02T09:14:03.218Z","state":"synchronised"}""")
            .RequireOperation(Operation.ReadTime);
    }
}
