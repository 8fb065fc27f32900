namespace Workshop.Service.Demo;

/// <summary>How the demo was asked for.</summary>
public sealed record DemoOptions
{
    /// <summary>Throw the earlier demo away.</summary>
    public bool Fresh { get; init; }

    /// <summary>Without any job.</summary>
    public bool Empty { get; init; }

    /// <summary>For scripts: one line of JSON first.</summary>
    public bool Json { get; init; }

    /// <summary>Play one watch's life, then end.</summary>
    public bool Walk { get; init; }

    /// <summary>With <see cref="Walk"/>: a demo that runs already.</summary>
    public Uri? Url { get; init; }
}
