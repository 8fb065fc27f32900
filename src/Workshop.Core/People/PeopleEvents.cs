using Workshop.Core.Sources;

namespace Workshop.Core.People;

/// <summary>
/// Somebody scanned their badge at a place at the start of the shift: what is said there without a name is theirs, until somebody else
/// signs on, until they sign off, or until the day is over.
/// </summary>
public sealed record PersonSignedOn : SourceEvent;

/// <summary>Whoever was signed on at the place is not any more.</summary>
public sealed record PersonSignedOff : SourceEvent;
