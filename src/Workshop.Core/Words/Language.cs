namespace Workshop.Core.Words;

/// <summary>The languages in which the workshop speaks to the people at its benches.</summary>
public enum Language
{
    English,
    German,
}
