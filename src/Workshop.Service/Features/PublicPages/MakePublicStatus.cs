using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Promises;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Shipments;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Http.Answers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>How much of a job a link shows; each shows what the one before it does.</summary>
public enum PublicView
{
    Status,
    StatusAndAmounts,
    Decide,
}

/// <summary>Makes what customers see, member by member. Shapes: <see cref="PublicStatus"/>.</summary>
public static class MakePublicStatus
{
    /// <summary>The view <c>status</c> as the turn sees the job: the <c>public</c> of everything that is told outside; null where there is no such job.</summary>
    public static PublicStatus? In(Turn turn, Label job, Language language = Language.English) =>
        PublicReading.Of(turn, job) is { } read ? Of(read, PublicView.Status, turn.Now, language) : null;

    /// <param name="page">The address of the page, where there is one: photos and forms lie below it.</param>
    public static PublicStatus Of(PublicReading read, PublicView view, Instant now, Language language, string? page = null)
    {
        var (job, rules) = (read.Job, read.Rules);
        var calendar = rules.Calendar;
        var standing = PublicStanding.Of(job, rules, now);
        var asked = PublicStanding.Asked(job, rules, now);
        return new PublicStatus
        {
            Reference = job.Label,
            AsOf = now,
            Version = job.Version,
            Language = LanguageAsked.Tag(language),
            Shop = ShopOf(read),
            Watch = new PublicWatch(read.Watch?.ReadFacts().Calibre?.Kind, read.Watch?.Maker, read.Watch?.Model),
            Stage = standing.Stage,
            Since = standing.Since is { } since ? DayOf(since, job, standing.Stage, calendar) : null,
            Next = standing.Next,
            WaitingOn = standing.WaitingOn,
            WaitingFor = standing.WaitingFor,
            PartExpectedOn = standing.PartExpectedOn,
            Promise = PromiseOf(job, rules, now),
            Done = [.. job.Progress.Steps.Select(step => new PublicDone(step.Stage, DayOf(step.At, job, step.Stage, calendar)))],
            Decision = asked is { } open ? new PublicDecision(open.Version, open.ValidThrough) : null,
            Accessories = [.. read.Sheet.Accessories.Select(one => new PublicAccessory(one.Kind, one.Count))],
            Photos = page is null ? [] : [.. read.Photos.Select(photo => new PublicPhoto($"{page}/photos/{photo.Sha256}", calendar.DateOf(Microseconds.Read(photo.Received))))],
            Notes = [.. read.Notes.Select(note => new PublicNote(note.At, note.Text))],
            Tested = TestedOf(job, language, calendar),
            Ready = PublicStanding.IsReady(job) && job.Progress.Since is { } ready ? new PublicReady(calendar.DateOf(ready), rules.PublicPages.CollectWithinDays) : null,
            Shipment = ShipmentOf(job),
            Warranty = WarrantyOf(job, calendar.DateOf(now), language),
            Claim = ClaimOf(job, language),
            Links = page is null ? new PublicLinks() : LinksOf(job, view, asked, page),
            Amounts = view == PublicView.Status ? null : AmountsOf(job),
            Quote = view == PublicView.Decide && asked is { } version ? QuoteOf(read, version, language) : null,
        };
    }

    /// <summary>A version of the quote as its customer is shown it.</summary>
    internal static PublicQuote? QuoteOf(PublicReading read, QuoteVersion version, Language language)
    {
        if (read.Quotes.LastOrDefault(one => one.Version == version.Version) is not { } sent)
        {
            return null;
        }

        var newest = read.Job.Quotes.Newest!.Version;
        return new PublicQuote
        {
            N = sent.Version,
            Version = sent.Version,
            ValidThrough = sent.ValidThrough,
            Lines = [.. sent.Named.Select(line => new PublicQuoteLine(line.Id!, line.Text, line.Kind!.Value, line.AmountMinor, line.TaxMinor, line.IsOptional, line.Recommended == true))],
            TotalMinor = sent.TotalMinor,
            TaxMinor = sent.Lines.Where(line => !line.IsOptional).Sum(line => line.TaxMinor),
            Currency = sent.Currency,
            NotCovered = sent.NotCovered ?? [],
            IfRefused = new PublicIfRefused(sent.FeeOnRefusalMinor ?? 0, sent.ChoicesOnRefusal ?? [CustomersChoice.Return]),
            DurationWorkingDays = sent.WorkingDays,
            Supplementary = sent.Supplementary == true,
            ConsentText = ConsentOf(sent, read.Rules).In(language),
            Newest = newest == sent.Version ? null : newest,
        };
    }

    /// <summary>What a customer says yes to: the quote's own text, else the shop's usual one.</summary>
    internal static ConsentText ConsentOf(QuoteSent sent, ShopRules rules) => sent.ConsentText ?? rules.Quotes.ConsentText;

    private static PublicShop ShopOf(PublicReading read) => new(
        read.Shop.ShopName, read.Shop.Telephone, read.Shop.Email,
        [
            .. read.Rules.Calendar.Week.OrderBy(day => day.Key)
                .SelectMany(day => day.Value.Select(open => new PublicHours(day.Key.ToString().ToLowerInvariant(), open.Opens, open.Closes))),
        ]);

