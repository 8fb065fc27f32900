using Workshop.Core.Intake;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Intake;

public class IntakeNeedsTests
{
    [Fact]
    public void Each_member_is_asked_for_by_the_first_stage_of_the_route_that_needs_it()
    {
        var missing = IntakeNeeds.Missing(new HashSet<string>(), null, TestShop.FullAutomatic);

        Assert.Equal(Stage.Takedown, missing.Single(one => one.Member == IntakeMember.DeclaredValue).NeededFor);
        Assert.Equal(Stage.Diagnosis, missing.Single(one => one.Member == IntakeMember.Terms).NeededFor);
        Assert.DoesNotContain(missing, one => one.Member == IntakeMember.PolishConfirmed);
    }

    [Fact]
    public void What_is_known_is_not_missing() =>
        Assert.Empty(IntakeNeeds.Missing(IntakeNeeds.All.Select(one => one.Member).ToHashSet(), PolishWish.Yes, TestShop.FullAutomatic));

    [Fact]
    public void A_route_without_case_work_asks_for_no_polish()
    {
        var route = TestShop.FullAutomatic with { Stages = [.. TestShop.FullAutomatic.Stages.Where(one => one.Stage is not (Stage.CaseStrip or Stage.CaseWork))] };

        Assert.DoesNotContain(IntakeNeeds.Missing(new HashSet<string>(), PolishWish.Yes, route), one => one.Member is IntakeMember.Polish or IntakeMember.PolishConfirmed);
    }

    [Fact]
    public void A_job_that_begins_midway_is_not_asked_what_earlier_stages_would_have_asked()
    {
        var missing = IntakeNeeds.Missing(new HashSet<string>(), PolishWish.Yes, TestShop.FullAutomatic, Stage.Rebuild);

        Assert.DoesNotContain(missing, one => one.Member is IntakeMember.Terms or IntakeMember.Photos);
        Assert.Contains(missing, one => one.Member == IntakeMember.DeclaredValue && one.NeededFor is Stage.CaseStrip or Stage.Casing);
    }

    [Fact]
    public void Each_has_a_name_for_people() => Assert.All(
        IntakeNeeds.All, one => Assert.Contains(WordLists.All.Single(list => list.Name == "intakeMember").Words, row => row.Word == one.Member));
}
