using System.Net;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Service.Demo;

/// <summary>The demo's clock as it is told and set.</summary>
public sealed record DemoNow
{
    public required Instant Now { get; init; }
}

/// <summary>How far the demo's clock is to be moved ahead.</summary>
public sealed record DemoAdvance
{
    /// <summary>Elapsed time, from nothing to ten years.</summary>
    public required Duration By { get; init; }
}

/// <summary>
/// What only a demo has: where it is and its keys, and a clock to set. No key is asked for, since whoever sits at this machine may do it;
/// so they answer on the loopback address alone. They are in no description, since a real workshop does not have them.
/// </summary>
internal static class DemoEndpoints
{
    private static readonly Duration AdvanceAtMost = Duration.FromDays(3653);
    private static readonly Instant Earliest = Instant.FromUtc(2000, 1, 1, 0, 0);
    private static readonly Instant Latest = Instant.FromUtc(2200, 1, 1, 0, 0);

    private static readonly string[] LocalNames = ["localhost", "127.0.0.1", "[::1]"];

    /// <param name="address">Null until the demo is ready.</param>
    public static void MapDemo(this IEndpointRouteBuilder routes, Func<DemoAddress?> address, DemoClock clock)
    {
        var moving = new SemaphoreSlim(1);
        var demo = routes.MapGroup("/demo").AllowAnonymous().ExcludeFromDescription();
        demo.AddEndpointFilter(OnlyFromHere);
        demo.AddEndpointFilter(new RefuseWhatCannotBeRead());
        demo.MapGet("", () => address() is { } ready ? Results.Json(ready, WorkshopJson.Options) : Results.StatusCode(StatusCodes.Status503ServiceUnavailable));
        demo.MapGet("clock", () => Told(clock));
        demo.MapPut("clock", (JsonBody<DemoNow> body) => Set(body.Value.Now, clock));
        demo.MapPost("clock/advance", (JsonBody<DemoAdvance> body, AgendaStore agenda, SweepDue sweep, LookAtTheHouse house, CancellationToken cancel) =>
            Advance(body.Value.By, clock, agenda, sweep, house, moving, cancel));
    }

    private static JsonHttpResult<DemoNow> Told(DemoClock clock) => TypedResults.Json(new DemoNow { Now = Microseconds.Truncated(clock.GetCurrentInstant()) }, WorkshopJson.Options);

    private static Results<JsonHttpResult<DemoNow>, ProblemHttpResult> Set(Instant now, DemoClock clock)
    {
        if (now < Earliest || now > Latest)
        {
            return Problems.BadFields(new Fault("/now", $"The demo's clock goes from {Earliest} to {Latest}"));
        }

        clock.Set(now);
        return Told(clock);
    }

    // From due moment to due moment, so that each thing is said when it would have been said.
    private static async Task<Results<JsonHttpResult<DemoNow>, ProblemHttpResult>> Advance(
        Duration by, DemoClock clock, AgendaStore agenda, SweepDue sweep, LookAtTheHouse house, SemaphoreSlim moving, CancellationToken cancel)
    {
        if (by < Duration.Zero || by > AdvanceAtMost)
        {
            return Problems.BadFields(new Fault("/by", "The demo's clock is moved ahead, by ten years at most; PUT /demo/clock sets it to any time"));
        }

        await moving.WaitAsync(cancel);
        try
        {
            var from = clock.GetCurrentInstant();
            var until = from + by;
            if (until > Latest)
            {
                return Problems.BadFields(new Fault("/by", $"The demo's clock goes to {Latest}"));
            }

            // Nobody looks every five minutes while days go by in a second; each day has what the house does on it.
            await house.Run(cancel);
            await sweep.Run(from, cancel);
            var reached = from;
            while (reached < until)
            {
                var morning = reached.InZone(DemoTown.Zone).Date.PlusDays(1).AtStartOfDayInZone(DemoTown.Zone).ToInstant();
                var wake = Microseconds.Read(await agenda.NextWake(Migrations.FirstSite, Microseconds.Of(reached), cancel)) ?? until;
                reached = Instant.Min(until, Instant.Min(morning, wake));
                clock.SetAhead(reached);
                if (reached == morning)
                {
                    await house.Run(cancel);
                }

                await sweep.Run(reached, cancel);
            }

            return Told(clock);
        }
        finally
        {
            moving.Release();
        }
    }

    // Also by the name it was called by: a page from elsewhere can make its own name lead to this machine.
    private static ValueTask<object?> OnlyFromHere(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var http = context.HttpContext;
        return http.Connection.RemoteIpAddress is { } address && IPAddress.IsLoopback(address) && LocalNames.Contains(http.Request.Host.Host, StringComparer.OrdinalIgnoreCase)
            ? next(context)
            : ValueTask.FromResult<object?>(Problems.Of(ProblemCatalogue.NoSuchAddress, "A demo answers this on its own machine only."));
    }
}
