using System.Text.RegularExpressions;

namespace Workshop.Service.Tests.Documents;

/// <summary>What holds of the whole source, so that nobody has to look for it in a review.</summary>
public partial class ConventionTests
{
    /// <summary>Which of our namespaces a folder of the service may use, besides Workshop.Core and itself.</summary>
    private static readonly (string Folder, string[] MayUse)[] Layers =
    [
        ("Settings", ["Storage"]),
        ("Meters", []),
        ("Storage", ["Letters", "Meters"]),
        ("Letters", []),
        ("Prints", []),
        ("Http", ["Meters", "Settings", "Storage", "Tasks"]),
        ("Features", ["Http", "Letters", "Meters", "Prints", "Settings", "Storage"]),
        ("Tasks", ["Features", "Http", "Meters", "Settings", "Storage"]),
        ("Demo", ["Commands", "Features", "Http", "Prints", "Settings", "Storage", "Tasks"]),
        ("Trial", ["Features", "Http", "Storage"]),
        ("Commands", ["Demo", "Features", "Trial", "Http", "Prints", "Settings", "Storage"]),
    ];

    // The two files that put everything together name every feature.
    private static readonly string[] Composition = ["src/Workshop.Service/Http/WorkshopRoutes.cs", "src/Workshop.Service/Http/WorkshopApp.cs"];

    [Fact]
    public void Each_part_of_the_service_uses_only_what_lies_below_it()
    {
        var wrong = new List<string>();
        foreach (var (folder, mayUse) in Layers)
        {
            foreach (var (path, text) in Repository.Files($"src/Workshop.Service/{folder}").Where(file => file.Path.EndsWith(".cs") && !Composition.Contains(file.Path)))
            {
                wrong.AddRange(Ours().Matches(text)
                    .Select(found => found.Groups[1].Value)
                    .Where(used => used != folder && !mayUse.Contains(used))
                    .Distinct()
                    .Select(used => $"{path} uses {used}"));
            }
        }

        None(wrong);
    }

    // What a customer says comes over the counter, from their page and through a storefront, and all go through one door.
    private static readonly string[] Doors = ["AnswerQuote", "ReportClaim", "ReportWear", "RecordDelivery", "ChangeVariant"];

    [Fact]
    public void A_features_endpoints_and_use_cases_are_its_own()
    {
        var files = Repository.Files("src/Workshop.Service/Features").Where(file => file.Path.EndsWith(".cs")).ToList();
        var own = files.Where(file => file.Text.Contains(" Handle(") || file.Path.EndsWith("Endpoints.cs"))
            .ToLookup(FeatureOf, file => StaticClass().Matches(file.Text).Select(type => type.Groups[1].Value));
        var wrong = new List<string>();
        foreach (var file in files)
        {
            foreach (var other in OthersOf(file))
            {
                wrong.AddRange(own[other].SelectMany(types => types)
                    .Where(type => !Doors.Contains(type) && Regex.IsMatch(file.Text, $@"\b{type}\b"))
                    .Select(type => $"{file.Path} uses {type} of {other}"));
            }
        }

        None(wrong);
    }

    [Fact]
    public void No_two_features_need_each_other()
    {
        var needs = Repository.Files("src/Workshop.Service/Features").Where(file => file.Path.EndsWith(".cs"))
            .SelectMany(file => OthersOf(file).Select(other => (Feature: FeatureOf(file), Other: other)))
            .Distinct().ToLookup(need => need.Feature, need => need.Other);

        None(needs.Select(need => need.Key).Where(feature => Reaches(feature, feature, [])));

        bool Reaches(string from, string to, HashSet<string> seen) => needs[from].Any(next => next == to || (seen.Add(next) && Reaches(next, to, seen)));
    }

    [Fact]
    public void The_rules_know_nothing_of_the_service()
    {
        var wrong = Repository.Files("src/Workshop.Core")
            .Where(file => file.Path.EndsWith(".cs") && (file.Text.Contains("Workshop.Service") || file.Text.Contains("System.Text.Json") || file.Text.Contains("Microsoft.")))
            .Select(file => file.Path);

        None(wrong);
    }

    [Fact]
    public void No_code_of_a_handbook_or_a_planning_paper_stands_anywhere()
    {
        var wrong = Repository.Files("src", "api-docs", "tests")
            .SelectMany(file => HandbookCode().Matches(file.Text).Select(found => $"{file.Path}: {found.Value}"));

        None(wrong);
    }

    [Fact]
    public void Nothing_is_left_for_later_in_the_source()
    {
        string[] leftovers = ["TO" + "DO", "FIX" + "ME", "HA" + "CK", "NotImplemented" + "Exception"];
        var wrong = Repository.Files("src", "api-docs", "tests")
            .Where(file => leftovers.Any(word => Regex.IsMatch(file.Text, $@"\b{word}\b")))
            .Select(file => file.Path);

        None(wrong);
    }

    [Fact]
    public void No_file_of_code_is_longer_than_450_lines()
    {
        var wrong = Repository.Files("src", "tests")
            .Where(file => file.Path.EndsWith(".cs") && file.Text.Count(letter => letter == '\n') > 450)
            .Select(file => file.Path);

        None(wrong);
    }

    private static void None(IEnumerable<string> wrong) => Assert.True(!wrong.Any(), string.Join('\n', wrong));

    private static string FeatureOf((string Path, string Text) file) => file.Path.Split('/')[3];

    private static IEnumerable<string> OthersOf((string Path, string Text) file) =>
        Feature().Matches(file.Text).Select(found => found.Groups[1].Value).Where(other => other != FeatureOf(file)).Distinct();

    [GeneratedRegex(@"\bWorkshop\.Service\.([A-Z][A-Za-z]+)\b(?!\.dll)")]
    private static partial Regex Ours();

    [GeneratedRegex(@"\bWorkshop\.Service\.Features\.([A-Z][A-Za-z]+)\b")]
    private static partial Regex Feature();

    [GeneratedRegex(@"\bstatic (?:partial )?class ([A-Z][A-Za-z]+)")]
    private static partial Regex StaticClass();

    [GeneratedRegex(@"\b(ST|R|V|C)-[0-9]{1,2}\b")]
    private static partial Regex HandbookCode();
}
