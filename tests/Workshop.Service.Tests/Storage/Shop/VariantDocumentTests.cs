using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Tests.Storage.Shop;

/// <summary>The kinds of work that are shipped, and whatever can be wrong with one.</summary>
public class VariantDocumentTests
{
    private static readonly ImmutableArray<ShopDocument> Shipped =
    [
        .. VariantDocument.ClosedList.Append("x-partial-repair").Select(id => new ShopDocument
        {
            Kind = "variant",
            Id = id,
            Version = 1,
            Document = EventCodecTests.Default($"variant/{id}.json"),
            Saved = 0,
            RulesVersion = 1,
        }),
    ];

    private static readonly ShopKind Kind = ShopKinds.Of<VariantDocument>();

    public static TheoryData<string> Ids => [.. Shipped.Select(one => one.Id)];

    [Theory, MemberData(nameof(Ids))]
    public void Each_shipped_kind_of_work_is_right(string id) => Assert.Empty(FaultsOf(id, Text(id)));

    [Theory, MemberData(nameof(Ids))]
    public void Each_shipped_kind_of_work_says_where_its_figures_come_from(string id) => Assert.True(ShopRulesReader.ReadVariant(Text(id)).Note is { Length: > 40 });

    [Theory, MemberData(nameof(Ids))]
    public void A_need_that_cannot_be_tapped_through_is_one_of_a_required_stage(string id) => Assert.All(
        ShopRulesReader.ReadRoute(Text(id)).Stages.SelectMany(one => one.Needs.Where(need => need.Stop && need.Stage != Stage.Settlement)),
        need => Assert.False(ShopRulesReader.ReadRoute(Text(id)).Find(need.Stage)!.Optional));

    [Theory, MemberData(nameof(Ids))]
    public void Written_and_read_again_it_is_the_same_route(string id)
    {
        var document = ShopRulesReader.ReadVariant(Text(id));
        var again = JsonSerializer.Deserialize<VariantDocument>(JsonSerializer.Serialize(document, WorkshopJson.Stored), WorkshopJson.Bodies)!;

        Assert.Equal(JsonSerializer.Serialize(document.ToRoute(), WorkshopJson.Stored), JsonSerializer.Serialize(again.ToRoute(), WorkshopJson.Stored));
    }

    [Fact]
    public void Only_the_two_that_nobody_orders_are_not_sold() =>
        Assert.Equal(["warranty-return", "return-unrepaired"], Shipped.Where(one => !ShopRulesReader.ReadRoute(one.Document).Sold).Select(one => one.Id));

    [Theory]
    [InlineData("full-automatic", "movement P24M, parts-fitted P24M, water-resistance P12M WaterTest")]
    [InlineData("full-chronograph", "movement P24M, parts-fitted P24M, water-resistance P12M WaterTest")]
    [InlineData("full-hand-wound", "movement P24M, parts-fitted P24M, water-resistance P12M WaterTest")]
    [InlineData("vintage", "movement P12M, parts-fitted P12M, water-resistance none, looks none")]
    [InlineData("regulation", "rate P3M")]
    [InlineData("cell-and-seals", "cell P12M, water-resistance P12M WaterTest")]
    [InlineData("quartz-exchange", "movement P24M")]
    [InlineData("quartz-train", "movement P12M")]
    [InlineData("case-or-crystal", "glued-or-screwed P3M, water-resistance P12M WaterTest, polish none")]
    [InlineData("warranty-return", "new-work P6M")]
    [InlineData("return-unrepaired", "")]
    [InlineData("x-partial-repair", "repaired-thing P12M")]
    public void Each_kind_of_work_has_its_own_warranty(string id, string lines) =>
        Assert.Equal(lines, string.Join(", ", ShopRulesReader.ReadRoute(Text(id)).Warranty.Select(one => $"{one.Line} {(one.None ? "none" : one.Term)} {one.OnlyIf}".TrimEnd())));

