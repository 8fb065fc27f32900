namespace Workshop.Core.Intake;

/// <summary>What drives a watch, as far as the desk can say.</summary>
public enum CalibreKind
{
    Automatic,
    HandWound,
    Chronograph,
    Quartz,
    Unknown,
}
