using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Words;

public partial class PhraseTests
{
    // As those of rates: a property.
    private static Dictionary<string, object[]> UsualPartsForCustomers => new()
    {
        ["Genuine: every line is as it was written on {0}. The job went on since; the workshop can give a newer extract."] = [new Spoken(new LocalDate(2026, 9, 23))],
        ["Genuine: every line is as it was written on {0}."] = [new Spoken(new LocalDate(2026, 9, 23))],
        ["Altered: line {0} is not as it was written."] = [12],
        ["Take care: {0}"] = ["the click is bent"],
        ["{0} first, then {1}"] = [new Term("part", "dial"), new Term("part", "hands")],
        ["{0} lies with {1}"] = ["shim", new Term("group", "train")],
        ["Replaced: {0} ({1})"] = ["mainspring", new Term("group", "train")],
        ["To be replaced: {0} ({1})"] = ["mainspring", new Term("group", "train")],
        ["This job has no entry {0}."] = ["/devices/bench-2/1#e-1"],
        ["What the service wrote ({0}) is not corrected; say anew what is right."] = ["promise.moved"],
        ["The right value of {0} is of the same type."] = ["wear-check.read"],
        ["{0} rests on it"] = ["final-control.passed"],
        ["{0} later entries rest on it"] = [12],
        ["Nobody of the house has the badge or short name '{0}'."] = ["mara"],
        ["Numbers {0} to {1} are mended"] = ["100000", "100040"],
        ["{0}: rates by position, s/d"] = ["J7K3MQ4T"],
        ["Left as measured {0}, right {1}."] = ["Mon 2 Mar 09:10 (acoustic-1)", "Wed 4 Mar 16:20 (acoustic-2)"],
        ["Mean {0} s/d before, {1} s/d after; spread {2} and {3} s/d."] = ["−18.2", "+2.6", "13.0", "6.3"],
        ["Measured {0}; there is no earlier set. Mean {1} s/d, spread {2} s/d."] = ["Wed 4 Mar 16:20 (acoustic-2)", "+2.6", "6.3"],
        ["Tint: window of the mean, {0} to {1} s/d ({2})."] = ["−4.0", "+10.0", "modern-automatic"],
        ["Bars: half a step of the figures as they were told, ± {0} s/d; what a position repeats by is not in them."] = ["12"],
        ["Bars: half a step of the figures as they were told, ± {0} s/d before and ± {1} after; what a position repeats by is not in them."] = ["12", "12"],
        ["{0}: amplitude and hours since full wind"] = ["J7K3MQ4T"],
        ["Tint: enough upright, from {0} ({1})."] = ["240° at 0 h, 200° at 24 h", "modern-automatic"],
        ["{0}° at {1} h"] = ["12", "12"],
        ["Bracket at full wind: flat from {0}° to {1}°."] = ["12", "12"],
        ["Bracket at full wind: flat from {0}°."] = ["12"],
        ["{0} sets are left out: nobody told how far the mainspring was wound, or no amplitude."] = ["12"],
        ["{0}: readings of check {1}"] = ["J7K3MQ4T", 2],
        ["{0} ± {1} s/d: {2}."] = ["+3.04", "0.13", Workshop.Core.WearChecks.WearVerdict.Pass],
        ["{0} ± {1} s/d so far; the check runs."] = ["12", "12"],
        ["Tint: what {0} to {1} s/d would make of the start. Bars: uncertainty of a reading, k = 2."] = ["12", "12"],
        ["Worn rates: {0}"] = ["bench-2, acoustic-1"],
        ["regulated by {0}"] = ["acoustic-1"],
        ["worn check, from {0} to {1}"] = ["2026-03-02", "2026-04-04"],
        ["Limits from the first {0} worn checks, frozen: {1} to {2} s/d about {3}; a step is at most {4}."] = ["12", "12", "12", "12", "12"],
        ["Limits from {0} worn checks, still moving until there are {1}: {2} to {3} s/d about {4}; a step is at most {5}."] = ["12", "12", "12", "12", "12", "12"],
        ["Mean ± 3 mean steps / {0}; a step at most {1} mean steps."] = ["1.128", "3.267"],
        ["{0} worn checks: no limits before there are {1}."] = ["12", "12"],
        ["Begun anew {0}: {1}"] = ["Mon 2 Mar 09:10", "its microphone was exchanged"],
        ["And {0} more outside."] = ["12"],
        ["{0}: {1} of {2}, {3} s/d, lies above the upper limit {4}."] = [28, "J7K3MQ4T", "2026-03-29", "+11.4", "+9.2"],
        ["{0}: {1} of {2}, {3} s/d, lies below the lower limit {4}."] = [28, "J7K3MQ4T", "2026-03-29", "+11.4", "+9.2"],
        ["{0}: {1} of {2} is {3} s/d away from the one before; a step is at most {4}."] = [28, "J7K3MQ4T", "2026-03-29", "+11.4", "+9.2"],
        ["{0} shows {1} s/d more than {2} in {3} pairs; with fewer than {4} nothing can be said."] = ["acoustic-2", "+1.5", "acoustic-1", 2, 3],
        ["{0} shows {1} s/d more than {2}: {3} to {4} s/d, {5} pairs."] = ["acoustic-2", "+1.5", "acoustic-1", "+0.9", "+2.1", 5],
        ["{0} and {1} may well show the same: {2} to {3} s/d, {4} pairs."] = ["acoustic-1", "acoustic-2", "−0.9", "+2.1", 5],
        ["The position '{0}' is there twice."] = [Workshop.Core.Timekeeping.Position.CrownRight],
    };
}