    [Theory]
    [InlineData("regulation", "takedown cleaning inspection rebuild case-strip case-work dial-and-hands")]
    [InlineData("quartz-exchange", "takedown cleaning regulation")]
    [InlineData("quartz-train", "regulation")]
    [InlineData("vintage", "water-test")]
    [InlineData("case-or-crystal", "takedown cleaning inspection rebuild regulation")]
    [InlineData("cell-and-seals", "quote takedown cleaning inspection rebuild regulation case-work dial-and-hands")]
    [InlineData("warranty-return", "quote")]
    public void What_a_kind_of_work_rules_out_it_does_not_have(string id, string forbidden)
    {
        var route = ShopRulesReader.ReadRoute(Text(id));

        Assert.Equal(forbidden, string.Join(' ', route.Forbidden.Select(Workshop.Core.Words.Word.Of)));
        Assert.DoesNotContain(route.Stages, one => route.Forbidden.Contains(one.Stage));
    }

    /// <summary>One change to a document that is right, and the faults that follow.</summary>
    public static TheoryData<string, string, string, string[]> Changes => new()
    {
        { "full-automatic", "/stages/7/stage", "\"polishing\"", ["/stages/7/stage"] },
        { "full-automatic", "/stages/8/stage", "\"rebuild\"", ["/stages/12/needs/0", "/stages/13/needs/2", "/stages/15/needs/1", "/stages/8/stage"] },
        { "full-automatic", "/stages/4/needs", "[\"rebuild\"]", ["/stages/4/needs/0"] },
        { "full-automatic", "/stages/4/needs", "[\"quote!!\", \"tea\"]", ["/stages/4/needs/0", "/stages/4/needs/1"] },
        { "full-automatic", "/stages/4/needs", "[\"return-unrepaired\"]", ["/stages/4/needs/0"] },
        { "full-automatic", "/forbidden", "[\"casing\"]", ["/stages/13/stage"] },
        { "full-automatic", "/forbidden", "[\"expected\", \"expected\"]", ["/forbidden/1"] },
        { "full-automatic", "/stages/4/branch", "\"case\"", ["/stages/4/branch"] },
        { "full-automatic", "/stages/4/minutes", "0", ["/stages/4/minutes"] },
        { "full-automatic", "/stages/4/minutes", "10001", ["/stages/4/minutes"] },
        { "full-automatic", "/stages/13/optional", "true", ["/stages"] },
        { "full-automatic", "/stages/17/optional", "true", ["/stages"] },
        { "full-automatic", "/stages/0/optional", "true", ["/stages"] },
        { "full-automatic", "/stages/20/optional", "true", ["/stages"] },
        { "full-automatic", "/toleranceKind", "\"modern-steam\"", ["/toleranceKind"] },
        { "full-automatic", "/toleranceKind", "\"quartz\"", ["/toleranceKind"] },
        { "full-automatic", "/wornRate", """{ "lowest": 10, "highest": -4 }""", ["/wornRate/highest"] },
        { "full-automatic", "/wear/owed", "\"PT21H\"", ["/wear/forAPass", "/wear/owed"] },
        { "full-automatic", "/wear/forAPass", "\"PT21H\"", ["/wear/forAPass"] },
        { "full-automatic", "/wear/owedAfterAStop", "\"PT6H\"", ["/wear/owedAfterAStop"] },
        { "full-automatic", "/wear/flaggedBeyond", "\"PT23H\"", ["/wear/flaggedBeyond"] },
        { "full-automatic", "/wear/advised", "\"PT23H\"", ["/wear/advised"] },
        { "full-automatic", "/statement", """{ "en": "not water resistant" }""", ["/statement"] },
        { "full-automatic", "/targetWorkingDaysBefore", "21", ["/targetWorkingDaysBefore"] },
        { "full-automatic", "/finalChecks", """["looks", "looks", " "]""", ["/finalChecks/1", "/finalChecks/2"] },
        { "full-automatic", "/warranty", """[{ "line": "movement", "term": "P0M" }, { "line": "movement", "term": "PT24H" }]""", ["/warranty/0/term", "/warranty/1/line", "/warranty/1/term"] },
        { "full-automatic", "/warranty", """[{ "line": "movement" }, { "line": "polish", "term": "P3M", "none": true }]""", ["/warranty/0/term", "/warranty/1/term"] },
        { "regulation", "/warranty", """[{ "line": "rate", "term": "P3M", "onlyIf": "rebuild" }]""", ["/warranty/0/onlyIf"] },
        { "full-automatic", "/usualFor", """["chronograph", "steam"]""", ["/usualFor/0", "/usualFor/1"] },
        { "full-automatic", "/ifMoreIsNeeded", "\"x-tea\"", ["/ifMoreIsNeeded"] },
        { "quartz-train", "/refusedBelowAmplitudeDegrees", "230", ["/refusedBelowAmplitudeDegrees", "/refusedBelowAmplitudeDegrees"] },
        { "quartz-train", "/quartz", "false", ["/toleranceKind"] },
        { "quartz-train", "/wear/woundDaily", "true", ["/wear/woundDaily"] },
        { "regulation", "/stages/4/optional", "true", ["/stages/3/stage"] },
        { "x-partial-repair", "/name", "null", ["/name"] },
        { "x-partial-repair", "/colour", "\"red\"", ["/colour"] },
    };

