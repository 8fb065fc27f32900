using Microsoft.AspNetCore.Http.HttpResults;
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
            .WithExample(answer: """{"site":"main","role":"bench","source":"/devices/bench-2/1","bench":"bench-2","mayDo":["read-oneself","post-bench-events"],"maySee":["work"]}""")
            .RequireOperation(Operation.ReadOneself);
        oneself.MapGet("words", ReadWords.Handle)
            .WithSummary("Every word that fields may hold, in the caller's language")
            .WithExample(answer: """{"language":"de","words":{"stage":{"takedown":"Zerlegen","casing":"Einschalen"},"position":{"dial-up":"Zifferblatt oben"},"positionSymbol":{"dial-up":"CH"}}}""")
            .RequireOperation(Operation.ReadWords);
    }
}

/// <summary>Who a key is and what it may do.</summary>
public static class ReadOneself
{
    public static Ok<Oneself> Handle(Caller caller) => TypedResults.Ok(new Oneself(
        caller.Site, caller.Role, caller.Source, caller.Bench, [.. Operations.OpenTo(caller.Role)], [.. Enum.GetValues<Sight>().Where(caller.MaySee)]));
}

/// <param name="Source">The only source whose events this key may send.</param>
/// <param name="MayDo">Operations; what the person at the device may do can be less.</param>
/// <param name="MaySee">What answers may hold: the work, names and addresses, amounts.</param>
public sealed record Oneself(string Site, Role Role, string Source, string? Bench, IReadOnlyList<Operation> MayDo, IReadOnlyList<Sight> MaySee);
