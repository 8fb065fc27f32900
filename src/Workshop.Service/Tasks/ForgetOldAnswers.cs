using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>Forgets the answers kept for repeats whose time is over.</summary>
public sealed class ForgetOldAnswers(Writer writer)
{
    public Task Run(CancellationToken cancel) => writer.Turn(Migrations.FirstSite, turn => IdempotencyStore.Sweep(turn), cancel);
}
