using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Demo;

/// <summary>The demo's spare parts: what lies in its drawers, and what has to be ordered.</summary>
internal static class DemoStock
{
    public const string PusherSpring = "pusher-spring-47c";
    public const string CounterWheel = "counter-wheel-47c";

    public static void Fill(Turn turn)
    {
        var counted = turn.Now;
        Put(turn, PusherSpring, new PartDocument { Name = "Pusher spring", Maker = "Tirvalle (DEMO)", MakersNumber = "47-C-118", ForCalibres = ["tirvalle-47c"], Counted = new ShelfCount(0, counted), UsualWorkingDays = 8 });
        Put(turn, CounterWheel, new PartDocument { Name = "Minute counter wheel", Maker = "Tirvalle (DEMO)", MakersNumber = "47-C-204", ForCalibres = ["tirvalle-47c"], Counted = new ShelfCount(0, counted), Essential = true, UsualWorkingDays = 15 });
        Put(turn, "gasket-set-29", new PartDocument { Name = "Gaskets, a set for 29 mm", Counted = new ShelfCount(11, counted) });
        Put(turn, "mainspring-41", new PartDocument { Name = "Mainspring", Maker = "Tirvalle (DEMO)", MakersNumber = "41-771", ForCalibres = ["tirvalle-41"], Counted = new ShelfCount(4, counted) });
    }

    private static void Put(Turn turn, string id, PartDocument part) =>
        StockTable.Put(turn, StockTable.Part, id, JsonSerializer.Serialize(part with { Remark = "DEMO: invented, nothing here is real" }, WorkshopJson.Stored), DemoPlace.Desk.Caller.Source);
}
