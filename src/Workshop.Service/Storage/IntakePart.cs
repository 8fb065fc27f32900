namespace Workshop.Service.Storage;

/// <summary>The part of a job that a person edits (declared value, wishes, remarks, what was handed in), as JSON, and its version.</summary>
public sealed record IntakePart
{
    public required string Text { get; init; }

    public required long Version { get; init; }
}
