using System.Text.RegularExpressions;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Tests.Conventions;

namespace Workshop.Tests.Core.Words;

public partial class PhraseTests
{
    private static readonly object AStage = Stage.ReserveAndFunctions;
    private static readonly object APiece = new Term("piece", "dial-and-hands");
    private static readonly object APlace = "people/mara";
    private static readonly object ARate = Phrase.Of("{0} ± {1} s/d", Figure.Signed(-12.5m), new Figure(0.9m, "0.####"));

    private static readonly object ADay = new Spoken(new LocalDate(2026, 9, 30));
    private static readonly object AWeekday = new Spoken(new LocalDate(2026, 9, 30), Weekday: true);
    private static readonly object ASpan = Phrase.Of("{0} months", 24);
    private static readonly object AHandOver = Phrase.Of("hand-over on {0}", ADay);
    private static readonly object AClaim = Phrase.Of("Claim {0}, covered", 2);

    private static readonly object AShortRun = Phrase.Of("{0} h {1} min", 18, 10);

    /// <summary>Usual parts for every pattern that has some: what a line has to hold.</summary>
    private static readonly Dictionary<string, object[]> UsualParts = new()
    {
        ["{0}"] = [APlace],
        ["Order {0}"] = ["2041"],
        ["{0} is signed on here"] = ["Mara"],
        ["{0} is signed off"] = ["Mara"],
        ["{0}. Confirm when it began"] = ["+2.4 ± 0.6 s/d"],
        ["{0} is done; send it back first"] = [AStage],
        ["{0} ends by {1}, not by saying so"] = [Stage.WaterTest, "water-test.recorded"],
        ["This kind of work has no {0}"] = [AStage],
        ["{0} does not come before {1} here"] = [Stage.DialAndHands, Stage.FinalControl],
        ["{0} is still being done"] = [AStage],
        ["{0} has failed"] = [AStage],
        ["{0} must be done again"] = [AStage],
        ["{0} has lost its ground"] = [AStage],
        ["{0} is not done"] = [AStage],
        ["{0} is already at it"] = ["mara"],
        ["Held: {0}"] = [HoldReason.OutsideFirm],
        ["The intake still lacks: {0}"] = [new Term("intakeMember", "polish")],
        ["Sure by {0} only; needed by {1}"] = [new LocalDate(2026, 9, 30), new LocalDate(2026, 9, 23)],
        ["Of the last {0} jobs of this kind nine in ten were ready within {1} open days: by {2}."] = [100, 41, new LocalDate(2026, 9, 30)],
        ["Too few jobs of this kind to count ({0} of {1}): {2} promised open days and {3} until an approval lead to {4}."] = [3, 20, 20, 4, new LocalDate(2026, 9, 30)],
        ["Measured, {0}: {1} s/d in 1 position"] = [Workshop.Core.Timekeeping.WindState.OneDay, Figure.Signed(-12.5m)],
        ["Measured, {0}: mean {1} s/d in {2} positions"] = [Workshop.Core.Timekeeping.WindState.OneDay, Figure.Signed(-12.5m), 6],
        ["Passed after wear: {0} s/d"] = [Figure.Signed(-12.5m)],
        ["Water test passed: {0}, {1} bar"] = [Workshop.Core.WaterTests.WaterTestMethod.Vacuum, new Figure(12.5m)],
        ["Water test passed: {0}"] = [Workshop.Core.WaterTests.WaterTestMethod.Vacuum],
        ["Water test not passed: {0}"] = [Workshop.Core.WaterTests.WaterTestMethod.Vacuum],
        ["Seal {0}: {1}"] = ["S-2041", Workshop.Core.Casing.SealState.NeverFitted],
        ["Seal: {0}"] = [Workshop.Core.Casing.SealState.NeverFitted],
        ["Final control passed: {0} checks"] = [10],
        ["Fitted: {0}, lot {1}"] = ["mainspring-41", "L-7"],
        ["Fitted: {0}"] = ["mainspring-41"],
        ["Declined in quote {0}: {1}"] = [2, "1480.00 GBP"],
        ["Insured for {0}, declared at {1}"] = ["1480.00 GBP", "2480.00 GBP"],
        ["{0}: given to {1} and not taken"] = [new Term("piece", "movement"), APlace],
        ["{0}: with {1}"] = [APiece, APlace],
        ["{0} is with {1}"] = [APiece, APlace],
        ["{0} is still with {1}"] = [APiece, "firms/dials"],
        ["{0} checks have no result"] = [12],
        ["The exception at {0} names no manager"] = [new Term("finalCheck", "crown")],
        ["Version {0} is not the newest; {1} is"] = [2, 3],
        ["The quote was good through {0}"] = [new LocalDate(2026, 9, 30)],
        ["Failed {0} times; a manager decides"] = [3],
        ["Could help: {0}"] = [Phrase.Of("the desk")],
        ["{0} started"] = [AStage],
        ["{0} done"] = [AStage],
        ["Kept, but {0} has lost its ground"] = [AStage],
        ["{0}. Next: {1}"] = [Phrase.Of("{0} done", AStage), Stage.FinalControl],
        ["Back to {0}"] = [AStage],
        ["{0}. Again: {1}"] = [Phrase.Of("Opened"), new Series([Stage.Casing, Stage.WaterTest])],
        ["{0}. {1} stages again"] = [Phrase.Of("Back to {0}", Stage.DialAndHands), 8],
        ["No longer held: {0}"] = [HoldReason.OutsideFirm],
        ["{0} pieces"] = [5],
        ["{0} given to {1}"] = [APiece, APlace],
        ["{0} taken"] = [APiece],
        ["{0} put at {1}"] = [APiece, "places/safe"],
        ["Seal {0}"] = [Workshop.Core.Casing.SealState.NeverFitted],
        ["Read it from {0} on"] = [new LocalDateTime(2026, 9, 27, 15, 0).InUtc()],
        ["Passed: {0}"] = [ARate],
        ["Waived once: {0}"] = ["needs/reserve-and-functions"],
        ["Mean {0}, spread {1} s/d, 1 position"] = [Figure.Signed(-12.5m), new Figure(22)],
        ["Mean {0}, spread {1} s/d, {2} positions"] = [Figure.Signed(-12.5m), new Figure(22), 6],
        ["The four vertical rates lie {0} s/d off that."] = [new Figure(0.5m)],
        ["Flat less vertical: {0} s/d."] = [Figure.Signed(-12.5m)],
        ["On the wrist about {0} s/d, by the hours of the shop's wear profile."] = [Figure.Signed(-12.5m)],
        ["{0} h of it are left out, in positions that were not measured: {1}."] = [new Figure(7.5m, "0.#"), new Series([Workshop.Core.Timekeeping.Position.CrownDown, Workshop.Core.Timekeeping.Position.CrownRight])],
        ["The vertical positions are alike, {0} s/d."] = [Figure.Signed(-12.5m)],
        ["Vertical {0} ± {1} s/d, fastest {2}° from {3} towards {4}."] =
            [Figure.Signed(-12.5m), new Figure(22), new Figure(80, "0"), Workshop.Core.Timekeeping.Position.CrownUp, Workshop.Core.Timekeeping.Position.CrownLeft],
        ["Day {0} told; {1} still missing"] = [11, 14],
        ["Day {0} told, unlike the sequence: no verdict"] = [11],
        ["Day {0} told; all 15 days are there"] = [15],
        ["Day {0} was told with another figure"] = [11],
        ["The name of a trial is 1 to {0} small letters, digits and hyphens."] = [40],
        ["A trial has the days 1 to {0}."] = [15],
        ["A rate is at most {0} seconds a day either way."] = [86400],
        ["{0} ± {1} s/d"] = [Figure.Signed(-12.5m), new Figure(0.9m, "0.####")],
        ["Outside: {0}. Regulate"] = [ARate],
        ["Far outside: {0}. Look for the fault"] = [ARate],
        ["Too close to say: {0}. Leave it on"] = [ARate],
        ["Interim after {0} h: {1}"] = [new Figure(16.5m), ARate],
        ["To be done again: {0}."] = [new Series([Stage.Casing, Stage.WaterTest])],
        ["Forecast {0}, {1} open days after the promised day: {2}"] = [new LocalDate(2026, 9, 30), 12, Phrase.Of("Held: {0}", HoldReason.OutsideFirm)],
        ["The shop has moved this date {0} times already"] = [3],
        ["by {0}, most likely around {1}"] = [AWeekday, ADay],
        ["by {0}"] = [AWeekday],
        ["counted from the day we know: {0}"] = [new Series([new Term("intakeMember", "declaredValue")])],
        ["counted from the day the deposit comes and we know: {0}"] = [new Series([new Term("intakeMember", "declaredValue")])],
        ["Still to be paid: {0}"] = ["1480.00 GBP"],
        ["Still to be paid back: {0}"] = ["1480.00 GBP"],
        ["Nothing is agreed yet, {0} paid"] = ["1480.00 GBP"],
        ["{0} still to be paid of {1}"] = ["1480.00 GBP", "2480.00 GBP"],
        ["{0} still to be paid of {1}, on account"] = ["1480.00 GBP", "2480.00 GBP"],
        ["{0} to be paid back"] = ["1480.00 GBP"],
        ["Nothing is owed; {0} was asked"] = ["1480.00 GBP"],
        ["{0} bench minutes at {1} a working day: {2} working days"] = [420, 150, 3],
        ["{0} elapsed days that no bench shortens"] = [3],
        ["nothing before {0}"] = [ADay],
        ["The promised date moved from {0} to {1}."] = [new LocalDate(2026, 9, 30), new LocalDate(2026, 10, 1)],
        ["{0} is not as it should be; errors[] says more."] = ["/data/kind"],
        ["'{0}' is not started by anybody."] = [Stage.Queue],
        ["'{0}' is reached, never posted."] = [Stage.Ready],
        ["There is no gate '{0}'."] = ["needs"],
        ["'{0}' cannot be waived."] = ["fully-wound"],
        ["Nothing is sent back to '{0}'."] = [Stage.Intake],
        ["An offset is at most {0} seconds either way; hands cannot show more."] = [43200],
        // The drawing of a recording.
        ["{0}–{1} s"] = ["28", "30"],
        ["{0} ± {1} s/d, {2}"] = [Figure.Signed(-12.5m), new Figure(1.2m), new Term("figureConfidence", "good")],
        ["{0}° ± {1}°, {2}"] = ["281", "2", new Term("figureConfidence", "good")],
        ["{0} ± {1} ms, {2}"] = [new Figure(0.31m, "0.00"), new Figure(0.05m, "0.00"), new Term("figureConfidence", "good")],
        ["whole {0} s/d"] = [Figure.Signed(-12.5m)],
        ["{0}, dB: noise 1 to 3 in {1} ms"] = [Phrase.Of("Tock"), new Figure(12.75m, "0.00")],
        ["{0}, dB: noise 1 does not stand out"] = [Phrase.Of("Tock")],
        ["Rate {0} s/d, from {1} to {2}, {3}."] = [Figure.Signed(-12.5m), Figure.Signed(-12.6m), Figure.Signed(-12.4m), new Term("figureConfidence", "good")],
        ["Amplitude {0}°, from {1}° to {2}°, {3}; the error of the lift angle is not in it."] = ["281", "279", "283", new Term("figureConfidence", "good")],
        ["Beat error {0} ms, from {1} to {2}, {3}."] = [new Figure(0.31m, "0.00"), new Figure(0.26m, "0.00"), new Figure(0.36m, "0.00"), new Term("figureConfidence", "good")],
        ["{0} vibrations an hour; {1} beats in {2} s; single beats scatter by {3} µs; signal to noise {4} dB."] = ["28800", 238, new Figure(30m), "14", "28"],
        ["To know: {0}."] = [new Series([new Term("listeningReason", "clipped")])],
        ["Lift angle {0}°."] = [new Figure(52, "0.#")],
        ["The recorder's clock is {0} ± {1} ppm fast, and the rate is free of that."] = [Figure.Signed(3.2m), new Figure(0.5m)],
        ["Listened to by version {0} of the analyser. Computed by the definitions of rate 86400·(T nominal/T − 1), of amplitude L/(2 sin(π·t/T)) with lift angle L and the whole period T, and of beat error as half the difference of the half periods."] = [2],
        // The cleaning room.
        ["STOP: {0} holds parts of {1}"] = ["cage-07", "J7K3MQ4T"],
        ["{0} holds nothing of this watch"] = ["cage-07"],
        ["Never washed: {0}"] = [new Term("groupFlag", "lubricated-mainspring")],
        ["{0}: never in a machine for movements"] = [new Term("groupFlag", "case-part")],
        ["{0}: dries at {1} °C at most"] = [new Term("groupFlag", "lubricated-mainspring"), 45],
        ["{0}: {1} minutes at most in {2}"] = [new Term("groupFlag", "shellac"), 4, "clean (ammoniated)"],
        ["{0}: only slowly in {1}"] = [new Term("groupFlag", "hairspring"), "rinse-1 (petroleum-rinse)"],
        ["{0}: {1} °C at most in {2}"] = [new Term("groupFlag", "plastic"), 25, "clean (ammoniated)"],
        ["{0}: no ultrasound, {1}"] = [new Term("groupFlag", "hairspring"), "rinse-1 (petroleum-rinse)"],
        ["{0}: is {1} right for it?"] = [new Term("groupFlag", "reverser"), "clean (ammoniated)"],
        ["{0}: not in {1}"] = [new Term("groupFlag", "shellac"), "rinse-3 (alcohol)"],
        ["The shop has no cage {0}"] = ["cage-07"],
        ["{0} holds another group of this watch"] = ["cage-07"],
        ["{0} holds parts of {1}"] = ["cage-07", "J7K3MQ4T"],
        ["A cage without a lid shares no run with {0}"] = ["J7K3MQ4T"],
        ["Another watch is in this run: {0}"] = ["J7K3MQ4T"],
        ["{0} in this run has the same calibre"] = ["J7K3MQ4T"],
        ["Is {0} of another calibre?"] = ["J7K3MQ4T"],
        ["{0} has not every jar of {1}"] = ["machine-1", "standard"],
        ["Another run is still going on in {0}"] = ["machine-1"],
        ["{0} cages, and {1} has {2} places"] = [12, "machine-1", 6],
        ["{0} has had its {1} runs"] = ["clean (ammoniated)", 40],
        ["{0} was good through {1}"] = ["clean (ammoniated)", new LocalDate(2026, 9, 30)],
        ["{0} is written down"] = [new Term("group", "pallets-and-settings")],
        ["{0} is in {1}"] = [new Term("group", "pallets-and-settings"), "cage-07"],
        ["{0} is empty and free"] = ["cage-07"],
        ["The shop has no machine '{0}'."] = ["machine-9"],
        ["The shop has no programme '{0}'."] = ["heavy"],
        ["The run is going on: {0} cages"] = [6],
        ["{0} has no jar '{1}'."] = ["machine-1", "rinse-4"],
        ["Nobody has told of a filling '{0}'."] = ["m1-clean-12"],
        ["{0} is filled afresh"] = ["rinse-1"],
        ["It stands in {0} now"] = ["rinse-1"],
        ["Throw {0} away, move {1} up into it, fill {1} afresh"] = ["rinse-1", "rinse-2"],
        ["Throw {0} away and fill it afresh"] = ["clean"],
        // Groups of parts.
        ["{0} is never washed: closed box"] = [new Term("group", "pallets-and-settings")],
        ["{0}: written down"] = [new Term("group", "pallets-and-settings")],
        ["{0} is to be cleaned again"] = [new Term("group", "pallets-and-settings")],
        ["{0} looked at"] = [new Term("group", "pallets-and-settings")],
        ["Lost: {0}. Held; search for it"] = ["click spring"],
        ["Found: {0}"] = ["click spring"],
        ["{0}: the count agrees"] = [new Term("group", "pallets-and-settings")],
        ["STOP: {0} has {1} of {2}"] = [new Term("group", "pallets-and-settings"), 14, 15],
        ["STOP: {0} has {1}, not {2}"] = [new Term("group", "pallets-and-settings"), 16, 15],
        ["{0}; {1} left"] = [Phrase.Of("{0} is written down", new Term("group", "keyless")), 5],
        ["Not declared: {0}"] = [new Series([new Term("group", "pallets-and-settings"), new Term("group", "balance-on-plate")])],
        ["Not cleaned yet: {0}"] = [new Series([new Term("group", "pallets-and-settings"), new Term("group", "balance-on-plate")])],
        ["Not counted: {0}"] = [new Series([new Term("group", "pallets-and-settings"), new Term("group", "balance-on-plate")])],
        ["{0}: {1} of {2} were in cages"] = [new Term("group", "pallets-and-settings"), 14, 15],
        ["Not scanned empty: {0}"] = ["cage-07"],
        ["{0} is not accounted for; {1} had it last"] = [new Term("group", "pallets-and-settings"), "jonas"],
        ["{0} is not accounted for"] = [new Term("group", "pallets-and-settings")],
        ["{0} is in a run"] = [new Term("group", "pallets-and-settings")],
        ["{0}: {1} already"] = [new Term("group", "pallets-and-settings"), new Term("groupState", "hand-cleaned")],
        ["{0} was not declared"] = [new Term("group", "pallets-and-settings")],
        ["{0} is not cleaned yet"] = [new Term("group", "pallets-and-settings")],
        ["{0} groups, all of them ended"] = [7],
        ["{0} groups; open: {1}"] = [7, new Series([new Term("group", "pallets-and-settings"), new Term("group", "balance-on-plate")])],
        // Kinds of work.
        ["{0} has no {1}"] = [new Term("variant", "full-chronograph"), Stage.ReserveAndFunctions],
        ["{0} rules out {1}"] = [new Term("variant", "cell-and-seals"), Stage.DialAndHands],
        ["It goes back unrepaired: no {0}"] = [AStage],
        ["a manager, by changing the kind of work to {0}"] = [new Term("variant", "full-automatic")],
        ["{0}° dial up is under {1}°: offer a service"] = [new Figure(216.5m, "0.#"), new Figure(230, "0.#")],
        ["Version {0} was for another kind of work"] = [12],
        ["A check over {0} days is advised."] = [7],
        // Warranties.
        ["{0} and {1}"] = [Phrase.OfTable("2 years"), Phrase.OfTable("1 month")],
        ["{0} days"] = [23],
        ["{0} weeks"] = [3],
        ["{0} months"] = [24],
        ["{0} years"] = [2],
        ["delivery on {0}"] = [ADay],
        ["hand-over on {0}"] = [ADay],
        ["the last day for collecting it, {0}"] = [ADay],
        ["{0} ± {1}"] = [new Figure(-17, "0"), new Figure(5, "0")],
        ["{0} s/d on the wrist: invite the customer"] = [Phrase.Of("{0} ± {1}", new Figure(-17, "0"), new Figure(5, "0"))],
        ["About {0} s/d, over {1} days."] = [Phrase.Of("{0} ± {1}", new Figure(-17, "0"), new Figure(5, "0")), new Figure(7, "0.#")],
        ["Within the limits it left the house by: {0} to {1} s/d."] = [Figure.Signed(-4), Figure.Signed(10)],
        ["Outside the limits it left the house by: {0} to {1} s/d. An invitation, not by itself a claim."] = [Figure.Signed(-4), Figure.Signed(10)],
        ["Over fewer than {0} days a figure says little."] = [7],
        ["The bench predicted {0} s/d: {1} s/d from it."] = [Figure.Signed(3.5m), Figure.Signed(13.6m)],
        ["Adjusting it is free until {0}."] = [ADay],
        ["The time for a free adjustment ended on {0}."] = [ADay],
        ["presumed delivery on {0}"] = [ADay],
        ["{0} from {1}: {2} is the last day."] = [ASpan, AHandOver, ADay],
        ["{0} from {1}: {2} is the last day, the end of that month."] = [ASpan, AHandOver, ADay],
        ["{0} from {1}, that day counted: {2} is the last day."] = [ASpan, AHandOver, ADay],
        ["{0} from {1}, that day counted: {2} is the last day, the end of that month."] = [ASpan, AHandOver, ADay],
        ["It was ready on {0} and collected on {1}; without that the warranty starts {2} after it was ready."] = [ADay, ADay, ASpan],
        ["It was dispatched on {0}; where nobody proves a later day it counts as delivered {1} later."] = [ADay, ASpan],
        ["Claim {0} was reported on {1}, but the watch came on {2}, more than {3} later: that report covers nothing."] = [2, ADay, ADay, ASpan],
        ["On the day it came claim {0} was no longer in time and adds nothing."] = [2],
        ["For claim {0} the day it came counts."] = [2],
        ["Claim {0} is not decided yet."] = [2],
        ["Claim {0} was not covered and adds nothing."] = [2],
        ["Claim {0} was not covered; done free of charge all the same: {1}, which adds nothing."] = [2, new Term("goodwill", "magnetism-removed")],
        ["Claim {0} was not covered."] = [2],
        ["Claim {0} is covered if the watch arrives by {1}."] = [2, ADay],
        ["Claim {0}, covered"] = [2],
        ["Claim {0}"] = [2],
        ["{0}: here since {1}, which adds nothing until the watch is returned."] = [AClaim, ADay],
        ["{0}: here from {1} to {2}, {3}."] = [AClaim, ADay, ADay, ASpan],
        ["{0}: here from {1} to {2}, both days counted {3}."] = [AClaim, ADay, ADay, ASpan],
        ["{0}: here from {1} to {2}, {3}; less than {4} add nothing."] = [AClaim, ADay, ADay, ASpan, ASpan],
        ["The first covered claim adds {0}, once: the last day is {1}."] = [ASpan, ADay],
        ["A covered claim adds {0}: the last day is {1}."] = [ASpan, ADay],
        ["Covered claims add {0} each, {1} times: the last day is {2}."] = [ASpan, 2, ADay],
        ["With {0} in the house the last day is {1}."] = [ASpan, ADay],
        ["With {0} in the house, each day once, the last day is {1}."] = [ASpan, ADay],
        ["{0} falls on a weekend, so that {1} is the last day."] = [AWeekday, AWeekday],
        ["{0} is a public holiday, so that {1} is the last day."] = [AWeekday, AWeekday],
        ["On {0} the workshop is closed, so that {1} is the last day."] = [AWeekday, AWeekday],
        ["At hand-over the calendar was known through {0}; after it weekdays alone were looked at."] = [ADay],
        ["The work of claim {0}, returned on {1}, has {2} of its own: {3} is later and counts."] = [2, ADay, ASpan, ADay],
        ["The work of claim {0} has {1} of its own, to {2}, which is no later."] = [2, ASpan, ADay],
        ["Under warranty on {0}; the last day is {1}."] = [ADay, ADay],
        ["tested to {0} bar on {1}"] = [new Figure(12.5m, "0.##"), ADay],
        ["The watch came back to us on {0} and is looked at."] = [ADay],
        ["We have had your report since {0}."] = [ADay],
        ["We have your report. The day of your report counts if the watch arrives by {0}."] = [ADay],
        ["Under warranty on {0}, if the watch then arrives by {1}; the last day is {2}."] = [ADay, ADay, ADay],
        ["Not under warranty on {0}: it was handed over on {1}."] = [ADay, ADay],
        ["Not under warranty on {0}: the last day was {1}."] = [ADay, ADay],
        ["Promised only with {0}, which was not done or not passed."] = [Stage.WaterTest],
        ["The warranty starts with delivery on {0}."] = [ADay],
        ["A later day is known already: the warranty starts on {0}."] = [ADay],
        // Hand-offs, the safe, spare parts.
        ["{0} is open on it"] = [AStage],
        ["{0} pieces went with note {1}: count each in"] = [4, "LS-20488"],
        ["{0} is not in the house; it comes on {1}"] = ["stem-tirvalle-41", new LocalDate(2026, 9, 30)],
        ["{0} is not in the house"] = ["stem-tirvalle-41"],
        ["Set aside for {0}"] = ["J8P5NR6C"],
        ["ask first: {0} would then be done on {1}"] = ["J8P5NR6C", new LocalDate(2026, 9, 30)],
        ["None is free: {0} on the shelf, all set aside"] = [12],
        ["it waits for {0}"] = ["stem-tirvalle-41"],
        ["{0} set aside"] = ["stem-tirvalle-41"],
        ["{0} came"] = ["stem-tirvalle-41"],
        ["{0} is the wrong one; still awaited"] = ["stem-tirvalle-41"],
        ["{0} fits"] = ["stem-tirvalle-41"],
        ["{0} does not fit; awaited anew"] = ["stem-tirvalle-41"],
        ["{0} fitted"] = ["stem-tirvalle-41"],
        ["{0} is free again"] = ["stem-tirvalle-41"],
        ["{0} counted, nothing is missing"] = [124],
        ["{0} counted, {1} missing: look before you lock"] = [124, 12],
        ["{0}: {1} {2} declared, the policy covers {3}"] = [Workshop.Core.Insurance.InsuredWhere.OutsideSafe, "120000.00", "CHF", "100000.00"],
        // Labels and scans.
        ["STOP: this label was replaced by {0}"] = ["J8P5NR6C"],
        ["A scan has 1 to {0} codes."] = [4],
        ["{0} has a label of its own"] = [new Term("piece", "dial-and-hands")],
        ["{0} is this watch too"] = ["J8P5NR6C"],
        ["{0} it is now; {1} is void"] = ["J8P5NR6C", "J7K3MQ43"],
        ["{0} names nothing here"] = ["J8P5NR6C"],
        ["{0} was taken out of use"] = ["J8P5NR6C"],
        ["{0}, and {1}: which?"] = [Phrase.Of("{0}: {1}, {2}", "J8P5NR6C", Stage.Diagnosis, "places/desk"), "jonas"],
        ["{0} takes it"] = ["jonas"],
        ["Given to {0}"] = ["jonas"],
        ["Begin {0}"] = [Stage.ReserveAndFunctions],
        ["{0} is done"] = [Stage.ReserveAndFunctions],
        ["{0}: {1}, {2}"] = ["J8P5NR6C", Stage.ReserveAndFunctions, "benches/bench-2"],
        ["{0}: nothing left to do, {1}"] = ["J8P5NR6C", "benches/bench-2"],
        ["Step {0} is told already"] = [new Figure(12.25m, "0.####")],
        ["a number between two steps, such as {0}"] = [new Figure(12.3125m, "0.####")],
        ["First: {0}"] = [new Series([new Term("part", "automatic-bridge"), new Term("part", "reversers")], AnyOne: true)],
        ["Must be put right: {0}"] = ["wall of the barrel scored"],
        ["{0} findings must be put right"] = [12],
        ["Step {0}: {1}"] = [new Figure(12.25m, "0.####"), new Term("part", "chronograph-runner")],
        ["Step {0} kept"] = [new Figure(12.25m, "0.####")],
        ["Finding kept: {0}"] = [Workshop.Core.Notes.Severity.Should],
        ["{0}: {1}"] = [Workshop.Core.Takedown.WatchSystem.PowerAndTrain, Workshop.Core.Takedown.InspectionResult.Rework],
        ["A step is numbered from 1 to {0}, with at most four decimals."] = [9999],
        ["There are at most {0} photos here."] = [20],
        ["This is 1 to {0} characters."] = [400],
    };

