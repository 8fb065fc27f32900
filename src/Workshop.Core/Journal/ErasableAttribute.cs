namespace Workshop.Core.Journal;

/// <summary>
/// Free text in which a person may be named. When its customer is erased the text goes, and with it the salt of the entry: the chain stays
/// whole, and nobody can try out what it said. Rules never depend on it.
/// </summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ErasableAttribute : Attribute;
