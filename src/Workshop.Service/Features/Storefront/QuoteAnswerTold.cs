using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Quotes;
using Workshop.Service.Features.Quotes;

namespace Workshop.Service.Features.Storefront;

/// <summary>Data of <c>quote.answered</c>.</summary>
public sealed record QuoteAnswerTold
{
    [StringLength(20, MinimumLength = 1)]
    public required string Job { get; init; }

    /// <summary>The version that was shown.</summary>
    [Range(1, 1_000)]
    public required int Quote { get; init; }

    public required bool Accepted { get; init; }

    [Length(0, 100)]
    public ImmutableArray<OptionAnswer>? Options { get; init; }

    /// <summary>The words the customer agreed to.</summary>
    [StringLength(4_000)]
    public string? ConsentText { get; init; }

    /// <summary>After a refusal: what is to become of the watch.</summary>
    public CustomersChoice? IfRefused { get; init; }

    public Instant? At { get; init; }

    /// <summary>As the same answer over the counter would be.</summary>
    public QuoteAnswerBody Body(Instant at) => new()
    {
        Accepted = Accepted,
        Channel = AnswerChannel.Storefront,
        Options = Options is { IsEmpty: false } ? Options : null,
        ConsentText = string.IsNullOrWhiteSpace(ConsentText) ? null : ConsentText,
        IfRefused = Accepted ? null : IfRefused,
        At = at,
    };
}
