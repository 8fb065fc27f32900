using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Extracts;

public static class ExtractsEndpoints
{
    public static void MapExtracts(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/jobs/{label}/sealed-extract", ReadSealedExtract.Handle)
            .WithTags("Extracts")
            .WithName("readSealedExtract")
            .WithSummary("What the owner of a watch may show of a job, sealed: days, work and figures, without name, price or address")
            .WithDescription("A line of JSON each; every line holds the SHA-256 of the one before it, the last an Ed25519 signature (RFC 8032) over all bytes above it. How to check one with public tools: api-docs/sealed-extract.md. For the desk to give to the owner of the watch.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NotHandedOver)
            .Produces(StatusCodes.Status200OK, contentType: ReadSealedExtract.MediaType)
            .RequireOperation(Operation.SealExtracts);
        var seals = routes.MapGroup("/v1/seals").WithTags("Extracts");
        seals.MapPost("check", CheckSeal.Handle)
            .WithName("checkSeal")
            .WithSummary("Hear whether an extract is as this workshop wrote it")
            .WithDescription("Without a key. The body is the extract itself, as text; nothing of it is kept.")
            .WithProblems(ProblemCatalogue.BodyTooLarge)
            .WithExample(answer: """{ "state": "genuine", "job": "J7K3MQ4T", "issuedOn": "2026-03-20", "watch": { "maker": "Orrery & Finch", "caseSerial": "20-417" }, "journalWentOn": false, "words": "Genuine: every line is as it was written on 20 March 2026." }""")
            .Accepts<object>("text/plain")
            .AllowAnonymous();
        seals.MapGet("keys", ReadSealKeys.Handle)
            .WithName("readSealKeys")
            .WithSummary("The public keys by which seals are checked")
            .WithExample(answer: """{ "keys": [ { "id": "5c1f0a2b9d3e4f60", "algorithm": "Ed25519", "publicKey": "-----BEGIN PUBLIC KEY-----\nMCow…\n-----END PUBLIC KEY-----\n", "createdAt": "2026-03-02T09:00:00Z" } ] }""")
            .AllowAnonymous();
        seals.MapPost("keys", ReadSealKeys.Replace)
            .WithName("replaceSealKey")
            .WithSummary("Seal with another key from now on; what the old one sealed stays good")
            .WithExample(answer: """{ "id": "5c1f0a2b9d3e4f60", "algorithm": "Ed25519", "publicKey": "-----BEGIN PUBLIC KEY-----\nMCow…\n-----END PUBLIC KEY-----\n", "createdAt": "2026-03-02T09:00:00Z" }""")
            .RequireOperation(Operation.ReplaceSealKeys);

        // Pages for people, no part of the interface.
        routes.MapGet("/seal", SealPage.Empty).AllowAnonymous().ExcludeFromDescription();
        routes.MapPost("/seal", SealPage.Shown).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }
}
