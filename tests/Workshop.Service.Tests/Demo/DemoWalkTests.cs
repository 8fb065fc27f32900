using Microsoft.Extensions.Configuration;
using Workshop.Service.Commands;
using Workshop.Service.Demo;
using Workshop.Service.Settings;

namespace Workshop.Service.Tests.Demo;

public sealed class DemoWalkTests : IDisposable
{
    private readonly string folder = ScratchFolder.New();

    private static readonly string[] Milestones =
    [
        "/v1/jobs", "\"diagnosis\"", "/recordings/", "10 ppm would be 0.86 seconds a day", "/quotes", "quotes/1/answer", "\"takedown\"", "\"cleaning\"", "\"inspection\"", "\"rebuild\"", "\"regulation\"", "\"case-strip\"",
        "\"case-work\"", "\"gaskets\"", "\"dial-and-hands\"", "case.closed", "water-test.recorded", "Outside", "sent-back", "Passed", "\"reserve-and-functions\"",
        "part-orders", "essential-parts", "part.fitted", "evening-list", "safe.counted", "second-person", "final-control.passed", "\"settlement\"", "hand-over", "claims/1/decision", "claims/1/stay", "warranty",
    ];

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task The_walk_tells_a_whole_life_and_every_step_goes_as_told_also_twice_in_the_same_house()
    {
        await using var house = await Open();
        foreach (var time in (string[])["first", "second"])
        {
            var told = new StringWriter();

            var code = await DemoWalk.Play(house.Address, told, CancellationToken.None);

            Assert.True(code == WorkshopCommand.Well, $"The {time} walk ended early:\n{told}");
            foreach (var said in Milestones)
            {
                Assert.Contains(said, told.ToString());
            }
        }
    }

    [Fact]
    public async Task A_walk_that_meets_another_answer_than_told_ends_there_and_says_so()
    {
        await using var house = await Open();
        var wrong = house.Address with { Keys = new Dictionary<string, string>(house.Address.Keys) { ["bench"] = house.Address.Keys["wall"] } };
        var told = new StringWriter();

        var code = await DemoWalk.Play(wrong, told, CancellationToken.None);

        Assert.Equal(WorkshopCommand.NotWell, code);
        Assert.DoesNotContain("Everything went as told", told.ToString());
        Assert.DoesNotContain("The quote", told.ToString());
    }

    private Task<DemoHouse> Open() => DemoHouse.Open(
        new DemoOptions { Empty = true },
        MachineSettings.Read(new ConfigurationBuilder()
            .AddInMemoryCollection(new Dictionary<string, string?> { [KnownSettings.StoragePath.Name] = folder, [KnownSettings.HttpPort.Name] = "0" })
            .Build()),
        CancellationToken.None);
}
