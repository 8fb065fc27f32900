-- Spare parts and orders of parts, version by version: kind 'part' or 'part-order'. They change daily and no rule of the shop stands in
-- them, so that they are no documents of the shop.

create table stock_document (
    site text not null,
    kind text not null check (kind in ('part', 'part-order')),
    id text not null,
    version integer not null,
    document text not null,
    saved integer not null,
    source text not null,
    primary key (site, kind, id, version)
) strict;

-- What entries of a job did to the shelf: pieces that came or went, and pieces set aside for the job. Folded from the job, written with it.
create table part_move (
    site text not null,
    job text not null,
    part text not null,
    source text not null,
    id text not null,
    on_shelf integer not null,
    reserved integer not null,
    at integer not null,
    primary key (site, job, part, source, id)
) strict, without rowid;

create index part_move_part on part_move (site, part, job);

-- What is in the house is read every evening, and it is a small part of all jobs.
create index job_in_house on job (site, label) where in_house = 1;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('stock_document', 'sqlite_autoindex_stock_document_1', '6000 6000 3000 3 1'),
    ('part_move', 'part_move', '20000 20000 4 2 1 1'),
    ('part_move', 'part_move_part', '20000 20000 10 2'),
    ('job', 'job_in_house', '150 150 1');
