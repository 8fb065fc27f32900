using System.Collections.Immutable;

namespace Workshop.Core.Route;

/// <summary>What an area says of stages when it has heard an entry; the route alone decides what follows from it.</summary>
public abstract record StageWord;

/// <summary>Somebody is at it.</summary>
public sealed record Began(Stage Stage) : StageWord;

/// <summary>It ended well. <see cref="OnGroundOnly"/>: without its ground the same entry is a measurement and says nothing of the stage.</summary>
public sealed record Ended(Stage Stage, bool OnGroundOnly = false) : StageWord
{
    /// <summary>Gates passed on the way to this result, by earlier entries of it: what a check's start passed holds for its reading.</summary>
    public ImmutableArray<string> Passed { get; init; } = [];
}

/// <summary>It ended badly; what rests on it falls.</summary>
public sealed record Failed(Stage Stage, bool OnGroundOnly = false) : StageWord;

/// <summary>It is void from here, with all that rests on it.</summary>
public sealed record Fell(Stage Stage) : StageWord;

/// <summary>The job was adopted at this stage: what the route has before it lies before our records.</summary>
public sealed record WasBefore(Stage At) : StageWord;

/// <summary>The job is another kind of work from here.</summary>
public sealed record RouteChanged(RouteDefinition Route) : StageWord;

/// <summary>The customer refused: everything after the quote gives way to the return.</summary>
public sealed record Returning(bool Unrepaired) : StageWord;

/// <summary>An area after an entry, and what it says of stages.</summary>
public readonly record struct Heard<T>(T Area, params ImmutableArray<StageWord> Says);
