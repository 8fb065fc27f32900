using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Gates;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Refusals;

/// <summary>What gates refuse: all 409, each family with a code of its own.</summary>
public static class GateProblems
{
    /// <summary>One row for each family.</summary>
    public static IReadOnlyList<ProblemKind> All { get; } =
    [
        Gate("needs", "A stage that this one rests on is not done",
            "Finish the stage the answer names first; where the gate asks, a new event with 'despite' goes on; a manager can waive it."),
        Gate("in-route", "This kind of work has no such stage",
            "Change the kind of work first, or choose a stage of the job's route."),
        Gate("not-yet-sent-back", "The stage is done",
            "Send it back first if it is to be done again."),
        Gate("nobody-else-at-it", "Somebody else is at this stage",
            "Ask them; a new event with 'despite' goes on, and both names are kept."),
        Gate("hold", "The job is on hold",
            "Lift the hold the answer names; it says who may."),
        Gate("intake", "Something that should be known since intake is missing",
            "Add it to the intake part of the job; a manager can waive it."),
        Gate("polish-confirmed", "The polish was not confirmed",
            "Ask the customer once more and send 'polish.confirmed'; a manager can waive it."),
        Gate("fixed-date", "The day it is needed by can hardly be kept",
            "Say so to the customer now; the same again with 'despite' takes the watch in all the same."),
        Gate("handed-over", "The watch is no longer in the house",
            "Take it in again first."),
        Gate("person-named", "Nobody is named",
            "Scan a badge and send the event anew with 'person'."),
        Gate("proof", "The person has not proved who they are",
            "Send a new event with the person's own number as 'proof', or say it from a manager's device."),
        Gate("proof-locked", "A wrong number was told too often",
            "Wait a quarter of an hour, or say it from a manager's device; a manager can give out a new number."),
        Gate("rate-set-since-touch", "No rates were taken since the last change",
            "Record a rate set; a new event with 'despite' goes on."),
        Gate("takedown-order", "Something comes out first",
            "Tell the step the answer names first, with a lower number; where the gate asks, a new event with 'despite' goes on; a manager can waive it."),
        Gate("takedown-step-free", "Another step has this number",
            "Take a number between its neighbours, such as 3.5; 'next' names the one behind the last. A manager can waive it."),
        Gate("let-down", "The mainspring was not let down",
            "Let it down and send 'takedown.let-down'; a manager can waive it."),
        Gate("must-findings", "Something that must be put right is still open",
            "Put it right and send 'inspection.recorded' with 'ok', or a new event with 'despite'; the answer names what is open."),
        Gate("three-numbers", "The numbers do not belong together",
            "Stop: this may be another watch. Compare label, case and movement; a manager clears the mix-up."),
        Gate("pieces-together", "Parts of this watch are elsewhere",
            "Bring the pieces the answer names together first; a manager can waive it."),
        Gate("piece-by-piece", "Several pieces came back at once",
            "Count each in by itself; a new event with 'despite' takes them all at once."),
        Gate("essential-parts", "A part that the work needs is not in the house",
            "Wait for the part the answer names; a new event with 'despite' goes on; a manager can waive it."),
        Gate("part-free", "No such part is free",
            "Order one, or count the shelf; where the gate asks, a new event with 'despite' goes on."),
        Gate("reserved-for", "The part is set aside for another watch",
            "Ask whoever waits for it; a new event with 'despite' takes it, and the other watch is then done on the later day the answer names."),
        Gate("held-by", "Somebody else has it",
            "Get it from the holder the answer names."),
        Gate("fully-wound", "Nobody said that the watch was fully wound",
            "Wind it fully and send the event anew with 'fullyWound': true."),
        Gate("offset-noted", "The difference at the start is missing",
            "Compare with the reference and send the event anew with 'offsetSeconds'."),
        Gate("one-check", "A check of this kind is running",
            "Read or end the running one first."),
        Gate("check-running", "No check of this kind is running",
            "Start one first."),
        Gate("cause-written", "The watch had stopped and nobody wrote down why",
            "Record a finding or finish a diagnosis first; a manager can waive it."),
        Gate("repeats-decided", "Three checks have failed",
            "A manager decides how it goes on: sent back, or a waiver."),
        Gate("second-watchmaker", "Two checks have failed in the same hands",
            "Let a second watchmaker look and start it; a new event with 'despite' goes on."),
        Gate("chronograph-running", "The chronograph is running",
            "Stop it and start the check anew; a new event with 'despite' goes on."),
        Gate("static-start", "Nobody would be there to measure it again",
            "Start when the answer says; a manager can waive it."),
        Gate("sets-to-compare", "Two sets of the same positions are missing",
            "Record the set the answer names, then read the check."),
        Gate("winder-place-taken", "Another watch is worn at this place of the winder",
            "Take another place; a new event with 'despite' goes on."),
        Gate("looks-wrong", "The rate passes, but the watch does not look right",
            "Put hands or case right first; a new event with 'despite' passes it."),
        Gate("invalid-window", "A static check was read outside its window",
            "Start a fresh one; its reading is neither pass nor fail, and no rule changes that."),
        Gate("wear-for-a-pass", "There is too little wear for a pass",
            "Leave it on; the reading is kept as interim, and no rule changes that."),
        Gate("rate-of-a-stopped-watch", "A watch that stopped has no rate",
            "Find the cause, then start a fresh check; no rule changes that."),
        Gate("no-regulation-over-a-fault", "The last rate is too far out for regulation",
            "Look for the cause first; a new event with 'despite' goes on."),
        Gate("second-person", "Final control needs a second person",
            "Somebody who did not rebuild this watch controls it; a manager can waive it."),
        Gate("checks-complete", "Checks are missing from the final control",
            "Give a result for every check the answer names; an exception names a manager."),
        Gate("account-settled", "Something is still to be paid",
            "Write the payment down, or put the job on account; where the gate asks, a new event with 'despite' goes on; a manager can waive it."),
        Gate("deposit", "The deposit that was agreed has not come",
            "Write the payment down, or put the job on account; where the money is kept elsewhere, a new event with 'despite' says that it has come; a manager can waive it."),
        Gate("pieces-home", "Not everything that belongs to this watch is here",
            "Bring the pieces the answer names home; a new event with 'despite' goes on."),
        Gate("finished-by-result", "This stage is ended by its result",
            "Send the event the answer names."),
        Gate("label-replaced", "This label was replaced",
            "Stop: look for the watch's new label, which the answer names; the old one may lie on another watch. A manager clears it."),
        Gate("label-not-of-job", "This label was never this job's",
            "Name a label of this job."),
        Gate("label-taken", "This label is on something else",
            "Take a label that is still blank."),
        Gate("piece-unknown", "This job has no such piece",
            "Name a piece as the job lists it."),
        Gate("corrected-already", "Something newer stands in its place, or it is void",
            "Name the entry in newest, or say it anew where that is void."),
        Gate("not-yours-to-correct", "A manager corrects that",
            "Whoever said it corrects it within five minutes of its time; after that, and for others, a manager does."),
        Gate("needed-later", "Later entries rest on it",
            "Correct those in entries[] first, in the order given."),
        Gate("nothing-to-settle", "Nothing waits to be settled there",
            "Read the job's reviews; what was settled once stays so."),
        Gate("movement-together", "The movement is in parts",
            "Finish the rebuild first, or choose a kind of work that has it; where the gate asks, a new event with 'despite' goes on; a manager can waive it."),
        Gate("amplitude-for-regulation", "The amplitude is too low to regulate",
            "Offer the kind of work the answer names: a low amplitude is a dry or worn movement; a manager can waive it."),
        Gate("quote-superseded", "There is a newer quote",
            "Show the newest version to whoever decides and send their answer to that."),
        Gate("groups-declared", "Groups of parts are not declared",
            "Declare the groups the answer names, or send 'group.not-washed' with the reason not-fitted; a manager can waive it."),
        Gate("count-written", "Parts were not counted",
            "Count the parts of the groups the answer names; where the gate asks, a new event with 'despite' goes on; a manager can waive it."),
        Gate("groups-ended", "Groups of parts are not cleaned yet",
            "Wash the groups the answer names, clean them by hand, or say why they are not washed; a manager can waive it."),
        Gate("counts-agree", "Fewer parts were in cages than were declared",
            "Count the parts again; a new event with 'despite' goes on."),
        Gate("cages-not-empty", "Cages of this watch were not scanned empty",
            "Empty the cages the answer names and scan them; a new event with 'despite' goes on."),
        Gate("groups-accounted", "Not all that came apart is accounted for",
            "Count the parts of the group the answer names, or say what became of it; a manager can waive it."),
        Gate("group-ended-already", "The group has ended otherwise, or is in a run",
            "Wait for the run, or send 'group.reopened' with the reason first."),
        Gate("group-unknown", "Nobody has declared this group",
            "Declare the group, or read its name again; a new event with 'despite' goes on."),
        Gate("group-not-ended", "The group is not cleaned yet",
            "Say first how it was cleaned; a new event with 'despite' goes on."),
        Gate("cage-unknown", "The shop has no such cage",
            "Read the number on the cage again; a new event with 'despite' goes on."),
        Gate("cage-not-free", "The cage holds other parts",
            "Take another cage, or scan this one empty under the watch the answer names; two watches never share a cage."),
        Gate("cage-not-loaded", "The cage holds nothing of this watch",
            "Look whose parts these are; where it holds nothing at all, a new event with 'despite' goes on."),
        Gate("never-washed", "Such parts are never washed",
            "Do what the answer names instead; nobody can let it through."),
        Gate("other-machine", "Parts of a case do not go into a machine for movements",
            "Wash them in a machine for cases; nobody can let it through."),
        Gate("never-in-jar", "A jar would spoil the parts for good",
            "Choose the programme or machine the answer names; nobody can let it through."),
        Gate("unfit-for-jar", "The parts do not bear this programme",
            "Choose the programme or machine the answer names; a manager who starts the run goes on with 'despite'."),
        Gate("jar-unsure", "Nobody knows whether the parts bear it",
            "Look, and decide; a new event with 'despite' goes on."),
        Gate("run-not-open", "The run takes no more",
            "Load the cage for a new run, under a new UUID."),
        Gate("run-not-started", "Nobody has started the run",
            "Tell its start first, with machine and programme."),
        Gate("run-going-on", "The run is still going on",
            "Finish it, or say that it was aborted; a new event with 'despite' goes on."),
        Gate("run-empty", "No cage was loaded for the run",
            "Scan the cages first; a new event with 'despite' goes on."),
        Gate("programme-unfit", "The machine has not every jar of the programme",
            "Choose another programme or another machine."),
        Gate("machine-busy", "Another run is going on in the machine",
            "Tell the end of the run the answer names; a new event with 'despite' goes on."),
        Gate("machine-full", "There are more cages than places",
            "Load some of them for a new run."),
        Gate("own-run", "Rusty parts have a run of their own",
            "Load it for a new run; a manager can waive it."),
        Gate("open-cage", "A cage without a lid shares no run",
            "Take a cage with a lid, or a run of its own; nobody can let it through."),
        Gate("two-jobs-in-run", "Another watch is in the run",
            "Load it for a new run; a manager can waive it."),
        Gate("same-calibre", "Another watch of the same calibre is in the run",
            "Load it for another run; a manager can waive it for one watch, with a reason."),
        Gate("calibre-unknown", "The calibres are not all written down",
            "Look at both movements and write the calibre down; a new event with 'despite' goes on."),
        Gate("fluid-used-up", "A fluid is used up",
            "Fill the jar afresh; somebody may let it through once for each filling, by name and with 'despite'."),
        Gate("quote-expired", "The quote is no longer valid",
            "Send a new version."),
        Gate("no-promise-yet", "No date was promised yet",
            "An accepted quote gives the first date; there is none to move before that."),
        Gate("promise-moved-often", "The promised date was moved often already",
            "Say a date that will hold, and move with 'despite' where that is meant."),
        Gate("trial-day-told", "That day of the trial has another figure",
            "Send it anew with 'insteadOf' naming the first entry, where that was wrong; a day has one figure."),
    ];

