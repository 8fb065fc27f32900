using Workshop.Core.Route;

namespace Workshop.Tests.Core.Jobs;

public class WholeLifeTests
{
    public static TheoryData<RouteDefinition> Routes => new(TestShop.FullAutomatic, TestShop.FullChronograph);

    [Theory]
    [MemberData(nameof(Routes))]
    public void A_watch_goes_the_whole_way_from_intake_to_hand_over(RouteDefinition route)
    {
        var story = new Story(route).Through(Stage.HandedOver);

        Assert.All(route.Stages, planned => Assert.Equal(StageState.Done, story[planned.Stage]));
        Assert.Equal(Stage.HandedOver, story.Job.Standings.Current);
        Assert.Empty(story.Job.Standings.GroundLost);
        Assert.Empty(story.Job.Reviews);
    }

    [Fact]
    public void The_stage_of_a_job_is_the_first_required_one_that_does_not_stand()
    {
        var story = new Story();
        foreach (var stage in TestShop.FullAutomatic.Stages.Select(planned => planned.Stage).Where(stage => stage is not (Stage.Queue or Stage.HandedOver)))
        {
            story.Through(stage);

            var rest = TestShop.FullAutomatic.Stages.SkipWhile(planned => planned.Stage != stage).Skip(1).Select(planned => planned.Stage);
            Assert.Equal(rest.First(one => story[one] != StageState.Done), story.Job.Standings.Current);
        }
    }
}
