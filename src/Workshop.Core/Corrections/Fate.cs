namespace Workshop.Core.Corrections;

/// <summary>What later entries have made of an entry. The journal never changes; this is found anew with every fold.</summary>
public enum Fate
{
    /// <summary>Nothing was said about it since.</summary>
    AsWritten,

    /// <summary>Corrected, replaced, or caused by something that is void: kept, no effect.</summary>
    Void,

    /// <summary>A report that a manager settled as not having happened: kept, no effect.</summary>
    DidNotHappen,

    /// <summary>A query of the service whose report was settled: it ended then, and stands in the way of nothing that is told since.</summary>
    Answered,
}