    [Theory, MemberData(nameof(Changes))]
    public void Whatever_is_wrong_is_named_with_its_place(string id, string at, string value, string[] pointers) =>
        Assert.Equal(pointers, FaultsOf(id, With(Text(id), at, value)).Order(StringComparer.Ordinal));

    [Fact]
    public void A_kind_of_work_of_a_shops_own_begins_with_a_letter_of_its_own() =>
        Assert.Equal(["/id"], FaultsOf("partial-repair", With(Text("x-partial-repair"), "/id", "\"partial-repair\"")));

    [Fact]
    public void A_product_of_a_storefront_is_one_kind_of_work()
    {
        const string Product = """[{ "source": "/storefront/shop", "product": "full-service" }]""";
        var taken = With(Text("full-hand-wound"), "/products", Product);

        Assert.Equal(["/products/0"], FaultsOf("full-automatic", With(Text("full-automatic"), "/products", Product), taken));
        Assert.Empty(FaultsOf("full-automatic", With(Text("full-automatic"), "/products", Product.Replace("shop", "other", StringComparison.Ordinal)), taken));
        Assert.Equal(
            ["/products/1"],
            FaultsOf("full-automatic", With(Text("full-automatic"), "/products", Product.Replace("]", """, { "source": "/storefront/shop", "product": "full-service" }]""", StringComparison.Ordinal))));
    }

    [Fact]
    public void Rules_that_would_lack_a_tolerance_kind_which_a_kind_of_work_names_are_not_right()
    {
        var rules = """{ "tolerances": [ { "kind": "vintage", "meanFullPerDaySeconds": { "lowest": -20, "highest": 30 } } ] }""";

        Assert.Contains("/tolerances", ShopKinds.Of<RulesDocument>().Faults(rules, Check("main", null)).Select(fault => fault.Pointer));
    }

    private static string Text(string id) => Shipped.Single(one => one.Id == id).Document;

    private static IEnumerable<string> FaultsOf(string id, string text, string? other = null) => Kind.Faults(text, Check(id, other)).Select(fault => fault.Pointer);

    private static DocumentCheck Check(string id, string? other)
    {
        var others = other is null ? Shipped : [.. Shipped.Select(one => JsonNode.Parse(other)!["id"]!.GetValue<string>() == one.Id ? one with { Document = other } : one)];
        return new DocumentCheck
        {
            Id = id,
            Rules = new ShopRules
            {
                Version = 1,
                Calendar = new ShopCalendar(
                    DateTimeZoneProviders.Tzdb["Europe/Zurich"],
                    new Dictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> { [IsoDayOfWeek.Monday] = [new OpenSpan(new LocalTime(9, 0), new LocalTime(18, 0))] }),
                Routes = FrozenDictionary<string, RouteDefinition>.Empty,
                People = FrozenDictionary<string, ShopPerson>.Empty,
            },
            Today = new LocalDate(2026, 3, 2),
            OfKind = kind => kind == "variant" ? others : [],
            NamesOf = _ => null,
        };
    }

    private static string With(string text, string at, string value)
    {
        var steps = at.Split('/')[1..];
        var whole = JsonNode.Parse(text)!;
        var parent = steps[..^1].Aggregate(whole, (node, step) => int.TryParse(step, out var index) ? node[index]! : node[step]!);
        parent[steps[^1]] = JsonNode.Parse(value);
        return whole.ToJsonString();
    }
}
