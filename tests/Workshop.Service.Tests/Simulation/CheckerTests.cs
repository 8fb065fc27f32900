using System.Text.Json;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Tests.Simulation.Checkers;

namespace Workshop.Service.Tests.Simulation;

/// <summary>A checker that cannot fail proves nothing: each is shown a history with one thing wrong in it.</summary>
public sealed class CheckerTests(CheckerTests.LivedWorld lived) : IClassFixture<CheckerTests.LivedWorld>
{
    public sealed class LivedWorld : IAsyncLifetime
    {
        internal World World { get; private set; } = null!;

        // A history in which something of everything came about can be bent in every way.
        public async Task InitializeAsync()
        {
            for (var seed = 3; ; seed++)
            {
                World = await World.Live(seed);
                if (seed == 40 || HasSomethingOfEverything())
                {
                    return;
                }

                await World.DisposeAsync();
            }
        }

        private bool HasSomethingOfEverything()
        {
            using var evidence = World.Evidence();
            var types = evidence.Jobs.SelectMany(job => job.Entries).Where(entry => entry.Counts).Select(entry => entry.Event.Type).ToHashSet(StringComparer.Ordinal);
            return new[] { "group.washed", "group.hand-cleaned", "cage.emptied", "due.announced" }.All(types.Contains)
                && evidence.Rows<string>("select thing from holding where site = @site and thing like 'cages/%' group by thing having min(coalesce(until_at, -1)) > 0").Any();
        }

        public async Task DisposeAsync() => await World.DisposeAsync();
    }

    [Fact]
    public void A_history_that_nobody_touched_is_found_true()
    {
        using var evidence = lived.World.Evidence();
        Assert.Empty(Checkers.Checkers.FaultsIn(evidence));
    }

    [Theory]
    [InlineData("update journal set data = data || ' ' where position = (select max(position) from journal)")]
    [InlineData("update job set version = version + 1 where label = (select min(label) from job)")]
    public void A_changed_entry_or_a_row_that_does_not_follow_is_found(string wrong) => Finds<ChainIsWholeAndRefoldEqualsStored>(wrong);

    [Theory]
    [InlineData("update holding set from_at = from_at - 1 where until_at is null and exists (select 1 from holding before where before.thing = holding.thing and before.until_at > before.from_at)")]
    [InlineData("update holding set until_at = until_at + 1 where until_at > from_at")]
    [InlineData("update holding set until_at = from_at where until_at is null")]
    [InlineData("delete from holding where until_at is null")]
    public void A_piece_in_two_hands_or_in_none_is_found(string wrong) => Finds<EveryPieceHasOneHolderAtEveryInstant>(wrong);

    [Theory]
    [InlineData("insert into holding (site, thing, opened_by_source, opened_by_id, job, piece, run, holder, from_at, until_at) select site, thing, opened_by_source, 'another', 'J2222225', piece, run, holder, from_at, from_at + 1 from holding where thing like 'cages/%' limit 1")]
    [InlineData("update holding set until_at = from_at - 1 where thing like 'cages/%'")]
    [InlineData("update holding set run = null where thing like 'cages/%'")]
    public void A_cage_with_two_groups_or_for_no_run_is_found(string wrong) => Finds<NoCageHoldsTwoGroups>(wrong);

    [Theory]
    [InlineData("delete from journal where type = 'group.washed' and position = (select max(position) from journal where type = 'group.washed')")]
    [InlineData("update journal set caused_by_id = 'another' where type = 'group.washed'")]
    public void A_wash_that_a_job_was_not_told_of_or_that_came_of_nothing_is_found(string wrong) => Finds<WhatARunDidIsInEveryJob>(wrong);

    [Theory]
    [InlineData("insert into journal select site, position + 100000, stream, stream_version + 100000, source, id || '/again', sequence, device_time, received, effective, order_source, order_sequence, person, type, schema, data, salt, digest, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, hash from journal where type = 'due.announced' and stream like 'job/%' limit 1")]
    [InlineData("update journal set received = received - 864000000000 where type = 'due.announced'")]
    public void What_is_said_twice_or_before_its_moment_is_found(string wrong) => Finds<NothingIsAnnouncedTwiceOrEarly>(wrong);

