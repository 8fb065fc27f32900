using Workshop.Core.Hazards;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Hazards;

public class HazardTests
{
    [Theory]
    [InlineData(1958, true, null, true)]
    [InlineData(1974, true, null, true)]
    [InlineData(null, true, null, true)]
    [InlineData(1975, true, null, false)]
    [InlineData(2010, true, null, false)]
    [InlineData(1958, false, null, false)]
    [InlineData(1958, null, null, true)]
    [InlineData(null, null, null, false)]
    [InlineData(2010, null, null, false)]
    [InlineData(null, null, "lume brown and cracked", true)]
    [InlineData(null, null, "Leuchtmasse dunkel", true)]
    [InlineData(null, null, "aluminium dial, high volume ticking", false)]
    [InlineData(1990, false, "old Radium dial, relumed", true)]
    public void Radium_is_suspected_where_luminous_paint_meets_an_old_or_unknown_age(int? madeInYear, bool? paint, string? remarks, bool suspected) =>
        Assert.Equal(suspected, Hazard.Suspected(madeInYear, paint, remarks).Contains(Hazard.RadiumSuspected));

    [Theory]
    [InlineData(1985, true, null, true)]
    [InlineData(2010, true, null, false)]
    [InlineData(2010, null, "marked tritium", true)]
    [InlineData(1985, false, null, false)]
    [InlineData(1960, true, "tritium or radium", false)]
    public void Tritium_is_suspected_in_the_years_between_unless_radium_already_is(int? madeInYear, bool? paint, string? remarks, bool suspected) =>
        Assert.Equal(suspected, Hazard.Suspected(madeInYear, paint, remarks).Contains(Hazard.TritiumSuspected));

    [Fact]
    public void Water_inside_and_cells_are_told_by_whoever_takes_the_watch_in()
    {
        Assert.Equal([Hazard.CorrosionUrgent, Hazard.Cells], Hazard.Suspected(2015, false, null, waterOrLeakInside: true, holdsACell: true).ToArray());
        Assert.Empty(Hazard.Suspected(2015, false, null));
    }

    [Theory]
    [InlineData(Stage.Takedown, false, Hazard.SpringTension)]
    [InlineData(Stage.Cleaning, true, Hazard.Solvents)]
    [InlineData(Stage.WaterTest, true, Hazard.Pressure)]
    [InlineData(Stage.Casing, true, Hazard.Cells)]
    [InlineData(Stage.Takedown, true, Hazard.SpringTension, Hazard.Cells)]
    [InlineData(Stage.Casing, false)]
    [InlineData(Stage.Regulation, true)]
    public void A_stage_brings_its_own_cautions(Stage stage, bool holdsACell, params string[] expected) =>
        Assert.Equal(expected, Hazard.AtStage(stage, holdsACell));

    [Fact]
    public void Every_caution_fits_a_small_display_and_leaves_the_decision_to_local_rules()
    {
        Assert.Equal(7, Hazard.All.Count);
        Assert.All(Hazard.All, entry =>
        {
            Assert.Equal(entry.Key, entry.Value.Id);
            Assert.InRange(entry.Value.Line.Length, 1, 60);
            Assert.EndsWith("Local rules and licensed practice decide.", entry.Value.Text);
        });
    }

    [Fact]
    public void Every_caution_is_there_in_German_and_leaves_the_decision_to_the_same()
    {
        var german = Hazard.Cautions(Hazard.All.Keys, Language.German);

        Assert.Equal(Hazard.All.Keys.Order(), german.Select(caution => caution.Id).Order());
        Assert.All(german, caution =>
        {
            Assert.NotEqual(Hazard.All[caution.Id].Line, caution.Line);
            Assert.InRange(caution.Line.Length, 1, 60);
            Assert.EndsWith("Es entscheiden die örtlichen Vorschriften und zugelassene Fachleute.", caution.Text);
        });
    }

    [Fact]
    public void Whatever_can_be_suspected_or_met_has_a_caution()
    {
        var suspected = Hazard.Suspected(1950, true, null, true, true).Concat(Hazard.Suspected(1985, true, null));
        var met = Enum.GetValues<Stage>().SelectMany(stage => Hazard.AtStage(stage, true));

        Assert.Equal(Hazard.All.Keys.Order(), suspected.Concat(met).Distinct().Order());
    }
}
