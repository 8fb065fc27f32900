using Workshop.Core.Cleaning;
using static Workshop.Tests.Core.Cleaning.CleaningRoom;

namespace Workshop.Tests.Core.Cleaning;

/// <summary>What may be washed in what, by the table a shop begins with. Common practice throughout.</summary>
public class CompatibilityTests
{
    private static readonly string[] BalanceOnPlate = ["hairspring", "shellac"];
    private static readonly string[] Pallets = ["shellac"];

    [Fact]
    public void The_balance_and_the_pallets_are_refused_by_the_standard_programme_on_both_machines_because_of_the_alcohol()
    {
        foreach (var machine in new[] { One, Two })
        {
            foreach (var flags in new[] { BalanceOnPlate, Pallets })
            {
                var verdict = Judge(Standard, machine, flags);
                Assert.Equal(WashVerdict.Never, verdict.Verdict);
                Assert.Equal(("rinse-3 (alcohol)", "shellac", WashFault.Fluid), (verdict.Against[0].Place, verdict.Against[0].Flag, verdict.Against[0].Fault));
            }
        }
    }

    [Fact]
    public void The_gentle_programme_takes_the_balance_and_the_pallets_on_both_machines()
    {
        foreach (var machine in new[] { One, Two })
        {
            Assert.True(Judge(Gentle, machine, BalanceOnPlate).Passes);
            Assert.True(Judge(Gentle, machine, Pallets).Passes);
        }
    }

    [Fact]
    public void A_rotor_with_a_ball_bearing_goes_only_through_the_gentle_programme_of_the_waterless_machine() =>
        Assert.Equal([("machine-2", "gentle")], WouldDo("ball-bearing-rotor"));

    [Fact]
    public void Light_metal_goes_only_through_the_gentle_programme_of_the_waterless_machine() =>
        Assert.Equal([("machine-2", "gentle")], WouldDo("light-metal"));

    [Theory]
    [InlineData("plastic")]
    [InlineData("unknown-material")]
    public void Plastic_and_what_nobody_knows_go_nowhere_and_are_cleaned_by_hand(string flag)
    {
        Assert.Empty(WouldDo(flag));
        Assert.Equal(["by hand"], Judge(Gentle, Two, flag).Instead.AsEnumerable());
    }

    [Theory]
    [InlineData("dial-or-hands")]
    [InlineData("printed-or-painted")]
    [InlineData("luminous")]
    [InlineData("lubricated-mainspring")]
    [InlineData("gasket-or-glued")]
    [InlineData("electronic")]
    public void What_is_never_washed_is_never_washed_in_any_machine(string flag)
    {
        foreach (var machine in new[] { One, Two, CaseBath })
        {
            Assert.All(Programmes.Where(machine.Runs), programme => Assert.Equal(WashVerdict.Never, Judge(programme, machine, "wheels", flag).Verdict));
        }
    }

    [Fact]
    public void A_case_goes_into_the_bath_for_cases_and_never_into_a_machine_for_movements()
    {
        Assert.Equal([("case-bath", "case")], WouldDo("case-part"));
        Assert.All(new[] { Standard, Gentle, Heavy }, programme => Assert.Equal((WashVerdict.Never, WashFault.OtherMachine), (Judge(programme, One, "case-part").Verdict, Judge(programme, One, "case-part").Against[0].Fault)));
    }

    [Fact]
    public void Minutes_are_those_of_one_immersion_so_that_heavy_passes_the_limit_of_the_plates_twice()
    {
        Assert.Equal(WashVerdict.Yes, Judge(Heavy, One).Verdict);
        Assert.Equal(["old-grease-off-by-hand"], Judge(Heavy, One).Before.AsEnumerable());

        var nine = Standard with { Steps = [Wash("clean", 9), Spin, Dry(6, 60)] };
        Assert.Equal((WashVerdict.No, 8), (Judge(nine, One).Verdict, Judge(nine, One).Against[0].Limit));
        var six = Standard with { Steps = [Wash("clean", 6), Spin, Dry(6, 60)] };
        Assert.Equal((WashVerdict.Ask, 5), (Judge(six, One).Verdict, Judge(six, One).Against[0].Limit));
        Assert.Equal(WashVerdict.Yes, Judge(six, Two).Verdict);
    }

