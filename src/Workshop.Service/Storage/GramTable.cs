using System.Collections.Immutable;
using Workshop.Core.Search;

namespace Workshop.Service.Storage;

/// <summary>
/// The table <c>gram</c>: names of customers and numbers of watches, taken apart so that a part or a wrong spelling leads to them. Written
/// in the turn that writes the customer or the watch, and personal as those are.
/// </summary>
public static class GramTable
{
    public const string OfNames = "name";
    public const string OfNumbers = "number";

    /// <summary>Grams of one insert; a usual name has fewer.</summary>
    private const int AtOnce = 16;

    private const string PutSql = """
        insert into gram (site, kind, gram, id)
        select cast(@site as text), cast(@kind as text), said.gram, cast(@id as text)
        from (
            select cast(@g0 as text) as gram
            union select cast(@g1 as text)
            union select cast(@g2 as text)
            union select cast(@g3 as text)
            union select cast(@g4 as text)
            union select cast(@g5 as text)
            union select cast(@g6 as text)
            union select cast(@g7 as text)
            union select cast(@g8 as text)
            union select cast(@g9 as text)
            union select cast(@g10 as text)
            union select cast(@g11 as text)
            union select cast(@g12 as text)
            union select cast(@g13 as text)
            union select cast(@g14 as text)
            union select cast(@g15 as text)) as said
        where said.gram is not null
        """;

    private const string ForgetSql = """
        delete from gram
        where site = @site
          and kind = @kind
          and id = @id
        """;

    private const string OlderNamesSql = """
        select id, name as one, telephone_normalised as other
        from customer
        where site = @site
          and gram_version < @version
        order by id
        limit @limit
        """;

    private const string OlderNumbersSql = """
        select id, case_serial_key as one, movement_number_key as other
        from watch
        where site = @site
          and gram_version < @version
        order by id
        limit @limit
        """;

    private const string NamesAreNewSql = """
        update customer
        set gram_version = @version,
            telephone_reversed = @telephone_reversed
        where site = @site
          and id = @id
        """;

    private const string NumbersAreNewSql = """
        update watch
        set gram_version = @version
        where site = @site
          and id = @id
        """;

    /// <summary>Grams of a customer's name.</summary>
    public static ImmutableArray<string> OfName(string? name) => Trigrams.OfWords(FoldedText.Words(name));

    /// <summary>Grams of a watch's numbers, each as numbers are compared.</summary>
    public static ImmutableArray<string> OfNumberKeys(string? caseSerialKey, string? movementNumberKey) =>
        [.. Trigrams.OfNumber(caseSerialKey).Concat(Trigrams.OfNumber(movementNumberKey)).Distinct(StringComparer.Ordinal)];

    /// <summary>A telephone number from its last digit to its first: what is known of a number is mostly its end.</summary>
    public static string? Reversed(string? telephone) =>
        string.Concat((telephone ?? "").Where(char.IsAsciiDigit).Reverse()) is { Length: > 0 } digits ? digits : null;

    /// <summary>Replaces what leads to somebody or something.</summary>
    public static void Put(Turn turn, string kind, string id, ImmutableArray<string> grams)
    {
        Forget(turn, kind, id);
        foreach (var some in grams.Chunk(AtOnce))
        {
            string? At(int i) => i < some.Length ? some[i] : null;
            turn.Execute(PutSql, new
            {
                site = turn.Site,
                kind,
                id,
                g0 = At(0),
                g1 = At(1),
                g2 = At(2),
                g3 = At(3),
                g4 = At(4),
                g5 = At(5),
                g6 = At(6),
                g7 = At(7),
                g8 = At(8),
                g9 = At(9),
                g10 = At(10),
                g11 = At(11),
                g12 = At(12),
                g13 = At(13),
                g14 = At(14),
                g15 = At(15),
            });
        }
    }

    /// <summary>Nothing leads there any more.</summary>
    public static void Forget(Turn turn, string kind, string id) => turn.Execute(ForgetSql, new { site = turn.Site, kind, id });

    /// <summary>Takes apart what was taken apart by an older rule, or never.</summary>
    /// <returns>How many customers and watches; 0: all are ready.</returns>
    internal static int FillSome(Turn turn, int limit)
    {
        var asked = new { site = turn.Site, version = FoldedText.Version, limit };
        var names = turn.Query<OlderRow>(OlderNamesSql, asked);
        foreach (var row in names)
        {
            Put(turn, OfNames, row.Id, OfName(row.One));
            turn.Execute(NamesAreNewSql, new { site = turn.Site, id = row.Id, version = FoldedText.Version, telephone_reversed = Reversed(row.Other) });
        }

        var numbers = turn.Query<OlderRow>(OlderNumbersSql, asked);
        foreach (var row in numbers)
        {
            Put(turn, OfNumbers, row.Id, OfNumberKeys(row.One, row.Other));
            turn.Execute(NumbersAreNewSql, new { site = turn.Site, id = row.Id, version = FoldedText.Version });
        }

        return names.Count + numbers.Count;
    }

    private sealed record OlderRow
    {
        public required string Id { get; init; }

        public string? One { get; init; }

        public string? Other { get; init; }
    }
}
