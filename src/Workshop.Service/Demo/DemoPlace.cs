using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>A place of the demo's house that spoke in its past. Its keys are gone; those printed at the start speak for places of their own.</summary>
internal sealed record DemoPlace(Role Role, string Source, string? Bench = null)
{
    public static readonly DemoPlace Desk = new(Role.Desk, "/desk/vennlowe-front");

    public static readonly DemoPlace Office = new(Role.Manager, "/desk/vennlowe-office");

    public static DemoPlace At(DemoBench bench) => new(Role.Bench, bench.Source, bench.Id);

    /// <summary>Where a person speaks from.</summary>
    public static DemoPlace Of(string person) => DemoTown.Person(person) switch
    {
        { Bench: not null } => At(DemoTown.BenchOf(person)),
        { Manager: true } => Office,
        _ => Desk,
    };

    public Caller Caller => new() { Site = Migrations.FirstSite, KeyId = "demo-past", Role = Role, Source = Source, Bench = Bench };
}
