using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

public class GramTests
{
    private const string CountSql = "select count(*) from gram where kind = @kind and id = @id";

    [Theory, BothEngines]
    public async Task Nothing_leads_to_a_customer_who_is_erased(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            CustomerStore.Add(turn, "c-1", new CustomerDetails { Name = "Ida Marlow", Telephone = "+44 20 7946 0018" });
            CustomerStore.Add(turn, "c-2", new CustomerDetails { Name = "Ida Marlow", Email = "a@b.example" });
            return true;
        });
        var before = await Grams(storage, "name", "c-1");

        await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            CustomerStore.ForgetHowToFind(turn, "c-1");
            return true;
        });

        Assert.Equal(9, before);
        Assert.Equal(0, await Grams(storage, "name", "c-1"));
        Assert.Equal(9, await Grams(storage, "name", "c-2"));
        Assert.Equal(1, await storage.Reader.QueryFirst<long>("select count(*) from customer where id = 'c-1' and telephone_reversed is null and telephone_normalised is null"));
    }

    [Theory, BothEngines]
    public async Task Who_was_written_down_before_there_was_a_search_is_made_ready_by_migrating(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            // As the version before wrote them.
            for (var i = 0; i < 130; i++)
            {
                turn.Execute(
                    "insert into customer (site, id, name, telephone, telephone_normalised, consents, created, version) values (@site, @id, 'Jörg Müller', '020', '442079460018', '{}', 1, 1)",
                    new { site = turn.Site, id = $"c-{i:000}" });
            }

            turn.Execute(
                "insert into watch (site, id, customer_id, case_serial, case_serial_key, facts, created, version) values (@site, 'w-1', 'c-001', '20 417', '20417', '{}', 1, 1)",
                new { site = turn.Site });
            return true;
        });

        await storage.Writer.StopAsync(CancellationToken.None);
        storage.Migrate();

        Assert.Equal(130, await storage.Reader.QueryFirst<long>("select count(distinct id) from gram where kind = 'name' and gram = 'mul'"));
        Assert.Equal(130, await storage.Reader.QueryFirst<long>("select count(*) from customer where telephone_reversed = '810064970244'"));
        Assert.Equal(3, await Grams(storage, "number", "w-1"));
    }

    [Theory, BothEngines]
    public async Task A_watch_is_led_to_by_its_newest_numbers_alone(StorageEngine engine)
    {
        await using var storage = await TestStorage.Create(engine);
        await storage.Writer.Turn(TestStorage.Site, turn =>
        {
            CustomerStore.Add(turn, "c-1", new CustomerDetails { Email = "a@b.example" });
            WatchStore.Add(turn, "w-1", "c-1", new WatchDetails { CaseSerial = "20 417" });
            WatchStore.Change(turn, WatchStore.Find(turn, "w-1")!, new WatchDetails { CaseSerial = "99-12" });
            return true;
        });

        Assert.Equal(["912", "991"], await storage.Reader.Query<string>("select gram from gram where kind = 'number' and id = 'w-1' order by gram"));
    }

    private static Task<long> Grams(TestStorage storage, string kind, string id) => storage.Reader.QueryFirst<long>(CountSql, new { kind, id });
}
