using System.Text.Json;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class SearchTests
{
    [Theory]
    [BothEngines]
    public async Task A_job_is_found_by_what_somebody_at_the_counter_knows(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var ida = await host.TakeIn();
        host.Clock.Advance(Duration.FromSeconds(1));
        await host.TakeIn("""{ "customer": { "name": "Änne O'Dell 100%_!", "telephone": "0131 496 0222" }, "watch": { "maker": "Velling", "caseSerial": "1" }, "ownNumber": "B 881/2" }""");

        const string Aenne = "Änne O'Dell 100%_!";
        Assert.Equal(("Ida Marlow", "telephone"), await Found("""{ "telephone": "020 7946 0018" }"""));
        Assert.Equal(("Ida Marlow", "telephone"), await Found("""{ "telephone": "0044 (0)20-7946-0018" }"""));
        Assert.Equal((Aenne, "telephone"), await Found("""{ "telephone": "+44 131 4960222" }"""));
        Assert.Equal((Aenne, "telephone"), await Found("""{ "telephone": "0222" }"""));
        Assert.Equal(("Ida Marlow", "telephone"), await Found("""{ "telephone": "0018" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "serial": "20 417" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "serial": "m77.1" }"""));
        Assert.Equal((Aenne, "serial"), await Found("""{ "serial": "1" }"""));
        Assert.Equal(("Ida Marlow", "part-of-serial"), await Found("""{ "serial": "0417" }"""));
        Assert.Equal(("Ida Marlow", "label"), await Found($$"""{ "label": "{{ida.ToLowerInvariant()}}" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "name": "MARL" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "name": "Malrow" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "name": "ida marlo" }"""));
        Assert.Equal((Aenne, "name"), await Found("""{ "name": "Anne o'd" }"""));
        Assert.Equal((Aenne, "name"), await Found("""{ "name": "odell aenne" }"""));
        Assert.Equal((Aenne, "own-number"), await Found("""{ "ownNumber": "b881/2" }"""));
        Assert.Equal((Aenne, "own-number"), await Found("""{ "ownNumber": "B 88" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "text": "ida m" }"""));
        Assert.Equal(("Ida Marlow", "serial"), await Found("""{ "text": "20-417" }"""));
        Assert.Equal(("Ida Marlow", "label"), await Found($$"""{ "text": "{{ida}}" }"""));
        Assert.Equal(("Ida Marlow", "name"), await Found("""{ "text": "marlow halyard" }"""));
        Assert.Equal((Aenne, "own-number"), await Found("""{ "text": "B881/2" }"""));
        Assert.Null(await Found("""{ "name": "Ida", "telephone": "0131 496 0222" }"""));
        Assert.Null(await Found("""{ "name": "Ida", "watch": "Velling" }"""));
        Assert.Null(await Found("""{ "name": "nobody" }"""));
        Assert.Null(await Found("""{ "label": "JJJJJJJJ" }"""));
        Assert.Null(await Found("""{ "label": "Ida" }"""));

        async Task<(string Name, string By)?> Found(string body)
        {
            var items = await Search(host, body);
            return items.Length == 0 ? null : (Assert.Single(items).Text("name"), items[0].Texts("by").First());
        }
    }

    [Theory]
    [BothEngines]
    public async Task Whoever_fits_best_comes_first_and_of_equals_the_newest(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        foreach (var name in (string[])["Jörg Müller", "Hanna Mueller", "Tom Miller", "Karl Moller", "Eva Muller", "Otto Zeman"])
        {
            await host.TakeIn($$"""{ "customer": { "name": "{{name}}", "email": "a@b.example" }, "watch": { "words": "old" } }""");
            host.Clock.Advance(Duration.FromSeconds(1));
        }

        var found = await Search(host, """{ "name": "Mueller" }""");
        var both = await Search(host, """{ "name": "muller joerg" }""");

        Assert.Equal(["Eva Muller", "Hanna Mueller", "Jörg Müller", "Karl Moller", "Tom Miller"], found.Select(one => one.Text("name")));
        Assert.Equal("Jörg Müller", both[0].Text("name"));
    }

    [Theory]
    [BothEngines]
    public async Task A_national_number_is_understood_where_the_shop_says_of_which_country(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", """{ "intake": { "country": "CH" } }""");
        var taken = await (await host.Desk.PostJson("/v1/jobs", """{ "customer": { "name": "Reto", "telephone": "044 668 18 00" }, "watch": { "words": "old" } }""")).Json();

        var customer = await host.Desk.Get($"/v1/customers/{taken.Text("customer")}");

        Assert.Equal("044 668 18 00", customer.Text("telephone"));
        Assert.Equal("+41446681800", customer.Text("telephoneInternational"));
        foreach (var typed in (string[])["+41 44 668 18 00", "0041 44 668 18 00", "044 6681800", "668 18 00", "18 00"])
        {
            Assert.True((await Search(host, $$"""{ "telephone": "{{typed}}" }""")).Length == 1, typed);
        }
    }

    [Theory]
    [BothEngines]
    public async Task A_number_that_was_kept_before_the_country_was_said_is_still_found(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.TakeIn("""{ "customer": { "name": "Reto", "telephone": "044 668 18 00" }, "watch": { "words": "old" } }""");
        await host.Save("rules", "main", """{ "intake": { "country": "CH" } }""");

        Assert.Single(await Search(host, """{ "telephone": "+41 44 668 18 00" }"""));
        Assert.Single(await Search(host, """{ "telephone": "044 668 18 00" }"""));
        Assert.Single(await Search(host, """{ "telephone": "1800" }"""));
    }

    [Theory]
    [BothEngines]
    public async Task Whoever_changes_the_name_is_found_by_the_new_one_alone(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();

        await (await host.Desk.Put($"/v1/customers/{taken.Text("customer")}", """{ "name": "Ida Quist", "email": "a@b.example" }""", "*")).Json();

        Assert.Single(await Search(host, """{ "name": "Quist" }"""));
        Assert.Empty(await Search(host, """{ "name": "Marlow" }"""));
        Assert.Empty(await Search(host, """{ "telephone": "020 7946 0018" }"""));
    }

    [Theory]
    [BothEngines]
    public async Task A_further_label_of_the_watch_leads_to_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var sticker = await Labels.LabelTests.Draw(host, "piece");
        await host.Say(job, "label.attached", $$"""{ "label": "{{sticker}}", "piece": "case", "person": "mara" }""");

        Assert.Equal(job, Assert.Single(await Search(host, $$"""{ "label": "{{sticker}}" }""")).Text("label"));
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("""{ "name": "a" }""")]
    [InlineData("""{ "name": "%_!" }""")]
    [InlineData("""{ "telephone": "call me" }""")]
    [InlineData("""{ "text": " - " }""")]
    [InlineData("""{ "watch": "Velling" }""")]
    public async Task Nothing_to_look_for_is_no_search_for_everything(string body)
    {
        await using var host = await Counter.Open();

        Assert.Equal(422, (await (await host.Desk.PostJson("/v1/jobs/search", body)).Problem()).Status);
    }

    [Fact]
    public async Task Only_the_desk_searches_by_names()
    {
        await using var host = await Counter.Open();

        foreach (var role in new[] { Role.Bench, Role.Wall, Role.Storefront })
        {
            Assert.Equal("not-for-this-role", (await (await host.As(role).PostJson("/v1/jobs/search", """{ "name": "Ida" }""")).Problem()).Code);
        }
    }

    internal static async Task<JsonElement[]> Search(WorkshopHost host, string body) =>
        [.. (await (await host.Desk.PostJson("/v1/jobs/search", body)).Json()).GetProperty("items").EnumerateArray()];
}
