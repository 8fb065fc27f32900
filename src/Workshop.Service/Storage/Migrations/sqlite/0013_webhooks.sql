-- What leaves the house: messages in the order of their commits, where they go, what waits there, every attempt; what was last said of where
-- a watch is; and tickets for browsers that read along.

alter table site add column last_message integer not null default 0;

alter table outbox add column position integer;
alter table outbox add column storefront text;

update outbox
set position = numbered.place
from (select site as of_site, id as of_id, row_number() over (partition by site order by created, id) as place from outbox) as numbered
where outbox.site = numbered.of_site
  and outbox.id = numbered.of_id;

update site
set last_message = coalesce((select max(position) from outbox where outbox.site = site.id), 0);

drop index outbox_waiting;
create unique index outbox_position on outbox (site, position);
create index outbox_storefront on outbox (site, storefront, position);

create table webhook_endpoint (
    site text not null,
    id text not null,
    version integer not null,
    url text not null,
    description text,
    types text,
    storefront text,
    state text not null,
    reason text,
    state_since integer not null,
    created integer not null,
    taken_through integer not null,
    held_until integer,
    failures integer not null,
    leased_by text,
    leased_until integer,
    primary key (site, id)
) strict, without rowid;

create table webhook_secret (
    site text not null,
    endpoint text not null,
    number integer not null,
    secret text not null,
    created integer not null,
    ends integer,
    primary key (site, endpoint, number)
) strict, without rowid;

create table webhook_delivery (
    site text not null,
    endpoint text not null,
    position integer not null,
    lane text not null,
    state text not null,
    attempts integer not null,
    next_attempt integer not null,
    not_before integer,
    done integer,
    primary key (site, endpoint, position)
) strict, without rowid;

create index webhook_delivery_waiting on webhook_delivery (site, endpoint, lane, position) where state = 'waiting';

create table webhook_attempt (
    site text not null,
    endpoint text not null,
    id text not null,
    position integer not null,
    attempt integer not null,
    at integer not null,
    status integer,
    duration_milliseconds integer not null,
    error text,
    next_attempt integer,
    primary key (site, endpoint, id)
) strict, without rowid;

create index webhook_attempt_at on webhook_attempt (site, at);

create table public_word (
    site text not null,
    job text not null,
    number integer not null,
    stage text not null,
    waiting_on text not null,
    expired_quote integer,
    look_again integer,
    primary key (site, job)
) strict, without rowid;

create index public_word_look_again on public_word (site, look_again) where look_again is not null;

create table stream_ticket (
    site text not null,
    hash blob not null,
    api_key text not null,
    expires integer not null,
    primary key (hash)
) strict, without rowid;

create index stream_ticket_expiry on stream_ticket (site, expires);

insert into sqlite_stat1 (tbl, idx, stat) values
    ('outbox', 'outbox_position', '5000 5000 1'),
    ('outbox', 'outbox_storefront', '5000 5000 1000 1'),
    ('webhook_delivery', 'sqlite_autoindex_webhook_delivery_1', '10000 10000 5000 1'),
    ('webhook_delivery', 'webhook_delivery_waiting', '20 20 10 2 1'),
    ('webhook_attempt', 'sqlite_autoindex_webhook_attempt_1', '10000 10000 5000 1'),
    ('webhook_attempt', 'webhook_attempt_at', '10000 10000 1'),
    ('public_word', 'sqlite_autoindex_public_word_1', '5000 5000 1'),
    ('public_word', 'public_word_look_again', '50 50 1'),
    ('stream_ticket', 'stream_ticket_expiry', '10 10 1');
