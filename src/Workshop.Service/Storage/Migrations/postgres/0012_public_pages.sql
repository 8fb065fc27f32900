-- Addresses under which a customer sees one job, known by the hash of their token alone; who tried at the second factor in vain; and
-- which photos customers may see.

create table public_link (
    site text collate "C" not null,
    id text collate "C" not null,
    hash bytea not null unique,
    job text collate "C" not null,
    view text collate "C" not null check (view in ('status', 'status-and-amounts', 'decide')),
    created bigint not null,
    source text collate "C" not null,
    revoked bigint,
    primary key (site, id)
);

create index public_link_job on public_link (site, job, created);

create table public_try (
    site text collate "C" not null,
    link text collate "C" not null,
    day text collate "C" not null,
    tries bigint not null,
    primary key (site, link, day)
);

alter table photo add column for_customer bigint not null default 0;
