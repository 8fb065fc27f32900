-- Runs of the cleaning machines, folded from their streams "run/<id>": what lists and the question "is the machine free" are answered from.
-- The cages of a job are things in "holding", with their run.

create table cleaning_run (
    site text collate "C" not null,
    id text collate "C" not null,
    version bigint not null,
    state text collate "C" not null check (state in ('planned', 'running', 'finished', 'aborted')),
    machine text collate "C",
    programme text collate "C",
    planned_at bigint not null,
    started_at bigint,
    ended_at bigint,
    primary key (site, id)
);

create index cleaning_run_planned on cleaning_run (site, planned_at, id);
create index cleaning_run_going on cleaning_run (site, machine) where state = 'running';