    private static Dictionary<string, object[]> PartsFor { get; } = UsualParts.Concat(UsualPartsOfRates).Concat(UsualPartsOfChecks).Concat(UsualPartsForCustomers).ToDictionary();

    public static TheoryData<string> Patterns => [.. Found];

    private static string[] Found { get; } =
        [.. Source().SelectMany(file => Literal().Matches(file.Text).Select(found => found.Groups["pattern"].Value)).Distinct().Order(StringComparer.Ordinal)];

    [Fact]
    public void Every_pattern_stands_in_the_source_as_it_is() => Assert.All(
        Source(), file => Assert.True(Call().Count(file.Text) == Literal().Count(file.Text), $"{file.Name}: Phrase.Of wants its pattern as a literal, so that this test finds it"));

    [Theory, MemberData(nameof(Patterns))]
    public void Each_pattern_is_there_in_German_with_the_same_parts(string pattern)
    {
        var german = GermanPhrases.Of(pattern);

        Assert.True(german is not null, $"'{pattern}' has no German");
        Assert.Equal(PartsOf(pattern), PartsOf(german));
    }

    [Theory, MemberData(nameof(Patterns))]
    public void What_fits_a_line_in_English_fits_it_in_German_too(string pattern)
    {
        Assert.True(PartsOf(pattern).Length == 0 || PartsFor.ContainsKey(pattern), $"'{pattern}' needs usual parts in this test");
        var phrase = PartsFor.TryGetValue(pattern, out var parts) ? With(pattern, parts) : Phrase.OfTable(pattern);

        if (phrase.In(Language.English).Length <= Phrase.LineAtMost)
        {
            Assert.InRange(phrase.In(Language.German).Length, 1, Phrase.LineAtMost);
        }
    }

