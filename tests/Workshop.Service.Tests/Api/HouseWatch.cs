using System.Collections.Immutable;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api;

/// <summary>
/// A watch in the house: the desk's part is done in turns of the writer, everything a bench does goes through the door. Mara works on
/// it and Vera controls it.
/// </summary>
public sealed class HouseWatch
{
    public const string CaseSerial = "A 12-34.5";

    private readonly WorkshopHost host;
    private int commands;

    private HouseWatch(WorkshopHost host, Label label, Device bench)
    {
        this.host = host;
        Label = label;
        Bench = bench;
    }

    public Label Label { get; }

    public Device Bench { get; }

    public string Stream => StreamEntry.OfJob(Label);

    private Writer Writer => host.Services.GetRequiredService<Writer>();

    private Reader Reader => host.Services.GetRequiredService<Reader>();

    public static async Task<HouseWatch> TakeIn(
        WorkshopHost host, Device? bench = null, string variant = "full-automatic", string caseSerial = CaseSerial, ImmutableArray<string>? hazards = null, ImmutableArray<MissingMember>? missing = null, Label? label = null)
    {
        var writer = host.Services.GetRequiredService<Writer>();
        var taken = await writer.Turn(WorkshopHost.Site, turn =>
        {
            var job = label ?? turn.DrawLabel(LabelKind.Job, StreamEntry.OfJob);
            turn.Append([turn.Compose(
                StreamEntry.OfJob(job),
                new EventId("/desk/front", $"take-in/{job}"),
                new JobTakenIn { Variant = variant, Customer = "c-1", Watch = "w-1", CaseSerial = caseSerial, Hazards = hazards ?? [], Missing = missing ?? [] },
                new Judged { Role = "desk", Route = turn.Rules.Routes[variant] })]);
            return job;
        });
        return new HouseWatch(host, taken, bench ?? Device.Pair(host));
    }

    /// <summary>The job as folded from its stream.</summary>
    public async Task<Job> Job() => (await Reader.History(WorkshopHost.Site, Label))!.Job;

    public async Task<ImmutableArray<Entry>> Entries() => (await Reader.History(WorkshopHost.Site, Label))!.Entries;

    public async Task<StageState> State(Stage stage) => (await Job()).Standings.Of(stage).State;

    /// <summary>
    /// Tells something of this watch, whatever comes of it. What lies in the past is told by another tablet, which was away: one and the
    /// same does not tell its times against its own numbers.
    /// </summary>
    public Task<Told> Tells(string type, string data, Instant? at = null, Device? device = null) =>
        (device ?? (at < Bench.Now ? Device.Pair(host) : Bench)).Say(Label.ToString(), type, data, at);

    /// <summary>Tells something and is believed.</summary>
    public async Task<Told> Does(string type, string data, Instant? at = null, Device? device = null)
    {
        var told = await Tells(type, data, at, device);
        Assert.True(told.Outcome == "accepted", $"{type} {data}: {told.Whole}");
        return told;
    }

    public Task<Told> Finish(Stage stage, string person = "mara", Instant? at = null) =>
        Does("stage.finished", $$"""{"stage":"{{Word.Of(stage)}}","person":"{{person}}"}""", at);

    public Task<Told> StartWear(string offset = "0", string person = "mara") =>
        Does("wear-check.started", $$"""{"kind":"worn","fullyWound":true,"offsetSeconds":{{offset}},"place":"winder","person":"{{person}}"}""");

    public Task<Told> ReadWear(string offset, Instant? at = null) => Does("wear-check.read", $$"""{"kind":"worn","offsetSeconds":{{offset}},"person":"mara"}""", at);

    public Task<Told> CloseCase(Instant? at = null) => Does("case.closed", $$"""{"jobLabel":"{{Label}}","caseSerial":"{{CaseSerial}}","person":"mara"}""", at);

    public Task<Told> OpenCase(Instant? at = null) => Does("case.opened", """{"reason":"a fibre under the crystal","person":"mara"}""", at);

    /// <summary>Walks the usual way until a stage stands, a minute between two steps.</summary>
    public async Task<HouseWatch> Through(Stage stage)
    {
        foreach (var planned in (await Job()).Standings.Plan.ToArray())
        {
            if (!(await Job()).Standings.Stands(planned.Stage))
            {
                host.Clock.Advance(Duration.FromMinutes(1));
                await DoUsually(planned.Stage);
            }

            if (planned.Stage == stage)
            {
                break;
            }
        }

        Assert.True((await Job()).Standings.Stands(stage));
        return this;
    }

    /// <summary>A command of the desk.</summary>
    public Task<Decision> Desk(WorkshopEvent one, string role = "desk") => Writer.Turn(WorkshopHost.Site, turn => JobTurn.Decide(
        turn,
        turn.History(Label)!,
        new Incoming { Id = new EventId("/desk/front", $"{Label}/{++commands}"), Job = Label, Event = one, Effective = turn.Now, Received = turn.Now, Live = true },
        role));

    public Task<Decision> HandOver() => Desk(new JobHandedOver { How = HandedOverHow.Collected, On = host.Clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb["Europe/Zurich"]).Date });

    public Task<Decision> Hold(HoldReason reason, string role = "desk", LocalDate? until = null) => Desk(new HoldPlaced { Hold = reason, Reason = "for the test", Until = until }, role);

    public Task<Decision> Lift(HoldReason reason, string role = "desk") => Desk(new HoldLifted { Hold = reason }, role);

    private async Task DoUsually(Stage stage)
    {
        switch (stage)
        {
            case Stage.Queue or Stage.Ready:
                break;
            case Stage.Quote:
                await SendQuote();
                Assert.Equal(Outcome.Accepted, (await Desk(new QuoteAnswered { Version = 1, Accepted = true })).Outcome);
                break;
            case Stage.Regulation:
                await Does("rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4}]}""");
                await Finish(stage);
                break;
            case Stage.Casing:
                await CloseCase();
                break;
            case Stage.WaterTest:
                await Does("water-test.recorded", """{"method":"dry","pressureBar":3,"passed":true}""");
                break;
            case Stage.WearCheck:
                await StartWear();
                host.Clock.Advance(Duration.FromHours(24));
                await ReadWear("3");
                break;
            case Stage.FinalControl:
                await Does("final-control.passed", await Control());
                break;
            case Stage.Settlement:
                Assert.Equal(Outcome.Accepted, (await Desk(new StageFinished { Stage = stage })).Outcome);
                break;
            case Stage.HandedOver:
                Assert.Equal(Outcome.Accepted, (await HandOver()).Outcome);
                break;
            default:
                await Finish(stage);
                break;
        }
    }

    public async Task<Decision> SendQuote(int version = 1) => await Desk(new QuoteSent
    {
        Version = version,
        Lines = [new QuoteLine { Text = "Full service", AmountMinor = 48000 }],
        Currency = "CHF",
        ValidThrough = host.Clock.GetCurrentInstant().InUtc().Date.PlusDays(30),
        WorkingDays = 20,
    });

    /// <summary>The data of a final control that finds everything in order.</summary>
    public async Task<string> Control(string person = "vera") =>
        $$"""{"checks":[{{string.Join(',', (await Job()).Route!.FinalChecks.Select(check => $$"""{"check":"{{check}}","result":"ok"}"""))}}],"person":"{{person}}"}""";
}
