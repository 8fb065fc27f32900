using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Pieces;

/// <summary>Whether others may go on with a piece whose holder is away.</summary>
/// <param name="May">False: it waits for the one who has it.</param>
public readonly record struct Touch(bool May, Phrase Why);

/// <summary>
/// What lies with somebody who is away is not simply taken over: work that is open is theirs unless they said otherwise as they put it
/// down; what only waits for its next step may be fetched. Common practice.
/// </summary>
public static class Touching
{
    public static Touch Of(Job job, Piece piece) =>
        piece.HandsOff == true ? new(false, Phrase.Of("hands off, as it was put down"))
        : piece.HandsOff == false ? new(true, Phrase.Of("free to go on with, as it was put down"))
        : OpenOn(job, piece) is { } stage ? new(false, Phrase.Of("{0} is open on it", stage))
        : IsForCleaning(job, piece) ? new(true, Phrase.Of("it waits for cleaning"))
        : new(true, Phrase.Of("nothing is open on it"));

    /// <summary>The stage that somebody is at with this piece; null where nobody is.</summary>
    public static Stage? OpenOn(Job job, Piece piece)
    {
        foreach (var planned in job.Standings.Plan)
        {
            if (job.Standings.Of(planned.Stage).State == StageState.Running && Works(planned, piece.Kind))
            {
                return planned.Stage;
            }
        }

        return null;
    }

    private static bool IsForCleaning(Job job, Piece piece) =>
        piece.Kind == PieceKind.Movement && job.Standings.InPlan(Stage.Cleaning) is not null && job.Standings.Stands(Stage.Takedown) && !job.Standings.Stands(Stage.Cleaning);

    // What is put together is one thing: whoever is at the assembly has all of it in hand.
    private static bool Works(RouteStage planned, PieceKind kind) => planned.Branch switch
    {
        Branch.Movement => kind == PieceKind.Movement,
        Branch.Case => kind is PieceKind.Case or PieceKind.Bezel or PieceKind.Back or PieceKind.CrownAndPushers or PieceKind.Bracelet,
        Branch.Assembly => kind is PieceKind.Movement or PieceKind.Case or PieceKind.DialAndHands or PieceKind.Bezel or PieceKind.Back or PieceKind.CrownAndPushers,
        Branch.Front => planned.Stage == Stage.Diagnosis && kind is (PieceKind.Movement or PieceKind.Case or PieceKind.DialAndHands),
        _ => false,
    };
}
