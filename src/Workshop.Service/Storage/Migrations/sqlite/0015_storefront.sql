-- Orders of storefronts: what they tell, by signed post or from their inbox, and the watches that are expected for it.

-- What a storefront is, and how far its inbox was read. The position is written in the turn that keeps what was read.
create table storefront (
    site text not null,
    id text not null,
    source text not null,
    name text not null,
    created integer not null,
    closed integer,
    inbox_position integer not null,
    inbox_heard integer,
    inbox_fault text,
    primary key (site, id)
) strict;

-- A message is proven by a code made with the secret itself: it is kept as it is, and goes into no answer but its first.
create table storefront_secret (
    site text not null,
    storefront text not null,
    id text not null,
    secret text not null,
    created integer not null,
    until integer,
    primary key (site, storefront, id)
) strict;

-- Deliveries by their number: one that comes again gets the first answer again.
create table storefront_delivery (
    site text not null,
    storefront text not null,
    webhook_id text not null,
    body_hash blob not null,
    received integer not null,
    answer text not null,
    primary key (site, storefront, webhook_id)
) strict;

-- Everything well signed, whatever it says. The body holds personal data and may be emptied; order, facts and flags stay.
create table storefront_message (
    site text not null,
    number integer not null,
    storefront text not null,
    door text not null,
    source text not null,
    id text not null,
    digest blob not null,
    type text not null,
    order_ref text,
    customer_ref text,
    job text,
    body text,
    flags text not null,
    details text not null,
    flagged integer not null,
    received integer not null,
    seen integer,
    seen_by text,
    note text,
    primary key (site, number)
) strict;

-- What was told of an order, as facts without a person's data ('facts'); addresses and words of the newest state ('personal') can be erased alone;
-- 'carried' is what of its money was written into jobs.
create table storefront_order (
    site text not null,
    storefront text not null,
    order_ref text not null,
    customer_ref text,
    facts text not null,
    personal text,
    carried text not null,
    version integer not null,
    changed integer not null,
    primary key (site, storefront, order_ref)
) strict;

-- A storefront's customer and what it told of them, member by member with the day it holds from; 'begins' is the next day on which something begins to
-- hold.
create table storefront_customer (
    site text not null,
    storefront text not null,
    ref text not null,
    customer_id text,
    told text not null,
    begins integer,
    primary key (site, storefront, ref)
) strict;

-- A watch that is expected, under a label of its own; of a storefront's order, or written down by the desk.
create table arrival (
    site text not null,
    label text not null,
    storefront text,
    order_ref text,
    line text,
    piece integer,
    customer_id text,
    ordered text not null,
    words text,
    state text not null,
    reason text,
    note text,
    waits_from integer not null,
    job text,
    created integer not null,
    version integer not null,
    primary key (site, label)
) strict;

create unique index storefront_message_identity on storefront_message (site, storefront, source, id, digest);
create index storefront_message_flagged on storefront_message (site, number) where flagged = 1 and seen is null;
create index storefront_message_order on storefront_message (site, storefront, order_ref);
create index storefront_message_customer on storefront_message (site, storefront, customer_ref);
create index storefront_order_customer on storefront_order (site, storefront, customer_ref);
create index storefront_customer_known on storefront_customer (site, customer_id);
create index storefront_customer_begins on storefront_customer (site, begins) where begins is not null;
create unique index arrival_ordered on arrival (site, storefront, order_ref, line, piece) where storefront is not null;
create index arrival_expected on arrival (site, label) where state = 'expected';
create index arrival_customer on arrival (site, customer_id);

insert into sqlite_stat1 (tbl, idx, stat) values
    ('storefront', 'sqlite_autoindex_storefront_1', '2 2 1'),
    ('storefront_secret', 'sqlite_autoindex_storefront_secret_1', '4 4 2 1'),
    ('storefront_delivery', 'sqlite_autoindex_storefront_delivery_1', '20000 20000 10000 1'),
    ('storefront_message', 'sqlite_autoindex_storefront_message_1', '20000 20000 1'),
    ('storefront_message', 'storefront_message_identity', '20000 20000 10000 10000 1 1'),
    ('storefront_message', 'storefront_message_flagged', '20 20 1'),
    ('storefront_message', 'storefront_message_order', '20000 20000 10000 4'),
    ('storefront_message', 'storefront_message_customer', '20000 20000 10000 4'),
    ('storefront_order', 'storefront_order_customer', '5000 5000 2500 2'),
    ('storefront_order', 'sqlite_autoindex_storefront_order_1', '5000 5000 2500 1'),
    ('storefront_customer', 'sqlite_autoindex_storefront_customer_1', '4000 4000 2000 1'),
    ('storefront_customer', 'storefront_customer_known', '4000 4000 1'),
    ('storefront_customer', 'storefront_customer_begins', '4 4 1'),
    ('arrival', 'sqlite_autoindex_arrival_1', '5000 5000 1'),
    ('arrival', 'arrival_ordered', '5000 5000 2500 1 1 1'),
    ('arrival', 'arrival_expected', '50 50 1'),
    ('arrival', 'arrival_customer', '5000 5000 2');