    [Fact]
    public void The_worst_word_over_all_flags_counts_and_of_warmth_the_smallest()
    {
        Assert.Equal(WashVerdict.Yes, Judge(Standard, One, "wheels").Verdict);
        Assert.Equal((WashVerdict.No, WashFault.Drying, 50), First(Judge(Standard, One, "wheels", "reverser")));
        Assert.Equal((WashVerdict.Never, WashFault.Fluid, null), First(Judge(Standard, One, "wheels", "reverser", "shellac")));
    }

    [Fact]
    public void Shellac_is_asked_about_above_45_degrees_and_refused_above_50()
    {
        WashVerdict DriedAt(int celsius) => Judge(Gentle with { Steps = [Wash("clean", 4, TurnSpeed.Slow), Spin, Dry(8, celsius)] }, Two, "shellac").Verdict;

        Assert.Equal((WashVerdict.Yes, WashVerdict.Ask, WashVerdict.Ask, WashVerdict.No), (DriedAt(45), DriedAt(46), DriedAt(50), DriedAt(51)));
    }

    [Fact]
    public void A_hairspring_turns_slowly_and_never_meets_ultrasound()
    {
        var sounding = Gentle with { Steps = [Wash("clean", 4, TurnSpeed.Slow) with { Ultrasound = true }, Spin, Dry(8, 45)] };

        Assert.Equal((WashVerdict.Never, WashFault.Ultrasound, null), First(Judge(sounding, One, "hairspring")));
        Assert.Equal((WashVerdict.No, WashFault.Speed, null), First(Judge(Standard, One, "hairspring")));
    }

    [Fact]
    public void A_flag_that_says_nothing_of_fluids_leaves_the_word_to_the_plain_row()
    {
        Assert.Equal(Judge(Standard, One).Verdict, Judge(Standard, One, "rusty").Verdict);
        Assert.Equal(WashVerdict.No, Judge(Standard with { Steps = [Wash("clean", 9)] }, One, "magnetised").Verdict);
        Assert.Equal((3, 3, 1), (Rules.CountsAs(["rusty"]), Rules.CountsAs(["old-grease", "wheels"]), Rules.CountsAs(["wheels"])));
    }

    [Fact]
    public void A_fluid_that_no_row_knows_is_asked_about()
    {
        var strange = One with { Jars = One.Jars.SetItem("clean", new MachineJar { Fluid = "citrus" }) };

        Assert.Equal((WashVerdict.Ask, WashFault.FluidUnknown, null), First(Judge(Gentle, strange, "wheels")));
    }

    [Fact]
    public void No_rule_of_a_shop_softens_what_is_never()
    {
        var softer = Rules with
        {
            Parts = Rules.Parts
                .SetItem("shellac", Rules.Parts["shellac"] with { Fluids = Rules.Parts["shellac"].Fluids.SetItem("alcohol", new FluidDemand(WashVerdict.Ask)) })
                .SetItem("hairspring", Rules.Parts["hairspring"] with { Ultrasound = WashVerdict.No })
                .SetItem("case-part", Rules.Parts["case-part"] with { OnlyIn = null })
                .Remove("dial-or-hands"),
        };

        Assert.Empty(Rules.Faults("/cleaning"));
        Assert.Equal(
            ["/cleaning/parts/case-part", "/cleaning/parts/dial-or-hands", "/cleaning/parts/hairspring/ultrasound", "/cleaning/parts/shellac/fluids/alcohol"],
            softer.Faults("/cleaning").Select(fault => fault.Pointer).Order(StringComparer.Ordinal));
    }

    private static (string, string)[] WouldDo(params string[] flags) =>
        [.. Compatibility.WouldDo(flags, [One, Two, CaseBath], Programmes, Rules).Select(one => (one.Machine.Id, one.Programme.Id))];

    private static (WashVerdict, WashFault, int?) First(GroupVerdict verdict) => (verdict.Against[0].Verdict, verdict.Against[0].Fault, verdict.Against[0].Limit);
}
