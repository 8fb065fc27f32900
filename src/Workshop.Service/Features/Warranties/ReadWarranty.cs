using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

/// <summary>Whether a fault reported on a day falls under the warranty, line by line, and why.</summary>
public static class ReadWarranty
{
    /// <param name="on">YYYY-MM-DD; today where left out.</param>
    public static async Task<Results<Seen<WarrantyView>, ProblemHttpResult>> Handle(
        string label, string? on, Caller caller, LanguageAsked language, HttpResponse response, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        var asked = on is null ? null : LocalDatePattern.Iso.Parse(on);
        if (asked is { Success: false })
        {
            return Problems.BadParameter("on", "This is no day such as 2026-03-02");
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var day = asked?.Value ?? (await rules.Read(caller.Site, cancel)).Calendar.DateOf(clock.GetCurrentInstant());
        var book = read.Job.Warranty;
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);
        return Answer.Seen(read.Job.Version, new WarrantyView(
            job, day, book.HandedOverOn, book.DeliveredOn, book.Delivery is { } delivery ? new DeliveryDay(delivery.On, delivery.Basis) : null, WarrantyLineView.Of(book, day, language.Best), WithoutWarrantyView.Of(read.Job, language.Best), book.SentenceIn(language.Best)));
    }
}
