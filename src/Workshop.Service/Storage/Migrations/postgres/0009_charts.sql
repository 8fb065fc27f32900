-- What jobs say of rates, folded from them and written with them. Figures are seconds a day, as text: not a digit of them is lost.

-- One row for each worn check that came to a verdict with a rate; source and id are those of its start.
create table worn_rate (
    site text collate "C" not null,
    job text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    at bigint not null,
    bench text collate "C",
    person text collate "C",
    instrument text collate "C",
    rate text collate "C" not null,
    primary key (site, job, source, id)
);

create index worn_rate_at on worn_rate (site, at);

-- One row for each rate set. Two sets of one ground are of a watch that nobody has touched in between.
create table rate_mean (
    site text collate "C" not null,
    job text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    at bigint not null,
    bench text collate "C",
    instrument text collate "C",
    wind_state text collate "C",
    cased bigint,
    running bigint not null,
    ground bigint not null,
    mean text collate "C" not null,
    spread text collate "C" not null,
    rates text collate "C" not null,
    primary key (site, job, source, id)
);

create index rate_mean_at on rate_mean (site, at);
