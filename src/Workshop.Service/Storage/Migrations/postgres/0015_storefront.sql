-- Orders of storefronts: what they tell, by signed post or from their inbox, and the watches that are expected for it.

-- What a storefront is, and how far its inbox was read. The position is written in the turn that keeps what was read.
create table storefront (
    site text collate "C" not null,
    id text collate "C" not null,
    source text collate "C" not null,
    name text collate "C" not null,
    created bigint not null,
    closed bigint,
    inbox_position bigint not null,
    inbox_heard bigint,
    inbox_fault text collate "C",
    primary key (site, id)
);

-- A message is proven by a code made with the secret itself: it is kept as it is, and goes into no answer but its first.
create table storefront_secret (
    site text collate "C" not null,
    storefront text collate "C" not null,
    id text collate "C" not null,
    secret text collate "C" not null,
    created bigint not null,
    until bigint,
    primary key (site, storefront, id)
);

-- Deliveries by their number: one that comes again gets the first answer again.
create table storefront_delivery (
    site text collate "C" not null,
    storefront text collate "C" not null,
    webhook_id text collate "C" not null,
    body_hash bytea not null,
    received bigint not null,
    answer text collate "C" not null,
    primary key (site, storefront, webhook_id)
);

-- Everything well signed, whatever it says. The body holds personal data and may be emptied; order, facts and flags stay.
create table storefront_message (
    site text collate "C" not null,
    number bigint not null,
    storefront text collate "C" not null,
    door text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    digest bytea not null,
    type text collate "C" not null,
    order_ref text collate "C",
    customer_ref text collate "C",
    job text collate "C",
    body text collate "C",
    flags text collate "C" not null,
    details text collate "C" not null,
    flagged bigint not null,
    received bigint not null,
    seen bigint,
    seen_by text collate "C",
    note text collate "C",
    primary key (site, number)
);

-- What was told of an order, as facts without a person's data ('facts'); addresses and words of the newest state ('personal') can be erased alone;
-- 'carried' is what of its money was written into jobs.
create table storefront_order (
    site text collate "C" not null,
    storefront text collate "C" not null,
    order_ref text collate "C" not null,
    customer_ref text collate "C",
    facts text collate "C" not null,
    personal text collate "C",
    carried text collate "C" not null,
    version bigint not null,
    changed bigint not null,
    primary key (site, storefront, order_ref)
);

-- A storefront's customer and what it told of them, member by member with the day it holds from; 'begins' is the next day on which something begins to
-- hold.
create table storefront_customer (
    site text collate "C" not null,
    storefront text collate "C" not null,
    ref text collate "C" not null,
    customer_id text collate "C",
    told text collate "C" not null,
    begins bigint,
    primary key (site, storefront, ref)
);

-- A watch that is expected, under a label of its own; of a storefront's order, or written down by the desk.
create table arrival (
    site text collate "C" not null,
    label text collate "C" not null,
    storefront text collate "C",
    order_ref text collate "C",
    line text collate "C",
    piece bigint,
    customer_id text collate "C",
    ordered text collate "C" not null,
    words text collate "C",
    state text collate "C" not null,
    reason text collate "C",
    note text collate "C",
    waits_from bigint not null,
    job text collate "C",
    created bigint not null,
    version bigint not null,
    primary key (site, label)
);

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
