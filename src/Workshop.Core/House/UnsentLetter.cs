using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.House;

/// <summary>A letter that could not be sent: somebody is still to be told what it says.</summary>
/// <param name="About">Labels of the jobs, or expected watches, that it speaks of.</param>
/// <param name="Since">When it was given up.</param>
public sealed record UnsentLetter(string Letter, ImmutableArray<string> About, Instant Since);
