using NodaTime;

namespace Workshop.Core.House;

/// <summary>An endpoint to which the service sends no messages any more, by its own decision.</summary>
/// <param name="Name">What a manager knows it by.</param>
/// <param name="Gone">The receiver said that it wants nothing any more; else every attempt of the plan failed.</param>
public sealed record StoppedEndpoint(string Id, string Name, Instant Since, bool Gone);