    [Theory]
    [InlineData("delete from received where state = 'refused'")]
    [InlineData("update received set state = 'refused' where position = (select max(position) from received)")]
    [InlineData("update journal set flags = 'late' where flags = '' and sequence is not null")]
    [InlineData("update journal set disposition = 'noted' where sequence is not null")]
    [InlineData("update journal set data = '{\"stage\":\"casing\"}' where sequence is not null")]
    [InlineData("update journal set id = id || '-other' where position = (select max(position) from journal where sequence is not null)")]
    public void What_was_acknowledged_and_is_gone_or_was_never_said_is_found(string wrong) => Finds<WhatWasAcknowledgedIsThereOnce>(wrong);

    [Fact]
    public void Verdicts_with_a_number_missing_are_found() => Finds<OneEventHasOneVerdict>("update received set outcome = outcome + 1 where outcome is not null");

    [Theory]
    [InlineData("""{"outcome":"accepted","version":3,"flags":[]}""", """{"outcome":"replayed","first":"noted","version":3,"flags":[]}""")]
    [InlineData("""{"outcome":"accepted","version":3,"flags":[]}""", """{"outcome":"replayed","first":"accepted","version":3,"flags":["late"]}""")]
    [InlineData("""{"outcome":"accepted","version":3,"flags":[]}""", """{"outcome":"accepted","version":3,"flags":[]}""")]
    [InlineData("""{"outcome":"accepted","version":3,"flags":[]}""", """{"outcome":"held","flags":[]}""")]
    [InlineData("""{"status":409,"code":"hold","detail":"held"}""", """{"status":409,"code":"hold","detail":"held"}""")]
    [InlineData("""{"status":409,"code":"hold","detail":"held"}""", """{"status":409,"code":"needs","detail":"held","replayed":true}""")]
    public void A_second_verdict_is_found(string first, string second)
    {
        var told = new VerdictBook();
        var id = new EventId("/devices/bench-1/1", "e-1");
        told.Hear(id, JsonElement.Parse(first));
        Assert.Empty(told.Contradictions);

        told.Hear(id, JsonElement.Parse(second));

        Assert.NotEmpty(told.Contradictions);
    }

    // Folding is honest and would call such a result ground-lost: so a folded job is bent.
    [Fact]
    public void A_result_whose_ground_has_fallen_is_found()
    {
        using var evidence = lived.World.Evidence();
        var bent = 0;
        foreach (var (label, entries) in evidence.Jobs)
        {
            var job = Job.Replay(label, entries);
            var byId = entries.ToDictionary(entry => entry.Id);
            foreach (var (stage, standing) in job.Standings.Touched)
            {
                if (standing.State != StageState.Done || !job.Standings.Stands(Stage.Takedown) || !job.Route!.GroundOf(stage).Contains(Stage.Takedown)
                    || byId[standing.By!.Value].Judged.Passing.Contains("needs/takedown"))
                {
                    continue;
                }

                var fallen = job.Standings.Touched.SetItem(Stage.Takedown, new Standing { State = StageState.Void });
                Assert.NotEmpty(NoResultStandsWithoutItsGround.FaultsOf(job with { Standings = job.Standings with { Touched = fallen } }, byId));
                bent++;
            }
        }

        Assert.True(bent > 0, "No job had come so far.");
    }

    [Fact]
    public void Times_against_the_numbers_are_found() =>
        Finds<TimesNeverRunAgainstNumbers>("update journal set effective = 0 where position = (select max(position) from journal where sequence > 3 and order_sequence = sequence)");

    [Theory]
    [InlineData("update agenda set wake = coalesce(wake, 0) + 1")]
    [InlineData("delete from agenda")]
    [InlineData("insert into agenda (site, stream, kind, ref, due, task, wake, level, line) select site, stream, 'promise', 'other', due, task, wake, level, line from agenda where stream like 'job/%' limit 1")]
    public void An_agenda_of_its_own_is_found(string wrong) => Finds<AgendaFollowsFromTheJobs>(wrong);

    [Theory]
    [InlineData("update job set document = replace(document, '\"hand-cleaned\"', '\"washed\"')")]
    [InlineData("delete from journal where type = 'group.hand-cleaned'")]
    [InlineData("update journal set disposition = 'noted' where type = 'group.hand-cleaned'")]
    public void A_group_that_ended_in_two_ways_is_found(string wrong) => Finds<EveryGroupEndsInOneWay>(wrong);

    [Fact]
    public void What_waits_for_ever_is_found() => Finds<NothingWaitsForEver>("update received set state = 'held' where position = (select max(position) from received)");

    private void Finds<T>(string wrong)
        where T : IChecker, new()
    {
        using var broken = BentWorld.Of(lived.World, wrong);
        using var evidence = broken.Evidence();
        Assert.NotEmpty(new T().FaultsIn(evidence));
    }
}
