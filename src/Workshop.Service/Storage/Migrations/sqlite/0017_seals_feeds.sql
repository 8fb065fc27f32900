-- Keys that extracts are sealed with. A retired one seals nothing more and is still known, so that old seals can be checked.
create table seal_key (
    site text not null,
    id text not null,
    private_key blob not null,
    public_key blob not null,
    created integer not null,
    retired integer,
    primary key (site, id)
) strict, without rowid;

create index seal_key_id on seal_key (id);

-- Calendars that somebody subscribed to, each with a token of its own, of which only the hash is kept.
create table calendar_feed (
    site text not null,
    id text not null,
    token_hash blob not null,
    bench text,
    person text,
    created integer not null,
    revoked integer,
    primary key (site, id)
) strict, without rowid;

create unique index calendar_feed_token on calendar_feed (token_hash);

-- What a feed has shown, so that what changes keeps its name and what is gone is called off.
create table calendar_event (
    site text not null,
    feed text not null,
    uid text not null,
    starts integer not null,
    line text not null,
    sequence integer not null,
    stamped integer not null,
    cancelled integer,
    primary key (site, feed, uid)
) strict, without rowid;

-- When somebody's name was taken out at their wish, or after its time.
alter table customer add column erased integer;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('seal_key', 'seal_key', '4 4 1'),
    ('seal_key', 'seal_key_id', '4 1 1'),
    ('calendar_feed', 'calendar_feed', '20 20 1'),
    ('calendar_feed', 'calendar_feed_token', '20 1'),
    ('calendar_event', 'calendar_event', '2000 2000 100 1');
