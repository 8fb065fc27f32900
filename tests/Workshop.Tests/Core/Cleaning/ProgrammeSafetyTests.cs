using Workshop.Core.Cleaning;
using static Workshop.Tests.Core.Cleaning.CleaningRoom;

namespace Workshop.Tests.Core.Cleaning;

public class ProgrammeSafetyTests
{
    [Fact]
    public void The_programmes_that_are_shipped_are_safe_in_the_machines_of_these_tests() =>
        Assert.All(Programmes, programme => Assert.All([One, Two, CaseBath], machine => Assert.Empty(ProgrammeSafety.Faults(programme).Concat(ProgrammeSafety.Faults(programme, machine, Rules)))));

    [Fact]
    public void Heat_after_a_flammable_jar_without_a_spin_between_is_refused()
    {
        var wet = Gentle with { Steps = Gentle.Steps.Remove(Spin) };

        Assert.Equal(["/steps/3"], ProgrammeSafety.Faults(wet, One, Rules).Select(fault => fault.Pointer));
        Assert.Contains("rinse-2 (petroleum-rinse)", ProgrammeSafety.Faults(wet, One, Rules).Single().Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bath_of_water_may_be_dried_without_a_spin() => Assert.Empty(ProgrammeSafety.Faults(Case, CaseBath, Rules));

    [Fact]
    public void Ultrasound_in_a_flammable_jar_is_refused_unless_the_machine_was_made_for_it()
    {
        var sounding = Gentle with { Steps = Gentle.Steps.SetItem(0, Gentle.Steps[0] with { Ultrasound = true }) };
        var made = Two with { Jars = Two.Jars.SetItem("clean", Two.Jars["clean"] with { MadeForFlammableUltrasound = true }) };

        Assert.Empty(ProgrammeSafety.Faults(sounding, One, Rules));
        Assert.Equal(["/steps/0/ultrasound"], ProgrammeSafety.Faults(sounding, Two, Rules).Select(fault => fault.Pointer));
        Assert.Empty(ProgrammeSafety.Faults(sounding, made, Rules));
    }

    // OSHA 1910.106: within 16.7 °C (30 °F) of its flash point a liquid is handled as the next more dangerous class; 40 - 16.7 = 23.3 °C.
    [Theory]
    [InlineData(23, false)]
    [InlineData(24, true)]
    public void A_solvent_that_flashes_at_40_degrees_must_not_be_warmed_above_23_3_without_the_stricter_rule(int celsius, bool cautioned)
    {
        var rules = Rules with { Fluids = Rules.Fluids.SetItem("waterless", Rules.Fluids["waterless"] with { FlashPointCelsius = 40 }) };
        var warm = Gentle with { Steps = Gentle.Steps.SetItem(0, Gentle.Steps[0] with { Celsius = celsius }) };

        Assert.Equal(cautioned, ProgrammeSafety.Cautions(warm, Two, rules).Any());
        Assert.All(ProgrammeSafety.Cautions(warm, Two, rules), caution => Assert.Contains("OSHA 1910.106", caution, StringComparison.Ordinal));
        Assert.Empty(ProgrammeSafety.Cautions(warm, One, rules));
    }

    [Fact]
    public void A_flammable_jar_that_is_heated_without_a_flash_point_written_down_is_cautioned_about()
    {
        var warm = Gentle with { Steps = Gentle.Steps.SetItem(0, Gentle.Steps[0] with { Celsius = 25 }) };

        Assert.Contains("safety data sheet", Assert.Single(ProgrammeSafety.Cautions(warm, Two, Rules)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_washes_spins_or_dries_and_one_in_a_jar_says_how_long() =>
        Assert.Equal(
            ["/steps/0", "/steps/1/minutes", "/steps/2", "/steps/3"],
            ProgrammeSafety.Faults(new Programme
            {
                Id = "x-odd",
                Steps = [new ProgrammeStep(), new ProgrammeStep { Wash = "clean" }, new ProgrammeStep { Spin = 1, Dry = 2 }, new ProgrammeStep { Spin = 1, Ultrasound = true }],
            }).Select(fault => fault.Pointer));
}
