using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.PublicPage;

/// <summary>By what a customer shows, beside the address of their page, that it is them.</summary>
public enum SecondFactor
{
    /// <summary>The postcode of their address or the last four digits of their telephone number.</summary>
    Either,
    Postcode,
    Telephone,
}

/// <summary>What the shop decides about the pages of its customers. JSON member of the rules document: <c>publicPages</c>.</summary>
public sealed record PublicRules
{
    public static PublicRules Usual { get; } = new();

    public SecondFactor SecondFactor { get; init; }

    /// <summary>Wrong tries at the second factor for one page and day; after them only the desk helps. Common practice.</summary>
    [Range(1, 100)]
    public int WrongTriesADay { get; init; } = 5;

    /// <summary>Days within which the shop asks to collect what is ready; nothing is said of it where left out.</summary>
    [Range(1, 3_650)]
    public int? CollectWithinDays { get; init; }
}
