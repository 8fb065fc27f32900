using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.House;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;
using Workshop.Core.Quotes;
using Workshop.Core.Warranties;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Parts;
using Workshop.Service.Features.Quotes;
using Workshop.Service.Features.Shop;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Demo;

/// <summary>What the demo's desk does, by the commands that serve a real desk.</summary>
internal sealed class DemoDesk(Turn turn, EventSettings settings)
{
    private const string Currency = "CHF";

    /// <summary>Swiss value-added tax since 2024, in tenths of a percent (MWSTG art. 25, from memory).</summary>
    private const int TaxPerMille = 81;

    public void TakeIn(DemoLife life)
    {
        var (name, mail, telephone, street) = DemoTown.Customer(life.Number - 1);
        var model = life.Model;
        var body = new TakeInBody
        {
            Customer = Described(new CustomerDetails
            {
                Name = $"{name} (DEMO)",
                Email = mail,
                Telephone = telephone,
                Address = $"{street}, {DemoTown.Name} (DEMO)",
                Language = "en",
            }),
            Watch = Described(new WatchDetails
            {
                Maker = $"{model.Maker} (DEMO)",
                Model = model.Name,
                CaseSerial = life.CaseSerial,
                MovementNumber = life.MovementNumber,
                Words = life.Words,
                Calibre = new CalibreFacts
                {
                    Name = model.Calibre.Id,
                    Kind = life.Route.Id == "full-chronograph" ? CalibreKind.Chronograph : CalibreKind.Automatic,
                    VibrationsPerHour = model.Calibre.VibrationsPerHour,
                    LiftAngleDegrees = model.Calibre.LiftAngleDegrees,
                    PowerReserveHours = model.Calibre.ReserveHours,
                },
                MadeInYear = model.Year,
                LuminousPaint = model.LuminousPaint,
                WaterOrLeakInside = life.Words.Contains("mist", StringComparison.Ordinal) ? true : null,
            }),
            Variant = life.Route.Id,
            Accessories =
            [
                new Accessory { Kind = PieceKind.Bracelet },
                .. life.Number % 3 == 0 ? [new Accessory { Kind = PieceKind.Links, Count = 2 }] : Array.Empty<Accessory>(),
            ],
            DeclaredValueMinor = life.ValueDeclared ? 90_000 + 13_500 * (life.Number % 17) : null,
            Currency = life.ValueDeclared ? Currency : null,
            Wishes = new IntakeWishes { Polish = life.Number % 4 == 0 ? PolishWish.Yes : PolishWish.No, OldPartsBack = life.Number % 2 == 0 },
            Condition = life.Number % 5 == 0 ? "A dent at the lower lug, glass scratched." : "Usual marks of wear, nothing loose.",
            Remarks = "DEMO",
            Terms = new IntakeTerms { AcceptedOn = Today },
            Person = DemoTown.Desk,
        };
        life.Label = Went<Made<TakenIn>>(TakeInJob.TakeIn(turn, body, DemoPlace.Desk.Caller).Result, life).Value.Label;
    }

    public void SendQuote(DemoLife life, LocalDate? validThrough)
    {
        var chronograph = life.Route.Id == "full-chronograph";
        SendQuote(life, validThrough, Line(chronograph ? "Complete service of a chronograph" : "Complete service", chronograph ? 94_000 : 52_000), Line("Seals and crown", 8_500));
    }

    /// <summary>More was found at the bench: a newer version, which waits for the customer.</summary>
    public void SendSupplement(DemoLife life) =>
        SendQuote(life, null, Line("Complete service", 52_000), Line("Seals and crown", 8_500), Line("Barrel bore worn oval, new barrel bridge", 21_000));

    public void AnswerQuote(DemoLife life, int version, bool accepted)
    {
        Went<IResult>(
            Features.Quotes.AnswerQuote.TakeAnswer(
                turn, life.Label, version, new QuoteAnswerBody { Accepted = accepted, Channel = AnswerChannel.Mail, Person = DemoTown.Desk }, DemoPlace.Desk.Caller).Result, life);

        // Whoever says yes to the quote is asked once more about the polish.
        if (accepted && turn.History(life.Label) is { Job.Intake: { Polish: PolishWish.Yes, PolishConfirmedAt: null } } history)
        {
            DeskCommand.Say(turn, history, DemoPlace.Desk.Caller, new PolishConfirmed(), DemoTown.Desk);
        }
    }

