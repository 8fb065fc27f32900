using System.Globalization;
using NodaTime;
using Workshop.Core.Letters;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Shipments;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Letters;

/// <summary>
/// What a paragraph may say, member by member: a positive list, in the reader's language. What is not here stands in no letter; a value
/// that there is none of is left out, and its sentence with it.
/// </summary>
public sealed class LetterValues
{
    private readonly LetterReading read;
    private readonly LetterOccasion one;
    private readonly Language language;
    private readonly LocalDate today;
    private readonly Dictionary<string, object> values = new(StringComparer.Ordinal);

    private LetterValues(LetterReading read, LetterOccasion one, Language language, LocalDate today) =>
        (this.read, this.one, this.language, this.today) = (read, one, language, today);

    /// <param name="today">The day of the letter.</param>
    /// <param name="page">Where the customer sees this watch; null: nowhere.</param>
    public static Dictionary<string, object> Of(LetterReading read, LetterOccasion one, Language language, LocalDate today, string? page)
    {
        var made = new LetterValues(read, one, language, today);
        made.Watch();
        made.Fill();
        made.Page(page);
        return made.values;
    }

    private void Watch()
    {
        Put("reference", read.Job.Label.ToString());
        var named = string.Join(' ', new[] { read.Watch?.Maker, read.Watch?.Model }.Where(text => !string.IsNullOrWhiteSpace(text)));
        Put("watch", named.Length > 0 ? named : language == Language.German ? "Uhr" : "watch");
        Put("order", read.Job.Intake.Ordered?.Order);
    }

    // The same page answers, tells and shows; a text asks for it by what it is about.
    private void Page(string? page)
    {
        Put("link", page);
        switch (one.Moment)
        {
            case LetterMoment.QuoteReady or LetterMoment.QuoteReminder or LetterMoment.SupplementaryQuote:
                Put("answerLink", page);
                break;
            case LetterMoment.WearAskedWeek or LetterMoment.WearAskedMonth or LetterMoment.WearAskedBack:
                Put("wearLink", page);
                break;
        }
    }

    private void Fill()
    {
        switch (one.Moment)
        {
            case LetterMoment.ReceivedSafely:
                Put("fixedDate", read.Job.Intake.FixedDate is { } day ? Day(day) : null);
                break;
            case LetterMoment.QuoteReady or LetterMoment.SupplementaryQuote or LetterMoment.QuoteReminder or LetterMoment.QuoteExpired or LetterMoment.ApprovalConfirmed:
                OfQuote();
                break;
            case LetterMoment.PartDelayed:
                Put("partOn", SlippedTo() is { } partOn ? Day(partOn) : null);
                Promise();
                break;
            case LetterMoment.DateChanged:
                Promise();
                Moved();
                break;
            case LetterMoment.Tested:
                Tested();
                break;
            case LetterMoment.ReadyToCollect or LetterMoment.ReadyReminder:
                Ready();
                break;
            case LetterMoment.Dispatched or LetterMoment.ServiceDue or LetterMoment.ReturnedUnrepaired:
                Put("leftOn", (read.Job.Warranty.HandedOverOn ?? LeftOn()) is { } left ? Day(left, weekday: false) : null);
                Parcel();
                Put("fee", one.Moment == LetterMoment.ReturnedUnrepaired && Account.Of(read.Job) is { AskedMinor: > 0 and var fee, Currency: var currency } ? Money(fee, currency) : null);
                break;
            case LetterMoment.HandedOver:
                Warranty(read.Job.Warranty.Lines);
                Water();
                break;
            case LetterMoment.WarrantyEndsSoon:
                Warranty(read.Job.Warranty.Lines.Where(line => $"{line.LastDay:uuuu-MM-dd}" == one.Occasion));
                Put("lastDay", LocalDate.FromDateTime(DateTime.ParseExact(one.Occasion, "yyyy-MM-dd", CultureInfo.InvariantCulture)) is var last ? Day(last) : null);
                break;
            case LetterMoment.WearAskedWeek or LetterMoment.WearAskedMonth or LetterMoment.WearAskedBack or LetterMoment.WearInvitation:
                Wear();
                break;
            case LetterMoment.ClaimReceived or LetterMoment.ClaimDecided:
                OfClaim();
                break;
            case LetterMoment.RefundOwed when Account.Of(read.Job) is var account:
                Put("refund", Money(account.RefundMinor, account.Currency));
                break;
            case LetterMoment.PaymentAsked:
                Put("deposit", Deposit.AskedMinor(read.Job) is { } asked ? Money(asked, read.Job.Quotes.Agreed!.Currency) : null);
                break;
            case LetterMoment.DamageTold or LetterMoment.LossTold:
                Put("words", Released());
                break;
        }
    }

