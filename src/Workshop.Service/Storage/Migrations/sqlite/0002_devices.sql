-- What is remembered of every source besides its next number: how far its clock is off, which numbers nobody waits for, how many
-- verdicts were given after an event had been held.

-- Counts every commit: an instance sees by it that another one wrote, also where that brought no entry.
alter table site add column turns integer not null default 0;

alter table source add column clock_error integer;
alter table source add column not_awaited text not null default '';
alter table source add column judged_until integer;
alter table source add column outcomes integer not null default 0;

alter table received add column language text;
alter table received add column outcome integer;

create index received_waiting on received (site, source, sequence) where state = 'held';
create index received_outcome on received (site, source, outcome) where outcome is not null;
create index received_to_look_at on received (site, state, received, source, id) where state <> 'accepted';
create index journal_sequence on journal (site, source, sequence) where sequence is not null;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('journal', 'journal_sequence', '200000 200000 5000 1'),
    ('received', 'received_outcome', '1000 1000 50 1'),
    ('received', 'received_to_look_at', '2000 2000 1000 2 1 1'),
    ('received', 'received_waiting', '10 10 2 1');
