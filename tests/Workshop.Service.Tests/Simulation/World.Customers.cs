using System.Globalization;
using System.Text.Json;

namespace Workshop.Service.Tests.Simulation;

/// <summary>Customers, by way of their storefront: they answer quotes, late, twice and in old versions, and tell how a watch goes that they have back.</summary>
internal sealed partial class World
{
    private readonly HashSet<string> readByCustomers = new(StringComparer.Ordinal);

    /// <summary>What the customers have said about watches of theirs, by its id.</summary>
    private readonly List<string> saidByCustomers = [];

    /// <summary>How much of it there was.</summary>
    public int SaidByCustomers => saidByCustomers.Count;

    private Task CustomersReadTheirNews()
    {
        Plan(After(5, 45), CustomersReadTheirNews);

        // By their ids: in which order messages of different watches came is no part of the seed.
        foreach (var news in shopfront!.HeardSoFar().Where(news => readByCustomers.Add(news.Id)).OrderBy(news => news.Id, StringComparer.Ordinal))
        {
            var told = JsonElement.Parse(news.Body);
            var data = told.GetProperty("data");
            if (!data.TryGetProperty("order", out _))
            {
                // A watch that came over the counter; its customer knows nothing of the storefront.
                continue;
            }

            switch (told.GetProperty("type").GetString())
            {
                case "quote.issued":
                    AnswerQuote(data.GetProperty("job").GetString()!, data.GetProperty("quote").GetInt32());
                    break;
                case "job.dispatched":
                    ParcelArrives(data.GetProperty("job").GetString()!);
                    break;
                case "job.handed-over":
                    WearIt(data.GetProperty("job").GetString()!);
                    break;
            }
        }

        return Task.CompletedTask;
    }

    private void AnswerQuote(string job, int version)
    {
        var mood = chance.Next(12);
        if (mood == 0)
        {
            // They do not answer at all.
            return;
        }

        // A letter that lay about: the version before this one is answered.
        var answered = mood == 1 && version > 1 ? version - 1 : version;
        var accepted = mood != 2;
        var data = $$"""{ "job": "{{job}}", "quote": {{answered}}, "accepted": {{(accepted ? "true" : "false")}}, "consentText": "I order this work.", "at": "{{Text(Now)}}" }""";
        for (var clicks = chance.Next(5) == 0 ? 2 : 1; clicks > 0; clicks--)
        {
            CustomerSays($"{job}-q{answered}", "quote.answered", data, 2, BenchWork.Pick(chance, 20, 200, 1500));
        }
    }

    private void ParcelArrives(string job)
    {
        var data = $$"""{ "job": "{{job}}", "direction": "to-customer", "carrier": "carter", "number": "{{job}}", "at": "{{Text(Now)}}" }""";
        CustomerSays($"{job}-parcel", "shipment.delivered", data, 30, 600);
    }

    private void WearIt(string job)
    {
        if (chance.Next(2) == 0)
        {
            CustomerSays($"{job}-wear", "wear.reported", $$"""{ "job": "{{job}}", "secondsGained": {{chance.Next(-90, 90)}}, "overDays": 7, "reportedAt": "{{Text(Now)}}" }""", 10, 600);
        }

        if (chance.Next(2) == 0)
        {
            CustomerSays($"{job}-claim", "claim.reported", $$"""{ "job": "{{job}}", "reportedAt": "{{Text(Now)}}", "text": "It stops at night." }""", 10, 600);
        }
    }

    private void CustomerSays(string about, string type, string data, int minutes, int atMost)
    {
        var (id, moment) = (string.Create(CultureInfo.InvariantCulture, $"{about}-{saidByCustomers.Count}"), Text(Now));
        saidByCustomers.Add(id);
        toldByStorefront.Add(id);
        unsaid[id] = (type, data, moment);
        Note("customer", $"{type} {data}");
        for (var times = chance.Next(4) == 0 ? 2 : 1; times > 0; times--)
        {
            Plan(After(minutes, atMost), () => Tell(id, type, data, moment));
        }
    }
}