    private void OfQuote()
    {
        var version = int.Parse(one.Occasion.Split('-')[0], CultureInfo.InvariantCulture);
        var quote = read.Job.Quotes.Versions.First(known => known.Version == version);
        var sent = read.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<QuoteSent>().Last(known => known.Version == version);
        Put("lines", sent.Named.Select(line => Row(("text", line.Text), ("amount", Money(line.AmountMinor, sent.Currency)), ("optional", line.IsOptional ? "yes" : null))).ToArray());
        Put("hasOptions", sent.Named.Any(line => line.IsOptional) ? "yes" : null);
        Put("total", Money(one.Moment == LetterMoment.ApprovalConfirmed ? quote.AgreedMinor : quote.TotalMinor, quote.Currency));
        var tax = sent.Named.Where(line => !line.IsOptional).Sum(line => line.TaxMinor);
        Put("tax", tax > 0 ? Money(tax, quote.Currency) : null);
        Put("validThrough", Day(quote.ValidThrough));
        Put("sentOn", Day(read.Rules.Calendar.DateOf(quote.SentAt), weekday: false));
        Put("workingDays", quote.WorkingDays > 0 ? quote.WorkingDays.ToString(CultureInfo.InvariantCulture) : null);
        var deposit = one.Moment == LetterMoment.ApprovalConfirmed ? Deposit.IsHere(read.Job) ? null : Deposit.AskedMinor(read.Job) : quote.DepositMinor > 0 ? quote.DepositMinor : (long?)null;
        Put("deposit", deposit is { } asked ? Money(asked, quote.Currency) : null);
        Put("fee", quote.FeeOnRefusalMinor > 0 ? Money(quote.FeeOnRefusalMinor, quote.Currency) : null);
        if (one.Moment == LetterMoment.ApprovalConfirmed)
        {
            Promise();
        }
    }

    private void Promise() =>
        Put("promise", read.Job.Promise.On is { } by ? LetterDates.Promise(by, PromiseWords.MostLikely(read.Job, read.Rules, LetterJudge.At(today, LocalTime.Noon, read.Rules)), today, language) : null);

    private void Moved()
    {
        var number = int.Parse(one.Occasion, CultureInfo.InvariantCulture);
        if (read.Job.Promise.History.ElementAtOrDefault(number) is { } said)
        {
            var before = LetterPlan.SaidBefore(read.Job, number, read.Rules);
            Put("was", Day(before));
            Put("earlier", said.On < before ? "yes" : null);
            Put("reason", said.Reason is { } reason ? LetterReasons.Of(reason).In(language) : null);
        }
    }

    private void Tested()
    {
        if (read.Job.WearChecks.Checks.LastOrDefault(check => check.Verdict == WearVerdict.Pass)?.Readings.LastOrDefault(reading => reading.Verdict == WearVerdict.Pass) is
            { RatePerDaySeconds: { } rate, PlusMinusSeconds: { } plusMinus } passed)
        {
            Put("rate", new Figure(WearArithmetic.PrintedRate(rate, plusMinus), "+0.####;-0.####;0").In(language));
            Put("plusMinus", new Figure(WearArithmetic.PrintedPlusMinus(plusMinus), "0.####").In(language));
            Put("hours", new Figure(Math.Round((decimal)passed.Wear.TotalHours, 0), "0").In(language));
        }
    }

    private void Ready()
    {
        var (job, account) = (read.Job, Account.Of(read.Job));
        Put("readyOn", LetterPlan.ReadySince(job) is { } since ? Day(read.Rules.Calendar.DateOf(since), weekday: false) : null);
        Put("unrepaired", job.Standings.ReturnsUnrepaired ? "yes" : null);

        // Where the shop keeps its money elsewhere nobody here knows what was paid.
        var here = read.Rules.Money.Kept == MoneyKept.Here;
        Put("due", here && account.DueMinor > 0 && !account.OnAccount ? Money(account.DueMinor, account.Currency) : null);
        Put("settled", here && account is { AskedMinor: > 0, DueMinor: 0 } ? "yes" : null);
        if (!job.Standings.ReturnsUnrepaired)
        {
            Tested();
            Water();
        }
    }

