namespace Workshop.Core.Cleaning;

/// <summary>What a table says of parts and a bath; the worst word counts.</summary>
public enum WashVerdict
{
    Yes,

    /// <summary>For a few minutes an immersion.</summary>
    Short,

    /// <summary>A person looks and decides.</summary>
    Ask,

    /// <summary>Refused; a manager may let it through.</summary>
    No,

    /// <summary>Refused, whoever asks.</summary>
    Never,
}

/// <summary>How fast a basket turns.</summary>
public enum TurnSpeed
{
    Slow,
    Normal,
}

/// <summary>What a machine is for. Polishing paste in the fluid of movements ruins ten watches.</summary>
public enum MachineKind
{
    Movement,
    Case,
}

/// <summary>What of a step does not suit the parts.</summary>
public enum WashFault
{
    NeverWashed,
    OtherMachine,
    Fluid,
    FluidUnknown,
    Minutes,
    Speed,
    Warmth,
    Ultrasound,
    Drying,
    NoSuchJar,
}
