using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class ChainHashTests
{
    private static readonly ChainLink Documented = new()
    {
        Site = "main",
        Position = 1,
        Stream = "job/J7K3MQ4T",
        StreamVersion = 1,
        Source = "/devices/bench-2/1",
        Id = "e-1",
        Effective = 1_772_442_843_000_000,
        Type = "stage.started",
        Disposition = "applied",
        Digest = ChainHash.Digest(Salt, """{"stage":"cleaning"}"""),
        Judged = "{}",
    };

    private static byte[] Salt => [.. Enumerable.Repeat((byte)1, ChainHash.Length)];

    /// <summary>The vector of the docstring, computed there by other means: Python's hashlib and struct.</summary>
    [Fact]
    public void The_documented_entry_has_the_documented_hash()
    {
        Assert.Equal("73b826431d656eb8dae00fec65dc2abcb08758d9e3f9d890e7a6bf35ca7574d7", Convert.ToHexStringLower(Documented.Digest.Span));
        Assert.Equal("d44ec3d7dac6d8024206ec89adf38ac159a2c32b5ad6e803f9bea15692ad34a0", Convert.ToHexStringLower(ChainHash.Next(ChainHash.Beginning, Documented)));
    }

    [Fact]
    public void Every_part_of_an_entry_is_covered()
    {
        ChainLink[] changed =
        [
            Documented with { Site = "main2" },
            Documented with { Position = 2 },
            Documented with { Stream = "job/J7K3MQ4V" },
            Documented with { StreamVersion = 2 },
            Documented with { Source = "/devices/bench-2/2" },
            Documented with { Id = "e-2" },
            Documented with { Effective = Documented.Effective + 1 },
            Documented with { Type = "stage.finished" },
            Documented with { Disposition = "noted" },
            Documented with { Digest = ChainHash.Digest(Salt, "{}") },
            Documented with { Judged = """{"person":"mara"}""" },
            Documented with { Source = "/devices/bench-2/1e", Id = "-1" },
        ];

        var hashes = changed.Append(Documented).Select(link => Convert.ToHexString(ChainHash.Next(ChainHash.Beginning, link))).ToHashSet();

        Assert.Equal(changed.Length + 1, hashes.Count);
        Assert.DoesNotContain(Convert.ToHexString(ChainHash.Next(ChainHash.Next(ChainHash.Beginning, Documented), Documented)), hashes);
    }
}