    private void Water() => Put("water", read.Job.WaterTests.NewestValid is { Told.PressureBar: { } bar } test
        ? language == Language.German
            ? $"Auf Dichtheit geprüft mit {new Figure(bar, "0.##").In(language)} bar am {Day(read.Rules.Calendar.DateOf(test.At), weekday: false)}."
            : $"Tested against water to {new Figure(bar, "0.##").In(language)} bar on {Day(read.Rules.Calendar.DateOf(test.At), weekday: false)}."
        : read.Job.Route?.Statement?.In(language));

    private void Parcel()
    {
        if (one.Moment == LetterMoment.Dispatched && read.Job.Shipments.All.LastOrDefault(parcel => parcel.Direction == ParcelDirection.ToCustomer) is { } sent)
        {
            Put("carrier", sent.Carrier);
            Put("parcel", sent.Number);
        }
    }

    private void Warranty(IEnumerable<WarrantyLine> lines)
    {
        var shown = lines.Select(line => Row(("name", WordLists.Of("warrantyLine", line.Line, language)), ("lastDay", Day(line.LastDay, weekday: false)), ("words", line.Term.Text))).ToArray();
        Put("warranty", shown);
        Put("hasWarranty", shown.Length > 0 ? "yes" : null);
        Put("warrantyWords", read.Job.Warranty.SentenceIn(language));
    }

    private void Wear()
    {
        var report = read.Job.WearReports.Reports.LastOrDefault(known => $"{known.Number}" == one.Occasion && one.Moment is LetterMoment.WearAskedBack or LetterMoment.WearInvitation);
        var free = report?.Terms.FreeUntil ?? read.Job.Warranty.HandedOverOn?.PlusDays(read.Rules.WearReports.FreeAdjustmentDays);
        Put("freeUntil", free >= today ? Day(free!.Value, weekday: false) : null);
        Put("stopped", report?.Verdict == WearReportVerdict.Stopped ? "yes" : null);
        if (report is { RatePerDaySeconds: { } rate, PlusMinusSeconds: { } plusMinus })
        {
            Put("rate", new Figure(WearArithmetic.PrintedRate(rate, plusMinus), "+0.####;-0.####;0").In(language));
            Put("plusMinus", new Figure(WearArithmetic.PrintedPlusMinus(plusMinus), "0.####").In(language));
        }

        if (report is { Told: { Amount: { } amount, OverDays: { } days } told })
        {
            Put("told", (language, told.Unit) switch
            {
                (Language.German, WearUnit.Minutes) => $"{new Figure(amount, "0.##").In(language)} Minuten in {new Figure(days, "0.#").In(language)} Tagen",
                (Language.German, _) => $"{new Figure(amount, "0.##").In(language)} Sekunden in {new Figure(days, "0.#").In(language)} Tagen",
                (_, WearUnit.Minutes) => $"{new Figure(amount, "0.##").In(language)} minutes in {new Figure(days, "0.#").In(language)} days",
                _ => $"{new Figure(amount, "0.##").In(language)} seconds in {new Figure(days, "0.#").In(language)} days",
            });
        }
    }

    private void OfClaim()
    {
        if (read.Job.Warranty.Claims.FirstOrDefault(claim => $"{claim.Number}" == one.Occasion) is { } claim)
        {
            Put("reportedOn", Day(claim.ReportedOn, weekday: false));
            Put("covered", claim.Covered == true ? "yes" : null);
            Put("bring", claim.ReceivedOn is null ? "yes" : null);
            Put("goodwill", claim is { Covered: false, Goodwill: { } goodwill } ? WordLists.Of("goodwill", goodwill, language) : null);
        }
    }

    private LocalDate? SlippedTo() => read.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<PartExpected>().LastOrDefault(part => part.Was is not null)?.ExpectedOn;

    private LocalDate? LeftOn() => read.Job.Standings.Of(Stage.HandedOver).Since is { } at ? read.Rules.Calendar.DateOf(at) : null;

    private string? Released() => read.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<LetterReleased>()
        .LastOrDefault(released => released.Moment == one.Moment && $"{released.Number}" == one.Occasion)?.Words;

    private string Day(LocalDate day, bool weekday = true) => LetterDates.Day(day, today, language, weekday);

    private string Money(long minor, string? currency)
    {
        var said = Amount.Said(minor, currency);
        return language == Language.German ? said.Replace('.', ',') : said;
    }

    private static Dictionary<string, object> Row(params ReadOnlySpan<(string Name, string? Value)> members)
    {
        var row = new Dictionary<string, object>(StringComparer.Ordinal);
        foreach (var (name, value) in members)
        {
            if (value is not null)
            {
                row[name] = value;
            }
        }

        return row;
    }

    private void Put(string name, object? value)
    {
        if (value is not null)
        {
            values[name] = value;
        }
    }
}