    [Fact]
    public void The_German_table_holds_nothing_that_nobody_says()
    {
        var said = Found.Concat(GateTable.All.Select(gate => gate.PassesWhen)).ToHashSet();

        // Titles of problems belong to the service, and are looked for in its tests.
        Assert.All(GermanPhrases.All.Where(row => PartsOf(row.Key).Length > 0), row => Assert.Contains(row.Key, said));
    }

    [Fact]
    public void What_each_gate_asks_for_is_there_in_German() => Assert.All(GateTable.All, gate => Assert.NotNull(GermanPhrases.Of(gate.PassesWhen)));

    [Fact]
    public void Words_begin_a_sentence_with_a_capital_and_what_a_person_wrote_stays_as_it_is()
    {
        Assert.Equal("Dial and hands started", Phrase.Of("{0} started", Stage.DialAndHands).ToString());
        Assert.Equal("mara is already at it", Phrase.Of("{0} is already at it", "mara").ToString());
        Assert.Equal("Kept, but casing has lost its ground", Phrase.Of("Kept, but {0} has lost its ground", Stage.Casing).ToString());
    }

    [Fact]
    public void Numbers_days_and_moments_are_written_as_the_language_writes_them()
    {
        var rate = Phrase.Of("Passed: {0}", Phrase.Of("{0} ± {1} s/d", Figure.Signed(7.849m), new Figure(0.9m, "0.####")));
        var day = Phrase.Of("The quote was good through {0}", new LocalDate(2026, 3, 8));
        var moment = Phrase.Of("Read it from {0} on", new LocalDateTime(2026, 3, 8, 15, 5).InUtc());

        Assert.Equal(("Passed: +7.8 ± 0.9 s/d", "Bestanden: +7,8 ± 0,9 s/d"), InBoth(rate));
        Assert.Equal(("The quote was good through 2026-03-08", "Der Kostenvoranschlag galt bis 8. März 2026"), InBoth(day));
        Assert.Equal(("Read it from Sun 8 Mar 15:05 on", "Ablesen ab So 8. März 15:05"), InBoth(moment));
    }

