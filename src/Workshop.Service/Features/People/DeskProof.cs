using Workshop.Core.People;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.People;

/// <summary>The short number told with a command of the desk: compared before the turn, settled in it, and kept nowhere.</summary>
public sealed class DeskProof(CheckProofs proofs, ShopRulesSource source)
{
    /// <summary>Compares a number that decides something: at a manager's device none is asked for.</summary>
    /// <returns>null: none was told, it decides nothing, or the person has none.</returns>
    public async Task<ToldProof?> Compare(Caller caller, string? person, string? digits, CancellationToken cancel)
    {
        if (digits is null || person is null || caller.Role == Role.Manager)
        {
            return null;
        }

        var rules = await source.Read(caller.Site, cancel);
        return await proofs.Begin(caller.Site).With(rules.PersonBehind(person)?.Id ?? person, digits, cancel);
    }

    /// <summary>What came of it. The number of somebody who has none is not theirs either.</summary>
    public static Proof Settle(Turn turn, ToldProof? told, string? digits, EventId id)
    {
        var came = ProofStore.Settle(turn, told, id);
        return came == Proof.Missing && digits is not null ? Proof.Wrong : came;
    }
}