    /// <param name="orderedOn">For an order that is saved again, since its day has slipped: the day of the first.</param>
    public void OrderPart(DemoLife life, string order, string part, LocalDate expectedOn, LocalDate? orderedOn = null) => SavePartOrder.Keep(
        turn,
        order,
        new PartOrderDocument
        {
            OrderedOn = orderedOn ?? Today,
            Lines = [new PartOrderLine { Part = part, Count = 1, Job = life.Label.ToString(), ExpectedOn = expectedOn }],
            Remark = "DEMO",
        },
        DemoPlace.Desk.Caller);

    /// <summary>Everything that is said to lie in the safe does.</summary>
    public void CountTheSafe()
    {
        var counted = new SafeCounted { Pieces = [.. turn.Rules.Insurance.SafePlaces.SelectMany(place => HoldingStore.Of(turn, place)).Select(held => $"{held.Job}/{held.Piece}")] };
        var said = turn.Compose(
            House.Stream, new EventId(DemoPlace.Desk.Caller.Source, DeskCommand.NewId(turn)), counted, new Judged { Person = DemoTown.Desk, Role = "desk" });
        turn.Append([said]);
        CompareSafe.Keep(turn, said.Entry, CompareSafe.Compare(turn, counted));
    }

    public void HandOver(DemoLife life) => Went<IResult>(
        Features.Warranties.HandOver.Give(
            turn, life.Label, new HandOverBody { How = HandedOverHow.Collected, To = Piece.Customer, IdentitySeen = true, Person = DemoTown.Desk },
            DemoPlace.Desk.Caller, settings).Result, life);

    /// <param name="here">The customer has brought the watch along.</param>
    public void ReportClaim(DemoLife life, string text, bool here) => Went<IResult>(
        Features.Warranties.ReportClaim.Report(
            turn, life.Label, new ClaimBody { ReportedOn = Today, ReceivedOn = here ? Today : null, Text = text, Person = DemoTown.Desk }, DemoPlace.Desk.Caller).Result, life);

    public void DecideClaim(DemoLife life, bool covered, string reason) => Went<IResult>(
        Features.Warranties.DecideClaim.Decide(
            turn, life.Label, number: 1, new ClaimDecisionBody { Covered = covered, Reason = reason, Person = DemoTown.Manager }, DemoPlace.Office.Caller).Result, life);

    public void RecordStay(DemoLife life, LocalDate receivedOn, LocalDate returnedOn) => Went<IResult>(
        RecordClaimStay.Record(
            turn, life.Label, number: 1, new ClaimStayBody { ReceivedOn = receivedOn, ReturnedOn = returnedOn, Person = DemoTown.Desk }, DemoPlace.Desk.Caller).Result, life);

    private void SendQuote(DemoLife life, LocalDate? validThrough, params ImmutableArray<QuoteLineBody> lines) => Went<IResult>(
        Features.Quotes.SendQuote.Send(
            turn, life.Label, new QuoteBody { Lines = lines, Currency = Currency, ValidThrough = validThrough, Person = DemoTown.Desk }, DemoPlace.Desk.Caller).Result, life);

    private static QuoteLineBody Line(string text, long amountMinor) =>
        new() { Text = text, AmountMinor = amountMinor, TaxMinor = amountMinor * TaxPerMille / (1000 + TaxPerMille) };

    private LocalDate Today => turn.Rules.Calendar.DateOf(turn.Now);

    private static JsonElement Described<T>(T details) => JsonSerializer.SerializeToElement(details, WorkshopJson.Options);

    private static T Went<T>(IResult result, DemoLife life) where T : IResult => result is T went and not ProblemHttpResult
        ? went
        : throw new InvalidOperationException($"Life {life.Number} of the demo: the desk was refused. {(result as ProblemHttpResult)?.ProblemDetails.Detail}");
}
