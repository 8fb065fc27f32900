-- What leaves the house: messages in the order of their commits, where they go, what waits there, every attempt; what was last said of where
-- a watch is; and tickets for browsers that read along.

alter table site add column last_message bigint not null default 0;

alter table outbox add column position bigint;
alter table outbox add column storefront text collate "C";

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
    site text collate "C" not null,
    id text collate "C" not null,
    version bigint not null,
    url text collate "C" not null,
    description text collate "C",
    types text collate "C",
    storefront text collate "C",
    state text collate "C" not null,
    reason text collate "C",
    state_since bigint not null,
    created bigint not null,
    taken_through bigint not null,
    held_until bigint,
    failures bigint not null,
    leased_by text collate "C",
    leased_until bigint,
    primary key (site, id)
);

create table webhook_secret (
    site text collate "C" not null,
    endpoint text collate "C" not null,
    number bigint not null,
    secret text collate "C" not null,
    created bigint not null,
    ends bigint,
    primary key (site, endpoint, number)
);

create table webhook_delivery (
    site text collate "C" not null,
    endpoint text collate "C" not null,
    position bigint not null,
    lane text collate "C" not null,
    state text collate "C" not null,
    attempts bigint not null,
    next_attempt bigint not null,
    not_before bigint,
    done bigint,
    primary key (site, endpoint, position)
);

create index webhook_delivery_waiting on webhook_delivery (site, endpoint, lane, position) where state = 'waiting';

create table webhook_attempt (
    site text collate "C" not null,
    endpoint text collate "C" not null,
    id text collate "C" not null,
    position bigint not null,
    attempt bigint not null,
    at bigint not null,
    status bigint,
    duration_milliseconds bigint not null,
    error text collate "C",
    next_attempt bigint,
    primary key (site, endpoint, id)
);

create index webhook_attempt_at on webhook_attempt (site, at);

create table public_word (
    site text collate "C" not null,
    job text collate "C" not null,
    number bigint not null,
    stage text collate "C" not null,
    waiting_on text collate "C" not null,
    expired_quote bigint,
    look_again bigint,
    primary key (site, job)
);

create index public_word_look_again on public_word (site, look_again) where look_again is not null;

create table stream_ticket (
    site text collate "C" not null,
    hash bytea not null,
    api_key text collate "C" not null,
    expires bigint not null,
    primary key (hash)
);

create index stream_ticket_expiry on stream_ticket (site, expires);