    /// <summary>The kind of problem a gate's refusal is.</summary>
    /// <exception cref="InvalidOperationException">A gate was added without its row above.</exception>
    public static ProblemKind Of(Objection objection) =>
        ProblemCatalogue.Find(objection.Code)
        ?? throw new InvalidOperationException($"The gate {objection.Gate} has the code '{objection.Code}', which no problem has.");

    /// <summary>What stands against an event or a command, the strongest first; its code is the problem's.</summary>
    /// <param name="language">Of all but the title, which is the same for every problem of the kind.</param>
    public static ProblemDetails Details(ImmutableArray<Objection> against, Language language = Language.English)
    {
        var first = against[0];
        var problem = Problems.Details(
            Of(first), $"{first.Line.Line(language)}.", ("gate", first.Gate), ("strength", first.Strength), ("helps", first.Helps.In(language)),
            ("against", against.Select(one => AgainstView.Of(one, language)).ToArray()));
        foreach (var (name, value) in first.Names)
        {
            problem.Extensions.TryAdd(name, value);
        }

        if (first is { Code: "corrected-already", Entries: [var newest, ..] })
        {
            problem.Extensions["newest"] = newest;
        }
        else if (!first.Entries.IsEmpty)
        {
            problem.Extensions["entries"] = first.Entries.ToArray();
        }

        return problem;
    }

    private static ProblemKind Gate(string code, string title, string remedy) => new(code, 409, title, remedy);
}
