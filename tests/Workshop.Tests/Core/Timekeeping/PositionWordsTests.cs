using System.Collections.Immutable;
using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Tests.Core.Timekeeping;

public class PositionWordsTests
{
    private static readonly ImmutableSortedDictionary<string, PositionAlias> Aliases = new Dictionary<string, PositionAlias>
    {
        ["6 up"] = new() { MarkUp = 6 },
        ["on its face"] = new() { Position = Position.DialDown },
        ["pendant up"] = new() { CrownDegrees = 10 },
        ["3H"] = new() { CrownDegrees = 180 },
    }.ToImmutableSortedDictionary();

    [Theory]
    [InlineData("crown-left", 3, Position.CrownLeft, false)]
    [InlineData("6H", 3, Position.CrownLeft, true)]
    [InlineData("6h", 9, Position.CrownRight, true)]
    [InlineData("cb", 3, Position.DialDown, false)]
    [InlineData("6 UP", 3, Position.CrownLeft, true)]
    [InlineData(" 6 up ", 9, Position.CrownRight, true)]
    [InlineData("On its face", 9, Position.DialDown, false)]
    [InlineData("pendant up", 12, Position.CrownUp, false)]
    [InlineData("3H", 3, Position.CrownDown, false)]
    public void A_position_is_told_by_the_crown_by_a_symbol_or_by_a_word_of_the_shops_own(string word, int crown, Position position, bool byMark) =>
        Assert.Equal(new ToldPosition(position, byMark), PositionWords.Read(word, Aliases, crown));

    [Theory]
    [InlineData("4H")]
    [InlineData("sideways")]
    [InlineData("CrownLeft")]
    [InlineData("")]
    public void Another_word_names_no_position(string word) => Assert.Null(PositionWords.Read(word, Aliases, 3));

    [Fact]
    public void What_is_known_is_named() =>
        Assert.Equal(
            ["dial-up", "dial-down", "crown-up", "crown-down", "crown-left", "crown-right", "CH", "FH", "CB", "3H", "6H", "9H", "12H", "6 up", "on its face", "pendant up"],
            PositionWords.Known(Aliases));

    [Fact]
    public void A_crown_at_four_points_to_the_quarter_that_is_nearest_and_half_way_to_neither()
    {
        Assert.Equal(Position.CrownUp, WatchPosition.MarkUp(3, 4).Quarter());
        Assert.Null(new WatchPosition(Attitude.Upright, 45).Quarter());
        Assert.All(Enum.GetValues<Position>(), position => Assert.Equal(position, WatchPosition.Of(position).Quarter()));
    }

    [Fact]
    public void Every_fault_in_the_shops_words_is_named()
    {
        var rules = new TimekeepingRules
        {
            PositionAliases = new Dictionary<string, PositionAlias>
            {
                ["a/b"] = new() { CrownDegrees = 45 },
                ["both"] = new() { Position = Position.DialUp, MarkUp = 3 },
                ["dial-up"] = new() { MarkUp = 3 },
                ["far"] = new() { CrownDegrees = 400 },
                ["mark"] = new() { MarkUp = 13 },
                ["none"] = new(),
            }.ToImmutableSortedDictionary(),
            Plausibility = new PlausibilityRules { LiftAngleLeastDegrees = 60, FullWindFromMinutes = 61, OneDayFromHours = 26, UsualVibrationsPerHour = [18_000, 12] },
        };

        Assert.Equal(
            ["/t/positionAliases/a~1b/crownDegrees", "/t/positionAliases/both", "/t/positionAliases/dial-up", "/t/positionAliases/far/crownDegrees", "/t/positionAliases/mark/markUp", "/t/positionAliases/none", "/t/plausibility/liftAngleLeastDegrees",
             "/t/plausibility/fullWindFromMinutes", "/t/plausibility/oneDayFromHours", "/t/plausibility/usualVibrationsPerHour/1"],
            rules.Faults("/t").Select(fault => fault.Pointer));
    }
}
