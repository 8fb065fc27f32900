-- Addresses under which a customer sees one job, known by the hash of their token alone; who tried at the second factor in vain; and
-- which photos customers may see.

create table public_link (
    site text not null,
    id text not null,
    hash blob not null unique,
    job text not null,
    view text not null check (view in ('status', 'status-and-amounts', 'decide')),
    created integer not null,
    source text not null,
    revoked integer,
    primary key (site, id)
) strict, without rowid;

create index public_link_job on public_link (site, job, created);

create table public_try (
    site text not null,
    link text not null,
    day text not null,
    tries integer not null,
    primary key (site, link, day)
) strict, without rowid;

alter table photo add column for_customer integer not null default 0;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('public_link', 'public_link', '100000 100000 1'),
    ('public_link', 'sqlite_autoindex_public_link_1', '100000 1'),
    ('public_link', 'public_link_job', '100000 100000 2 1'),
    ('public_try', 'public_try', '100 100 1 1');
