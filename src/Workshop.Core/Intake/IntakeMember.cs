namespace Workshop.Core.Intake;

/// <summary>Members of the intake that a later stage asks for.</summary>
public static class IntakeMember
{
    public const string DeclaredValue = "declaredValue";
    public const string Terms = "terms";
    public const string Polish = "polish";
    public const string Condition = "condition";
    public const string CaseSerial = "caseSerial";
}
