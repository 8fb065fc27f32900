namespace Workshop.Core.Hazards;

/// <summary>A warning that goes with a job or a stage. It reminds; local rules and licensed practice decide.</summary>
/// <param name="Id">A word, for example <c>radium-suspected</c>.</param>
/// <param name="Line">For a small display: at most 60 characters.</param>
/// <param name="Text">In full sentences.</param>
public sealed record Caution(string Id, string Line, string Text);
