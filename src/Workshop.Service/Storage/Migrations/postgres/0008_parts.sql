-- Spare parts and orders of parts, version by version: kind 'part' or 'part-order'. They change daily and no rule of the shop stands in
-- them, so that they are no documents of the shop.

create table stock_document (
    site text collate "C" not null,
    kind text collate "C" not null check (kind in ('part', 'part-order')),
    id text collate "C" not null,
    version bigint not null,
    document text collate "C" not null,
    saved bigint not null,
    source text collate "C" not null,
    primary key (site, kind, id, version)
);

-- What entries of a job did to the shelf: pieces that came or went, and pieces set aside for the job. Folded from the job, written with it.
create table part_move (
    site text collate "C" not null,
    job text collate "C" not null,
    part text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    on_shelf bigint not null,
    reserved bigint not null,
    at bigint not null,
    primary key (site, job, part, source, id)
);

create index part_move_part on part_move (site, part, job);

-- What is in the house is read every evening, and it is a small part of all jobs.
create index job_in_house on job (site, label) where in_house = 1;

