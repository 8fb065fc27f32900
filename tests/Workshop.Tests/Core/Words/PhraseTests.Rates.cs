using Workshop.Core.Timekeeping;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Words;

public partial class PhraseTests
{
    // A property, since the table of all parts wants it before fields of other files would be there.
    private static Dictionary<string, object[]> UsualPartsOfRates => new()
    {
        ["{0}: {1}, at least {2}"] = [Phrase.Of("Amplitude upright"), Phrase.Of("{0}°", new Figure(231, "0")), Phrase.Of("{0}°", new Figure(240, "0"))],
        ["{0}: {1}, at most {2}"] = [Phrase.Of("Running less stopped"), Phrase.Of("{0} s/d", Figure.Signed(-112.5m)), Phrase.Of("{0} s/d", Figure.Signed(-8))],
        ["{0}: {1}, at least {2}."] = [CriterionKind.RunningVerticalOneDay, Phrase.Of("{0}°", new Figure(231, "0")), Phrase.Of("{0}°", new Figure(240, "0"))],
        ["{0}: {1}, at most {2}."] = [CriterionKind.RunningSpread, Phrase.Of("{0} s/d", Figure.Signed(-112.5m)), Phrase.Of("{0} s/d", Figure.Signed(-8))],
        ["{0}: {1}, {2} to {3}."] = [CriterionKind.RunningMean, Phrase.Of("{0} s/d", Figure.Signed(-112.5m)), Phrase.Of("{0} s/d", Figure.Signed(-8)), Phrase.Of("{0} s/d", Figure.Signed(8))],
        ["{0}: {1}."] = [CriterionKind.RunningDrop, Phrase.Of("{0}°", new Figure(31, "0"))],
        ["{0}: not measured."] = [CriterionKind.RunningVerticalOneDay],
        ["{0}°"] = [new Figure(231, "0")],
        ["{0} ms"] = [new Figure(0.25m, "0.0#")],
        ["{0} s/d"] = [Figure.Signed(-112.5m)],
        ["{0} {1}"] = [Phrase.Of("{0}°", new Figure(231, "0")), Position.CrownRight],
        ["Not measured: {0}"] = [new Series([Position.CrownRight, Position.CrownLeft])],
        ["{0} positions are not measured"] = [3],
        ["Passes {0}."] = [new Term("toleranceKind", "modern-automatic")],
        ["Passes {0} with {1} signed."] = [new Term("toleranceKind", "modern-automatic-fine"), new Series([CriterionKind.MeanFull, CriterionKind.SpreadFull])],
        ["Outside {0}."] = [new Term("toleranceKind", "modern-automatic")],
        ["Cannot pass {0}: {1} not measured."] = [new Term("toleranceKind", "modern-automatic"), new Series([Position.CrownRight, Position.CrownLeft])],
        ["Passes: mean {0}, spread {1} s/d"] = [Figure.Signed(-12.5m), new Figure(22)],
        ["Not measured: {0}. Without them it cannot pass."] = [new Series([Position.CrownRight, Position.CrownLeft])],
        ["Recomputed for a lift angle of {0}°"] = [new Figure(50.5m, "0.#")],
        ["Signed: {0}"] = [CriterionKind.SpreadFull],
        ["{0}° {1}: knocking, or the lift angle?"] = [new Figure(331.5m, "0.#"), Position.CrownRight],
        ["{0}° {1} is above the usual {2}°"] = [new Figure(321.5m, "0.#"), Position.DialDown, new Figure(315, "0.#")],
        ["Lift angle {0}°: is that right?"] = [new Figure(62.5m, "0.#")],
        ["Lift angle {0}°; the calibre has {1}°. Which?"] = [new Figure(52.5m, "0.#"), new Figure(50, "0.#")],
        ["{0} vibrations an hour: is that right?"] = [new Figure(28_000, "0.#")],
        ["{0} an hour; the calibre has {1}. Which?"] = [new Figure(28_800, "0.#"), new Figure(21_600, "0.#")],
        ["Dial up and down {0}° apart: pivot, endstone?"] = [new Figure(31.5m, "0.#")],
        ["{0} s/d, weak: magnetism, touching coils?"] = [Figure.Signed(-1_400)],
        ["Wound {0} h ago: another wind than told?"] = [new Figure(12.25m, "0.##")],
        ["'{0}' is no position here. Known are: {1}."] = ["sideways", new Series(["CH", "FH"])],
        ["This job has no rate set {0}."] = ["/devices/bench-2/1#e-1"],
        ["Vibrations an hour are {0} to {1}."] = [3_600, 720_000],
        ["A lift angle is {0} to {1} degrees."] = [20, 90],
        ["An amplitude is more than 0 and at most {0} degrees; leave out what was not measured."] = [360],
        ["A beat error is 0 to {0} milliseconds."] = [100],
        ["After a day {0} s/d, at full wind {1} s/d: a change of {2} s/d over {3} positions."] = [Figure.Signed(-12.5m), Figure.Signed(4), Figure.Signed(-16.5m), 6],
        ["As received mean {0} and spread {1} s/d, now mean {2} and spread {3} s/d, over {4} positions."] = [Figure.Signed(-12.5m), new Figure(22), Figure.Signed(4), new Figure(12), 6],
        ["{0} s/d for each 10° more amplitude, between {1}° and {2}°, from {3} readings."] = [new Figure(-0.75m, "+0.00;-0.00;0.00"), new Figure(215, "0"), new Figure(290, "0"), 12],
        ["Move it {0} s/d faster: on the wrist it would then keep {1} s/d."] = [new Figure(3.3m), Figure.Signed(4)],
        ["Move it {0} s/d slower: on the wrist it would then keep {1} s/d."] = [new Figure(3.3m), Figure.Signed(4)],
        ["Leave the index: on the wrist it keeps {0} s/d already."] = [Figure.Signed(4)],
        ["The spread of {0} s/d is more than {1}, and regulation does not change it: poise, or the hairspring."] = [new Figure(22), new Figure(15)],
        ["Regulation moves every position alike: the spread of {0} s/d stays."] = [new Figure(12)],
    };
}
