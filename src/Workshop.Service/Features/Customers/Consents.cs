using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;

namespace Workshop.Service.Features.Customers;

/// <summary>What somebody is written to about.</summary>
public enum ConsentKind
{
    Messages,
    Care,
}

/// <summary>A way to reach somebody.</summary>
public enum ConsentChannel
{
    Email,
    Telephone,
    Letter,
    None,
}

/// <summary>Whether somebody is to be reached at all, or by one way only.</summary>
public enum ContactRule
{
    Normal,
    None,
    OnlyBy,
}

/// <summary>What somebody allowed, or did not allow, and when.</summary>
public sealed record CustomerConsent
{
    public required ConsentKind Kind { get; init; }

    /// <summary>The ways that are allowed; <c>none</c> alone where none is.</summary>
    [Length(1, 3)]
    public required ImmutableArray<ConsentChannel> Channels { get; init; }

    /// <summary>Today where it is left out.</summary>
    public LocalDate? SaidOn { get; init; }
}
