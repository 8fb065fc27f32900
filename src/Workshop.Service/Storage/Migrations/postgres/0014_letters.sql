-- The people round a watch by customer, where a job names others than the customer of its intake; addresses over time and ways that
-- lead nowhere stand with the customer.

alter table customer add column addresses text collate "C" not null default '[]';
alter table customer add column unreachable text collate "C" not null default '[]';

create table job_party (
    site text collate "C" not null,
    customer text collate "C" not null,
    job text collate "C" not null,
    primary key (site, customer, job)
);

create index job_party_job on job_party (site, job);

-- One row for each thing that was, is being or was not said to somebody; several of one day go in one letter. Never the words of a letter.
create table letter (
    site text collate "C" not null,
    id text collate "C" not null,
    letter text collate "C" not null,
    job text collate "C" not null,
    moment text collate "C" not null,
    occasion text collate "C" not null,
    customer text collate "C" not null,
    speaker text collate "C" not null check (speaker in ('workshop', 'storefront')),
    state text collate "C" not null check (state in ('wanted', 'sending', 'said', 'dropped', 'returned')),
    reason text collate "C",
    day text collate "C" not null,
    wanted_at bigint not null,
    attempts bigint not null,
    next_attempt bigint,
    said_at bigint,
    primary key (site, id)
);

create index letter_job on letter (site, job);
create index letter_day on letter (site, customer, day);
create index letter_together on letter (site, letter);
create index letter_next on letter (site, next_attempt) where next_attempt is not null;

-- When a job is next looked at for letters; how far the journal was read for it.
create table letter_look (
    site text collate "C" not null,
    job text collate "C" not null,
    look_at bigint not null,
    primary key (site, job)
);

create index letter_look_at on letter_look (site, look_at);

create table letter_reading (
    site text collate "C" not null primary key,
    position bigint not null
);
