-- What was found behind stops, one row for each stop whose cause was found: folded from the job, written with it, counted by calibre.
-- The calibre is the shop's name of it as it was known when the cause was told, '' where nobody had written it down.

create table stop_cause (
    site text not null,
    job text not null,
    source text not null,
    id text not null,
    calibre text not null,
    cause text not null,
    at integer not null,
    primary key (site, job, source, id)
) strict, without rowid;

create index stop_cause_calibre on stop_cause (site, calibre, cause);

insert into sqlite_stat1 (tbl, idx, stat) values
    ('stop_cause', 'stop_cause', '2000 2000 2 2 1'),
    ('stop_cause', 'stop_cause_calibre', '2000 2000 40 6');
