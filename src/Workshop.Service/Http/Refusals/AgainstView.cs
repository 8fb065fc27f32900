using Workshop.Core.Gates;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Refusals;

/// <summary>One gate that stands against an event.</summary>
/// <param name="Gate">Its full name; named in <c>despite</c> it is passed where its strength is <c>ask</c>.</param>
/// <param name="Line">At most 60 characters.</param>
/// <param name="Helps">Who or what could help.</param>
public sealed record AgainstView(string Gate, Strength Strength, string Line, string Helps, bool Waivable)
{
    public static AgainstView Of(Objection one, Language language = Language.English) =>
        new(one.Gate, one.Strength, one.Line.Line(language), one.Helps.In(language), one.Waivable);
}
