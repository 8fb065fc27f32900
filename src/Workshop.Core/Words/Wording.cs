using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Words;

/// <summary>A text that a shop writes itself; where German is absent, English is shown.</summary>
public sealed record Wording
{
    [StringLength(60, MinimumLength = 1)]
    public required string En { get; init; }

    [StringLength(60, MinimumLength = 1)]
    public string? De { get; init; }

    public string In(Language language) => language == Language.German ? De ?? En : En;
}
