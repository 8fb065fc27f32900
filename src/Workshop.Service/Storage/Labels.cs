using System.Security.Cryptography;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage;

/// <summary>The table <c>label</c>: every label given out or bound, of all kinds and sites.</summary>
internal static class Labels
{
    internal const string BindSql = """
        insert into label (site, label, kind, names, bound)
        values (@site, @label, @kind, @names, @bound)
        on conflict do nothing
        """;

    internal const string FindSql = """
        select names
        from label
        where label = @label
        """;

    private const int FreeCharacters = Label.Length - 2;

    /// <summary>A label by chance; whether it is free is the table's to say.</summary>
    public static Label Draw(LabelKind kind)
    {
        Span<int> free = stackalloc int[FreeCharacters];
        while (true)
        {
            for (var i = 0; i < FreeCharacters; i++)
            {
                free[i] = RandomNumberGenerator.GetInt32(Label.Alphabet.Length);
            }

            if (Label.Complete(kind, free) is { } label)
            {
                return label;
            }
        }
    }
}
