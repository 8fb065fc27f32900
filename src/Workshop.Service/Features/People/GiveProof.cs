using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.People;

public sealed record ProofBody
{
    /// <summary>4 to 8 digits, known to the person alone.</summary>
    [RegularExpression("[0-9]{4,8}")]
    public required string Proof { get; init; }
}

/// <summary>Gives somebody of the house a short number by which they prove who they are, or takes it away.</summary>
public static class GiveProof
{
    public static async Task<Results<NoContent, ProblemHttpResult>> Handle(string person, JsonBody<ProofBody> body, Caller caller, Writer writer, CancellationToken cancel)
    {
        var hashed = ShortNumber.Of(body.Value.Proof);
        return await Change(person, caller, writer, turn => ProofStore.Put(turn, person, hashed), cancel);
    }

    public static Task<Results<NoContent, ProblemHttpResult>> TakeAway(string person, Caller caller, Writer writer, CancellationToken cancel) =>
        Change(person, caller, writer, turn => ProofStore.Remove(turn, person), cancel);

    private static async Task<Results<NoContent, ProblemHttpResult>> Change(string person, Caller caller, Writer writer, Action<Turn> change, CancellationToken cancel) =>
        await writer.Turn<Results<NoContent, ProblemHttpResult>>(caller.Site, turn =>
        {
            if (!turn.Rules.People.ContainsKey(person))
            {
                return Problems.Of(ProblemCatalogue.NoSuchThing, "There is nobody of this short name.");
            }

            change(turn);
            return TypedResults.NoContent();
        }, cancel);
}
