using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Hazards;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Answers;

/// <summary>Go on, ask, or stop: what a device shows large.</summary>
public enum Signal
{
    Ok,
    Ask,
    Stop,
}

/// <summary>What a device shows to whoever stands before it; it needs no table of its own.</summary>
/// <param name="Line">At most 60 characters, in the language asked for.</param>
/// <param name="More">Further sentences where the line does not tell all.</param>
public sealed record Say(Signal Signal, string Line, string? More = null)
{
    [StringLength(Phrase.LineAtMost)]
    public string Line { get; init; } = Phrase.Cut(Line);

    /// <summary>Reminders; local rules and licensed practice decide.</summary>
    public ImmutableArray<Caution> Cautions { get; init; } = [];
}
