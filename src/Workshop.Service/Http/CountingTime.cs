namespace Workshop.Service.Http;

/// <summary>The machine's clock that only counts and that nobody can set, for what is measured and not dated. Dates are IClock's.</summary>
internal sealed class CountingTime : TimeProvider;
