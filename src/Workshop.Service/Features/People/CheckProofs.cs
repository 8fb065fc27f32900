using Workshop.Core.People;

namespace Workshop.Service.Features.People;

/// <summary>
/// Compares the numbers told in one request, before its turn: hashing is slow by purpose, and at the writer everybody else is waiting.
/// What comes of them is settled in the turn.
/// </summary>
public sealed class CheckProofs(ProofStore proofs)
{
    /// <summary>The numbers of one request.</summary>
    public Comparing Begin(string site) => new(site, proofs);

    public sealed class Comparing(string site, ProofStore proofs)
    {
        private readonly Dictionary<(string Person, string Digits), bool> compared = [];
        private readonly Dictionary<string, KeptProof?> kept = new(StringComparer.Ordinal);

        /// <summary>Compares a number with the person's own.</summary>
        /// <returns>null: the person has none.</returns>
        public async Task<ToldProof?> With(string person, string digits, CancellationToken cancel)
        {
            if (!kept.TryGetValue(person, out var own))
            {
                kept[person] = own = await proofs.Find(site, person, cancel);
            }

            if (own is null)
            {
                return null;
            }

            if (!compared.TryGetValue((person, digits), out var right))
            {
                // After so many wrong ones the number is locked anyway; a batch must not be a way to keep a server busy.
                var wrong = compared.Count(one => one.Key.Person == person && !one.Value);
                compared[(person, digits)] = right = wrong < ProofRules.WrongAtMost && own.Is(digits);
            }

            return new ToldProof(person, right, own.Given);
        }
    }
}
