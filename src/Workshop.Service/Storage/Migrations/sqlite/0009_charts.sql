-- What jobs say of rates, folded from them and written with them. Figures are seconds a day, as text: not a digit of them is lost.

-- One row for each worn check that came to a verdict with a rate; source and id are those of its start.
create table worn_rate (
    site text not null,
    job text not null,
    source text not null,
    id text not null,
    at integer not null,
    bench text,
    person text,
    instrument text,
    rate text not null,
    primary key (site, job, source, id)
) strict, without rowid;

create index worn_rate_at on worn_rate (site, at);

-- One row for each rate set. Two sets of one ground are of a watch that nobody has touched in between.
create table rate_mean (
    site text not null,
    job text not null,
    source text not null,
    id text not null,
    at integer not null,
    bench text,
    instrument text,
    wind_state text,
    cased integer,
    running integer not null,
    ground integer not null,
    mean text not null,
    spread text not null,
    rates text not null,
    primary key (site, job, source, id)
) strict, without rowid;

create index rate_mean_at on rate_mean (site, at);

insert into sqlite_stat1 (tbl, idx, stat) values
    ('worn_rate', 'worn_rate', '20000 20000 1 1 1'),
    ('worn_rate', 'worn_rate_at', '20000 20000 1'),
    ('rate_mean', 'rate_mean', '60000 60000 3 1 1'),
    ('rate_mean', 'rate_mean_at', '60000 60000 1');
