-- Runs of the cleaning machines, folded from their streams "run/<id>": what lists and the question "is the machine free" are answered from.
-- The cages of a job are things in "holding", with their run.

create table cleaning_run (
    site text not null,
    id text not null,
    version integer not null,
    state text not null check (state in ('planned', 'running', 'finished', 'aborted')),
    machine text,
    programme text,
    planned_at integer not null,
    started_at integer,
    ended_at integer,
    primary key (site, id)
) strict, without rowid;

create index cleaning_run_planned on cleaning_run (site, planned_at, id);
create index cleaning_run_going on cleaning_run (site, machine) where state = 'running';

insert into sqlite_stat1 (tbl, idx, stat) values
    ('cleaning_run', 'cleaning_run', '20000 20000 1'),
    ('cleaning_run', 'cleaning_run_planned', '20000 20000 1 1'),
    ('cleaning_run', 'cleaning_run_going', '10 10 2');
