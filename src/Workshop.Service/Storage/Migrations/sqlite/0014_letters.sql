-- The people round a watch by customer, where a job names others than the customer of its intake; addresses over time and ways that
-- lead nowhere stand with the customer.

alter table customer add column addresses text not null default '[]';
alter table customer add column unreachable text not null default '[]';

create table job_party (
    site text not null,
    customer text not null,
    job text not null,
    primary key (site, customer, job)
) strict, without rowid;

create index job_party_job on job_party (site, job);

-- One row for each thing that was, is being or was not said to somebody; several of one day go in one letter. Never the words of a letter.
create table letter (
    site text not null,
    id text not null,
    letter text not null,
    job text not null,
    moment text not null,
    occasion text not null,
    customer text not null,
    speaker text not null check (speaker in ('workshop', 'storefront')),
    state text not null check (state in ('wanted', 'sending', 'said', 'dropped', 'returned')),
    reason text,
    day text not null,
    wanted_at integer not null,
    attempts integer not null,
    next_attempt integer,
    said_at integer,
    primary key (site, id)
) strict, without rowid;

create index letter_job on letter (site, job);
create index letter_day on letter (site, customer, day);
create index letter_together on letter (site, letter);
create index letter_next on letter (site, next_attempt) where next_attempt is not null;

-- When a job is next looked at for letters; how far the journal was read for it.
create table letter_look (
    site text not null,
    job text not null,
    look_at integer not null,
    primary key (site, job)
) strict, without rowid;

create index letter_look_at on letter_look (site, look_at);

create table letter_reading (
    site text not null primary key,
    position integer not null
) strict, without rowid;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('job_party', 'job_party', '2000 2000 2 1'),
    ('job_party', 'job_party_job', '2000 2000 2'),
    ('letter', 'letter', '40000 40000 1'),
    ('letter', 'letter_job', '40000 40000 8'),
    ('letter', 'letter_day', '40000 40000 10 2'),
    ('letter', 'letter_together', '40000 40000 2'),
    ('letter', 'letter_next', '20 20 1'),
    ('letter_look', 'letter_look', '8000 8000 1'),
    ('letter_look', 'letter_look_at', '8000 8000 2');
