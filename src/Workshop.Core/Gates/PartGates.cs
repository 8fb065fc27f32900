using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates around spare parts. Of a part that the shop has not written down nobody can say how many there are: it is asked about in
/// no gate. Common practice of the trade.
/// </summary>
public static class PartGates
{
    public const string ReservedFor = "reserved-for";
    public const string PartFree = "part-free";

    /// <summary>Whoever takes a movement apart whose essential parts are still to come leaves it open for weeks. A job that awaits none is not asked.</summary>
    public static IEnumerable<Objection> EssentialParts(Job job, Asking asking)
    {
        foreach (var part in job.Parts.Awaited().Where(one => one.Essential).DistinctBy(one => one.Part))
        {
            var line = part.On is { } on ? Phrase.Of("{0} is not in the house; it comes on {1}", part.Part, on) : Phrase.Of("{0} is not in the house", part.Part);
            (string, string)[] names = [("part", part.Part), .. part.Order is { } order ? [("order", order)] : Array.Empty<(string, string)>(), .. part.On is { } day ? [("expectedOn", Day(day))] : Array.Empty<(string, string)>()];
            yield return GateTable.Objects("essential-parts", asking.Rules, line, Phrase.Of("wait for it, unless only taking it apart tells more"), names: names);
        }
    }

    /// <summary>What is set aside off the shelf must lie there free: two benches that reach for the last one are not both told yes.</summary>
    public static IEnumerable<Objection> Reserve(Asking asking, PartReserved reserved, Facts facts)
    {
        if (reserved.Order is null && facts.StockOf(reserved.Part) is { } stock && stock.Free < reserved.Pieces())
        {
            yield return NoneFree(asking, reserved, stock, Strength.Stop);
        }
    }

    public static IEnumerable<Objection> Fit(Job job, Asking asking, PartFitted fitted, Facts facts)
    {
        if (facts.StockOf(fitted.Part) is not { } stock || Beyond(job, fitted, stock) is not (> 0 and var lacking))
        {
            yield break;
        }

        var victims = Victims(job, fitted, stock, facts);
        if (stock.OnShelf < fitted.Pieces() || victims.Sum(one => one.Count) < lacking)
        {
            yield return NoneFree(asking, fitted, stock, Strength.Ask);
        }

        foreach (var victim in victims)
        {
            if (facts.OtherJob(victim.Job) is not { } other)
            {
                continue;
            }

            var (before, after) = Forecasts(other, fitted.Part, victim.Count, asking.At, stock, facts.Rules);
            yield return GateTable.Objects(
                ReservedFor, asking.Rules,
                Phrase.Of("Set aside for {0}", victim.Job.ToString()),
                after is { } moved ? Phrase.Of("ask first: {0} would then be done on {1}", victim.Job.ToString(), moved) : Phrase.Of("ask first, or take another one"),
                names:
                [
                    ("part", fitted.Part), ("reservedFor", victim.Job.ToString()),
                    .. other.Promise.On is { } promised ? [("promisedOn", Day(promised))] : Array.Empty<(string, string)>(),
                    .. before is { } was ? [("forecast", Day(was))] : Array.Empty<(string, string)>(),
                    .. after is { } later ? [("forecastAfter", Day(later))] : Array.Empty<(string, string)>(),
                ]);
        }
    }

    /// <summary>Whose pieces go when a part is fitted that is not free: the job promised last gives first. Empty where enough are free.</summary>
    internal static ImmutableArray<PartReservation> Victims(Job job, PartFitted fitted, PartStock stock, Facts facts)
    {
        var left = Beyond(job, fitted, stock);
        var victims = ImmutableArray.CreateBuilder<PartReservation>();
        foreach (var other in stock.ReservedFor
            .Where(one => one.Job != job.Label)
            .OrderByDescending(one => facts.OtherJob(one.Job)?.Promise.On ?? LocalDate.MaxIsoValue)
            .ThenBy(one => one.Job.ToString(), StringComparer.Ordinal))
        {
            if (left <= 0)
            {
                break;
            }

            var pieces = Math.Min(left, other.Count);
            left -= pieces;
            victims.Add(other with { Count = pieces });
        }

        return victims.ToImmutable();
    }

    /// <summary>The day by which a new one usually is in the house.</summary>
    internal static LocalDate UsuallyOn(Instant now, PartStock stock, ShopRules rules) =>
        rules.Calendar.OpenDayAfter(rules.Calendar.DateOf(now), stock.UsualWorkingDays ?? rules.Parts.UsualWorkingDays);

    // Pieces wanted beyond what is set aside for the job itself and what is free.
    private static int Beyond(Job job, PartFitted fitted, PartStock stock) => fitted.Pieces() - job.Parts.Reserved(fitted.Part) - Math.Max(0, stock.Free);

    private static (LocalDate? Before, LocalDate? After) Forecasts(Job other, string part, int count, Instant now, PartStock stock, ShopRules rules)
    {
        var today = rules.Calendar.DateOf(now);
        var without = other with { Parts = other.Parts with { Taken = other.Parts.Taken.Add(new TakenPart(part, count, UsuallyOn(now, stock, rules), stock.Essential, now, "")) } };
        return (PromiseForecast.Of(other, rules)?.On(today), PromiseForecast.Of(without, rules)?.On(today));
    }

    private static Objection NoneFree(Asking asking, PartEvent one, PartStock stock, Strength strength) => GateTable.Objects(
        PartFree, asking.Rules,
        stock.OnShelf > 0 ? Phrase.Of("None is free: {0} on the shelf, all set aside", stock.OnShelf) : Phrase.Of("None is on the shelf by our count"),
        Phrase.Of("an order, or a count of the shelf"), strength,
        ("part", one.Part), ("onShelf", $"{stock.OnShelf}"), ("free", $"{stock.Free}"), ("reservedFor", string.Join(", ", stock.ReservedFor.Select(held => held.Job.ToString()))));

    private static string Day(LocalDate day) => $"{day:uuuu-MM-dd}";
}
