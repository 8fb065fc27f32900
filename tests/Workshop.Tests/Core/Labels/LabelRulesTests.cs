using Workshop.Core.Labels;

namespace Workshop.Tests.Core.Labels;

public class LabelRulesTests
{
    [Fact]
    public void The_usual_labels_fit_their_sheet()
    {
        Assert.Empty(LabelRules.Usual.Faults(""));
        var (left, top) = LabelRules.Usual.Sheet.At(LabelRules.Usual.Sheet.Places() - 1, LabelRules.Usual);

        Assert.True(left + LabelRules.Usual.WidthMillimetres <= 210);
        Assert.True(top + LabelRules.Usual.HeightMillimetres <= 297);
    }

    [Theory]
    [InlineData(38, 8, 0.5, "/labels/heightMillimetres")]
    [InlineData(26, 13, 0.5, "/labels/widthMillimetres")]
    public void A_label_that_no_scanner_or_no_eye_could_read_is_named(double width, double height, double margin, string pointer)
    {
        var rules = new LabelRules { WidthMillimetres = (decimal)width, HeightMillimetres = (decimal)height, MarginMillimetres = (decimal)margin };

        Assert.Equal([pointer], rules.Faults("/labels").Select(fault => fault.Pointer));
    }

    [Fact]
    public void A_sheet_with_more_labels_than_paper_is_named()
    {
        var rules = LabelRules.Usual with { Sheet = new LabelSheet { Columns = 5, Rows = 18 } };

        Assert.Equal(["/sheet/columns", "/sheet/rows"], rules.Faults("").Select(fault => fault.Pointer));
    }

    [Fact]
    public void Places_follow_one_another_row_by_row()
    {
        var rules = LabelRules.Usual;

        Assert.Equal((18m, 14m), rules.Sheet.At(0, rules));
        Assert.Equal((18m + 38 + 7, 14m), rules.Sheet.At(1, rules));
        Assert.Equal((18m, 14m + 13 + 3), rules.Sheet.At(4, rules));
    }
}
