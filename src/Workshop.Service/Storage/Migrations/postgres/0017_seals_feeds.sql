-- Keys that extracts are sealed with. A retired one seals nothing more and is still known, so that old seals can be checked.
create table seal_key (
    site text collate "C" not null,
    id text collate "C" not null,
    private_key bytea not null,
    public_key bytea not null,
    created bigint not null,
    retired bigint,
    primary key (site, id)
);

create index seal_key_id on seal_key (id);

-- Calendars that somebody subscribed to, each with a token of its own, of which only the hash is kept.
create table calendar_feed (
    site text collate "C" not null,
    id text collate "C" not null,
    token_hash bytea not null,
    bench text collate "C",
    person text collate "C",
    created bigint not null,
    revoked bigint,
    primary key (site, id)
);

create unique index calendar_feed_token on calendar_feed (token_hash);

-- What a feed has shown, so that what changes keeps its name and what is gone is called off.
create table calendar_event (
    site text collate "C" not null,
    feed text collate "C" not null,
    uid text collate "C" not null,
    starts bigint not null,
    line text collate "C" not null,
    sequence bigint not null,
    stamped bigint not null,
    cancelled bigint,
    primary key (site, feed, uid)
);

-- When somebody's name was taken out at their wish, or after its time.
alter table customer add column erased bigint;

