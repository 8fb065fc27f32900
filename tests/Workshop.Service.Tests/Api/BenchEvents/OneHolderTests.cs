using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class OneHolderTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    private const int Takers = 50;

    [Theory, BothEngines]
    public async Task Of_fifty_who_take_a_piece_at_once_one_has_it_and_49_are_told_who_and_since_when(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var devices = Enumerable.Range(1, Takers).Select(i => Device.Pair(host, source: $"/devices/taker-{engine}-{i}/1")).ToArray();

        var told = await Task.WhenAll(devices.Select((device, i) =>
            watch.Tells("piece.taken", $$"""{"kind":"movement","from":"places/desk","person":"person-{{i}}"}""", device: device)));

        var first = Array.FindIndex(told, one => one.Status == HttpStatusCode.OK);
        Assert.Single(told, one => one.Status == HttpStatusCode.OK);
        var refused = told.Where(one => one.Status == HttpStatusCode.Conflict).ToList();
        Assert.Equal(Takers - 1, refused.Count);
        Assert.All(refused, one =>
        {
            Assert.Equal("held-by", one.Whole.GetProperty("code").GetString());
            Assert.Equal($"people/person-{first}", one.Whole.GetProperty("holder").GetString());
            Assert.NotNull(one.Whole.GetProperty("since").GetString());
            Assert.Equal("stop", one.Say.GetProperty("signal").GetString());
        });
        Assert.Equal($"people/person-{first}", (await watch.Job()).Pieces.Pieces.Single(piece => piece.Id == "movement").Holder);
    }
}
