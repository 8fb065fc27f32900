using NodaTime;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>The invented workshop: what a new demo is filled with, once, before it says where it is.</summary>
internal static class DemoContent
{
    /// <summary>The demo's books begin so long before today.</summary>
    public static readonly Duration Past = Duration.FromDays(150);

    /// <param name="now">Today; everything is counted back from it.</param>
    /// <param name="jobs">False where the demo begins without any job.</param>
    public static async Task Fill(Writer writer, EventSettings settings, Instant now, bool jobs, CancellationToken cancel)
    {
        var rules = await writer.Turn(
            Migrations.FirstSite,
            turn =>
            {
                var then = turn.At(now - Past);
                var today = now.InZone(then.Rules.Calendar.Zone).Date;
                DemoShop.Save(then, today);
                DemoShop.Fill(turn.At(now), today);
                return then.Rules;
            },
            cancel);
        if (jobs)
        {
            await new DemoPast(writer, settings).Live(new DemoLives(rules, new DemoDays(rules.Calendar, now)).All(), now, cancel);
        }
    }
}
