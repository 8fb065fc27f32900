using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation;

/// <summary>A copy of what a world has left, with one thing wrong in it.</summary>
internal sealed class BentWorld : IDisposable
{
    private readonly World world;

    private BentWorld(World world)
    {
        this.world = world;
        ScratchFolder.CopyDatabase(world.Folder, Folder);
    }

    public string Folder { get; } = ScratchFolder.New("world");

    /// <param name="wrong">A statement that changes something.</param>
    public static BentWorld Of(World world, string wrong)
    {
        var copied = new BentWorld(world);
        using var database = new Database(new StorageSettings { Path = copied.Folder });
        using var connection = database.OpenShortWriter();
        Assert.True(connection.Execute(wrong) > 0, "Nothing was made wrong.");
        return copied;
    }

    public Evidence Evidence() => new(Folder, world.Told, world.Now, isTheEnd: true);

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
