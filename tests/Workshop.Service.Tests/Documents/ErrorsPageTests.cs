using System.Text.RegularExpressions;
using Workshop.Core.Gates;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Tests.Documents;

public partial class ErrorsPageTests
{
    [Fact]
    public void The_page_of_errors_has_a_row_for_each_problem_and_no_other()
    {
        var written = Row().Matches(Repository.Read("api-docs", "errors.md")).Select(row => row.Value.TrimEnd());

        Assert.Equal(ProblemCatalogue.All.Select(RowOf).Order(), written.Order());
    }

    [Fact]
    public void Every_gate_has_a_problem_of_its_own_and_no_problem_lacks_its_gate() =>
        Assert.Equal(GateTable.All.Select(gate => gate.Code).Distinct().Order(), GateProblems.All.Select(kind => kind.Code).Order());

    [Fact]
    public void Codes_are_words_in_lower_case_and_each_occurs_once()
    {
        Assert.All(ProblemCatalogue.All, kind => Assert.Matches("^[a-z]+(-[a-z]+)*$", kind.Code));
        Assert.Equal(ProblemCatalogue.All.Count, ProblemCatalogue.All.Select(kind => kind.Code).Distinct().Count());
        Assert.All(ProblemCatalogue.All, kind => Assert.InRange(kind.Status, 400, 599));
    }

    private static string RowOf(ProblemKind kind) => $"| `{kind.Code}` | {kind.Status} | {kind.Title} | {kind.Remedy} |";

    [GeneratedRegex(@"^\| `.*$", RegexOptions.Multiline)]
    private static partial Regex Row();
}
