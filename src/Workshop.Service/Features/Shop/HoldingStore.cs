using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shop;

/// <summary>A piece that somebody has.</summary>
/// <param name="Job">The job's label.</param>
/// <param name="Piece">Its id within the job.</param>
public sealed record HeldPiece(string Job, string Piece);

/// <summary>Reads the table <c>holding</c> from its other end: not who has a piece, but what somebody has.</summary>
public static class HoldingStore
{
    private const string OfHolderSql = """
        select job, piece
        from holding
        where site = @site
          and holder = @holder
          and until_at is null
        order by job, piece
        """;

    /// <summary>What a holder has now, in order of jobs.</summary>
    /// <param name="holder">A reference such as <c>people/mara</c>.</param>
    public static IReadOnlyList<HeldPiece> Of(Turn turn, string holder) => turn.Query<HeldPiece>(OfHolderSql, new { site = turn.Site, holder });
}