    // In the paper book stands the day it came; the entry was made later.
    private static LocalDate DayOf(Instant at, Job job, PublicStage stage, ShopCalendar calendar) =>
        stage == PublicStage.Received && job.Intake.Adopted is { } adopted ? adopted.TakenInOn : calendar.DateOf(at);

    internal static PublicPromise? PromiseOf(Job job, ShopRules rules, Instant now)
    {
        if (job.Progress.HasLeft || job.Standings.ReturnsUnrepaired || job.Promise.History is not [.., var last])
        {
            return null;
        }

        var moved = last.Reason is not null && job.Promise.History.Length > 1;
        return new PublicPromise(
            last.On, PromiseWords.MostLikely(job, rules, now), moved ? job.Promise.History[^2].On : null, moved ? rules.Calendar.DateOf(last.SaidAt) : null, moved ? last.Reason : null);
    }

    private static PublicTested? TestedOf(Job job, Language language, ShopCalendar calendar)
    {
        if (job.Standings.ReturnsUnrepaired || !job.Standings.Of(Core.Route.Stage.FinalControl).IsBehind)
        {
            return null;
        }

        var passed = job.WearChecks.Checks.LastOrDefault(check => check.Verdict == WearVerdict.Pass)?.Readings.LastOrDefault(reading => reading.Verdict == WearVerdict.Pass);
        var water = job.WaterTests.NewestValid is { Told.PressureBar: { } bar } test
            ? Phrase.Of("tested to {0} bar on {1}", new Figure(bar, "0.##"), new Spoken(calendar.DateOf(test.At))).In(language)
            : job.Route?.Statement?.In(language) ?? (Leaked(job) ? Phrase.Of("not water resistant").In(language) : null);
        return passed is null && water is null ? null : new PublicTested(
            Rounded(passed?.RatePerDaySeconds), Rounded(passed?.PlusMinusSeconds), passed is null ? null : Math.Round((decimal)passed.Wear.TotalHours, 1), water);
    }

    private static bool Leaked(Job job) => job.WaterTests.Tests.LastOrDefault(test => !test.OfEmptyCase) is { Validity: WaterValidity.Leaks, OpenedAt: null };

    private static decimal? Rounded(decimal? seconds) => seconds is { } value ? Math.Round(value, 1, MidpointRounding.AwayFromZero) : null;

    // Of the parcel that is on its way to the customer, or came; one that was lost is a matter for the telephone.
    private static PublicShipment? ShipmentOf(Job job)
    {
        var parcel = job.Shipments.All.LastOrDefault(one => one is { Direction: ParcelDirection.ToCustomer, LostAt: null });
        return job.Warranty is { How: HandedOverHow.Dispatched, HandedOverOn: { } sent } ? new PublicShipment(parcel?.Carrier, parcel?.Number, sent, job.Warranty.DeliveredOn ?? parcel?.DeliveredOn) : null;
    }

    private static ImmutableArray<PublicWarranty> WarrantyOf(Job job, LocalDate today, Language language) =>
        [.. job.Warranty.Lines.Select(line => new PublicWarranty(line.Line, line.LastDay, $"{WarrantyLineView.Of(line, today, language).Words} {job.Warranty.SentenceIn(language)}"))];

    private static PublicClaim? ClaimOf(Job job, Language language)
    {
        if (job.Warranty.Claims is not [.., var claim])
        {
            return null;
        }

        var (state, words) = claim switch
        {
            { Covered: true } => (PublicClaimState.Decided, Phrase.Of("It falls under the warranty: it is put right free of charge.")),
            { Covered: false, Goodwill: not null } => (PublicClaimState.Decided, Phrase.Of("It does not fall under the warranty; it is put right free of charge all the same.")),
            { Covered: false } => (PublicClaimState.Decided, Phrase.Of("It does not fall under the warranty; the desk tells you why and what can be done.")),
            { ReceivedOn: { } day } => (PublicClaimState.Received, Phrase.Of("The watch came back to us on {0} and is looked at.", new Spoken(day))),
            _ => (PublicClaimState.Reported, Phrase.Of("We have had your report since {0}.", new Spoken(claim.ReportedOn))),
        };
        return new PublicClaim(state, claim.Covered, words.In(language));
    }

    private static PublicLinks LinksOf(Job job, PublicView view, QuoteVersion? asked, string page) => new(
        view == PublicView.Decide && asked is not null ? $"{page}/answer" : null,
        job.Warranty.HandedOverOn is not null ? $"{page}/wear-report" : null,
        job.Warranty.HandedOverOn is not null ? $"{page}/claim" : null);

    private static PublicAmounts AmountsOf(Job job)
    {
        var account = Account.Of(job);
        return new PublicAmounts(
            account.Currency, job.Quotes.Newest?.TotalMinor, account.AskedMinor, account.PaidMinor - account.RefundedMinor, account.DueMinor, account.RefundMinor == 0 ? null : account.RefundMinor);
    }
}
