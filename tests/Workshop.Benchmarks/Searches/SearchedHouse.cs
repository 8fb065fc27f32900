using System.Globalization;
using System.Text;
using Workshop.Core.Casing;
using Workshop.Core.Labels;
using Workshop.Core.Search;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Searches;

/// <summary>A job as whoever stands at the counter may know it.</summary>
internal sealed record KnownJob(string Label, string Name, string Telephone, string CaseSerial, string MovementNumber, string OwnNumber);

/// <summary>
/// A house after many years: its rows are written as they stand, since a search reads no entries. Names, numbers and makers are made by
/// chance from one seed; first names repeat as they do in a town, and one surname in a hundred is the same.
/// </summary>
internal sealed class SearchedHouse
{
    private const int RowsAtOnce = 200;
    private const string Site = Migrations.FirstSite;

    private static readonly string[] Syllables = ["ma", "ri", "len", "tor", "vel", "ne", "sa", "ko", "bar", "dis", "um", "gel", "ho", "ti", "fen", "ro", "lan", "ze", "pi", "wes"];

    private readonly Random chance = new(417);

    public List<KnownJob> Jobs { get; } = [];

    /// <summary>Writes it into a migrated database.</summary>
    public async Task Fill(Writer writer, int customers, int watches, int jobs)
    {
        var document = new string('x', 1_500);
        string[] firstNames = [.. Enumerable.Range(0, 300).Select(_ => Named(2))];
        string[] surnames = [.. Enumerable.Range(0, 12_000).Select(_ => Named(3))];
        var people = Enumerable.Range(0, customers).Select(i => (
            Id: Id('c', i),
            Name: $"{firstNames[chance.Next(firstNames.Length)]} {(chance.Next(100) == 0 ? "Müller" : surnames[chance.Next(surnames.Length)])}",
            Telephone: $"+4{chance.Next(1, 10)}{chance.NextInt64(100_000_000, 999_999_999)}")).ToArray();
        var things = Enumerable.Range(0, watches).Select(i => (
            Id: Id('w', i), Owner: people[i % customers].Id,
            CaseSerial: $"{(char)('A' + chance.Next(26))} {chance.Next(10_000, 9_999_999)}", MovementNumber: $"{chance.Next(100_000, 99_999_999)}")).ToArray();

        await Insert(
            writer, "customer (site, id, name, telephone, telephone_normalised, telephone_reversed, consents, gram_version, created, version)",
            people.Select(one => $"('{Site}','{one.Id}','{one.Name}','{one.Telephone}','{one.Telephone}','{GramTable.Reversed(one.Telephone)}','[]',{FoldedText.Version},1,1)"));
        await Insert(
            writer, "watch (site, id, customer_id, maker, model, case_serial, case_serial_key, movement_number, movement_number_key, facts, gram_version, created, version)",
            things.Select((one, i) => $"('{Site}','{one.Id}','{one.Owner}','Maker {i % 40}','Model {i % 700}','{one.CaseSerial}','{WatchNumber.Key(one.CaseSerial)}','{one.MovementNumber}','{WatchNumber.Key(one.MovementNumber)}','{{}}',{FoldedText.Version},1,1)"));
        await Insert(
            writer, "gram (site, kind, gram, id)",
            people.SelectMany(one => GramTable.OfName(one.Name).Select(gram => $"('{Site}','name','{gram}','{one.Id}')"))
                .Concat(things.SelectMany(one => GramTable.OfNumberKeys(WatchNumber.Key(one.CaseSerial), WatchNumber.Key(one.MovementNumber)).Select(gram => $"('{Site}','number','{gram}','{one.Id}')"))));

        for (var i = 0; i < jobs; i++)
        {
            var thing = things[i % watches];
            var person = people[i % watches % customers];
            Jobs.Add(new KnownJob(LabelOf(i), person.Name, person.Telephone, thing.CaseSerial, thing.MovementNumber, $"N{i + 1:000000}"));
        }

        await Insert(writer, "label (site, label, kind, names, bound)", Jobs.Select(one => $"('{Site}','{one.Label}','job','job/{one.Label}',1)"));
        await Insert(
            writer,
            "job (site, label, version, intake_version, fold_version, stage, variant, customer_id, watch_id, case_serial_key, movement_number_key, taken_in_at, in_house, closed, document, intake, own_number, own_number_key)",
            Jobs.Select((one, i) =>
                $"('{Site}','{one.Label}',1,1,{JobDocument.FoldVersion},'rebuild','full-automatic','{people[i % watches % customers].Id}','{things[i % watches].Id}','{WatchNumber.Key(one.CaseSerial)}','{WatchNumber.Key(one.MovementNumber)}',{1_700_000_000_000_000 + i},1,0,'{document}','{{}}','{one.OwnNumber}','{one.OwnNumber}')"));
    }

    private static async Task Insert(Writer writer, string into, IEnumerable<string> rows)
    {
        foreach (var some in rows.Chunk(RowsAtOnce * 50))
        {
            await writer.Turn(Site, turn => some.Chunk(RowsAtOnce).Sum(few => turn.Execute($"insert into {into} values {string.Join(',', few)}")));
        }
    }

    private string Named(int syllables)
    {
        var name = new StringBuilder();
        for (var i = 0; i < syllables; i++)
        {
            name.Append(Syllables[chance.Next(Syllables.Length)]);
        }

        return CultureInfo.InvariantCulture.TextInfo.ToTitleCase(name.ToString());
    }

    // As ids of the service: those made later sort later.
    private static string Id(char kind, int number) => $"{kind}{number:0000000}";

    private static string LabelOf(int number)
    {
        var digits = new byte[6];
        for (var i = digits.Length - 1; i >= 0; i--, number /= 29)
        {
            digits[i] = (byte)(number % 29);
        }

        return Label.Complete(LabelKind.Job, [.. digits.Select(digit => (int)digit)]).ToString();
    }
}