    [Fact]
    public void A_second_piece_of_a_kind_goes_by_its_number_and_an_unknown_word_by_itself()
    {
        Assert.Equal(("Bracelet 2 taken", "Band 2 übernommen"), InBoth(Phrase.Of("{0} taken", new Term("piece", "bracelet-2"))));
        Assert.Equal(("Pocket watch taken", "Pocket watch übernommen"), InBoth(Phrase.Of("{0} taken", new Term("piece", "pocket-watch"))));
    }

    [Fact]
    public void A_line_that_is_too_long_is_cut_where_the_display_ends()
    {
        var line = Phrase.Of("{0} is with {1}", new Term("piece", "movement"), $"firms/{new string('a', 80)}").Line(Language.English);

        Assert.Equal(60, line.Length);
        Assert.EndsWith("…", line);
    }

    private static (string English, string German) InBoth(Phrase phrase) => (phrase.In(Language.English), phrase.In(Language.German));

    private static Phrase With(string pattern, object[] parts) => Phrase.Of(pattern, parts);

    private static string[] PartsOf(string pattern) => [.. Part().Matches(pattern).Select(part => part.Value).Distinct().Order(StringComparer.Ordinal)];

    private static IEnumerable<(string Name, string Text)> Source() => new[] { "Workshop.Core", "Workshop.Service" }
        .SelectMany(project => Directory.EnumerateFiles(Path.Combine(Repository.Root.FullName, "src", project), "*.cs", SearchOption.AllDirectories))
        .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
        .Select(file => (Path.GetFileName(file), File.ReadAllText(file)));

    [GeneratedRegex(@"Phrase\.Of\(")]
    private static partial Regex Call();

    [GeneratedRegex("""Phrase\.Of\(\s*"(?<pattern>[^"\\]*)"[,)]""")]
    private static partial Regex Literal();

    [GeneratedRegex(@"\{[0-9]\}")]
    private static partial Regex Part();
}
