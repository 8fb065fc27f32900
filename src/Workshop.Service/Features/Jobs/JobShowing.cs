using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Hazards;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Jobs;

/// <summary>Builds what is shown of a job, field by field; whoever may not see a thing gets a view without it.</summary>
public static class JobShowing
{
    public static JobView Of(JobReading read, ShopRules rules, Instant now, Caller caller, Language language)
    {
        var job = read.Job;
        var sheet = IntakeSheet.Read(read.Intake.Text);
        var names = caller.MaySee(Sight.Names);
        var amounts = caller.MaySee(Sight.Amounts);
        return new JobView
        {
            Label = job.Label,
            Version = job.Version,
            Variant = job.Intake.Variant,
            TakenInAt = job.Intake.TakenInAt,
            Statement = job.Route?.Statement?.In(language),
            WarrantyOf = job.Intake.WarrantyOf,
            Adopted = job.Intake.Adopted is { } adopted ? new AdoptedView(adopted.TakenInOn, adopted.At, adopted.OwnNumber, amounts ? adopted.QuotedMinor : null) : null,
            Stage = job.Standings.Current,
            Branches = BranchesOf(job),
            Stages = [.. job.Standings.Plan.Select(planned => StageOf(job, planned))],
            AllowedNext = NextOf(job, rules, now, caller, language),
            Holds = [.. job.Holds.Standing.Select(hold => HoldOf(hold, caller.Role))],
            Waivers = [.. job.Waivers.OpenAt(now).Select(one => new WaiverView(one.Gate, one.GivenBy, one.Reason, one.From, one.UsableUntil))],
            Pieces = [.. job.Pieces.Pieces.Select(one => PieceView.Of(one))],
            Parts = JobPartView.Of(job.Parts),
            Case = new CaseView(job.Case.Closed, job.Case.Since, job.Case.CaseSerial, job.Case.MovementNumber),
            Promise = PromiseOf(job, rules, now, language),
            WearCheck = WearCheckView.Of(job.WearChecks, rules.Calendar),
            RateSet = job.Timekeeping.RateSets is [.., var set]
                ? new RateSetFiguresView(set.At, set.Figures.Positions.Length, Shown(set.Figures.MeanPerDaySeconds), Shown(set.Figures.SpreadPerDaySeconds))
                : null,
            WaterTest = job.WaterTests.Tests is [.., var test] ? new WaterTestView(test.At, Word.Of(test.Method), test.PressureBar, test.Passed) : null,
            GroundLost = [.. job.Standings.GroundLost.Select(lost => new GroundLostView(lost.Stage, lost.Since, lost.Because is { } by ? EntryRef.Of(by) : null, lost.Urgent))],
            Reviews = [.. job.Reviews.Select(one => new ReviewView(EntryRef.Of(one.Id), one.Type, one.At, one.Person, LegalHolds.Gates(one.Failed, caller.Role)))],
            Missing = read.Customer?.SaidHowToWrite == true ? job.Intake.Missing.RemoveAll(one => one.Member == IntakeMember.Consents) : job.Intake.Missing,
            Cautions = Hazard.Cautions(job.Intake.Hazards, language),
            Condition = sheet.Members.Condition,
            ConditionGrid = sheet.Members.ConditionGrid,
            Arrival = sheet.Members.Arrival,
            Wishes = sheet.Members.Wishes,
            Watch = read.Watch is { } watch ? WatchView.Of(watch) : null,
            Customer = names && read.Customer is { } customer ? CustomerView.Of(customer) : null,
            Intake = names && amounts ? IntakeView.Of(sheet, read.Intake.Version) : null,
            Quote = job.Quotes.Newest is { } quote
                ? new QuoteSummary(quote.Version, quote.SentAt, quote.ValidThrough, quote.WorkingDays, quote.Accepted, quote.AnsweredAt, amounts ? quote.TotalMinor : null, amounts ? quote.Currency : null)
                : null,
            Warranty = [.. job.Warranty.Lines.Select(line => new WarrantySummary(line.Line, line.HandedOverOn, line.LastDay))],
            Links = JobLinks.Of(job.Label),
        };
    }

    private static ImmutableArray<BranchView> BranchesOf(Job job)
    {
        var branches = ImmutableArray.CreateBuilder<BranchView>();
        foreach (var branch in job.Standings.Required.GroupBy(planned => planned.Branch))
        {
            var stages = branch.Select(planned => planned.Stage).ToArray();
            var open = Array.FindIndex(stages, stage => !job.Standings.Stands(stage));
            var at = open < 0 ? stages.Length - 1 : open;
            var standing = job.Standings.Of(stages[at]);

            // An untouched stage waits since the one before it was done.
            var since = standing.Since ?? stages.Take(at).Select(stage => job.Standings.Of(stage).Since).LastOrDefault(moment => moment is not null) ?? job.Intake.TakenInAt;
            branches.Add(new BranchView(branch.Key, stages[at], standing.State, since, HolderOf(job, branch.Key)));
        }

        return branches.ToImmutable();
    }

    private static string? HolderOf(Job job, Branch branch)
    {
        var kind = branch == Branch.Case ? PieceKind.Case : PieceKind.Movement;
        return job.Pieces.Pieces.FirstOrDefault(piece => piece.Kind == kind)?.Holder;
    }

    private static StageView StageOf(Job job, RouteStage planned)
    {
        var standing = job.Standings.Of(planned.Stage);
        return new StageView(
            planned.Stage, planned.Branch, standing.State, standing.Since,
            [.. standing.State == StageState.Running ? standing.At : standing.Hands],
            standing.By is { } by ? EntryRef.Of(by) : null,
            standing.Missing.IsEmpty ? null : standing.Missing,
            planned.Optional, planned.Minutes);
    }

    private static ImmutableArray<NextStepView> NextOf(Job job, ShopRules rules, Instant now, Caller caller, Language language) =>
    [
        .. NextSteps.Of(job, rules, now, Word.Of(caller.Role))
            .Select(step => new NextStepView(step.Stage, step.Starts, step.Finishes, [.. step.Against.Select(one => AgainstView.Of(one, language))])),
    ];

    private static HoldView HoldOf(Hold hold, Role role)
    {
        var hidden = hold.Reason == HoldReason.Legal && !LegalHolds.Shown(role);
        return new HoldView(LegalHolds.Word(hold.Reason, role), hold.From, hold.StopsPromise, hidden ? null : hold.Text, hidden ? null : hold.LookAgainOn);
    }

    private static PromiseView PromiseOf(Job job, ShopRules rules, Instant now, Language language)
    {
        var promise = job.Promise;
        var counted = promise.Given is { BeforeOurRecords: true } ? null : promise.Given;
        return new PromiseView(
            promise.On, promise.Target, counted?.ApprovedOn, counted?.WorkingDays, promise.StoppedWorkingDays,
            [.. promise.History.Select(said => new SaidDateView(said.On, said.SaidAt, said.Reason is { } reason ? Word.Of(reason) : null))],
            PromiseForecast.Of(job, rules)?.On(rules.Calendar.DateOf(now)),
            AtRiskView.Of(job, rules, now, language));
    }

    private static decimal Shown(decimal ratePerDaySeconds) => Math.Round(ratePerDaySeconds, 1, MidpointRounding.AwayFromZero);
}
