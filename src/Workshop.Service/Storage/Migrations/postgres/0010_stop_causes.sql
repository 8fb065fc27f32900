-- What was found behind stops, one row for each stop whose cause was found: folded from the job, written with it, counted by calibre.
-- The calibre is the shop's name of it as it was known when the cause was told, '' where nobody had written it down.

create table stop_cause (
    site text collate "C" not null,
    job text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    calibre text collate "C" not null,
    cause text collate "C" not null,
    at bigint not null,
    primary key (site, job, source, id)
);

create index stop_cause_calibre on stop_cause (site, calibre, cause);
