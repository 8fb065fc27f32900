namespace Workshop.Core.Watches;

/// <summary>How a watch came to an owner.</summary>
public enum HowOwned
{
    Bought,
    Given,
    Inherited,
    Other,
}
