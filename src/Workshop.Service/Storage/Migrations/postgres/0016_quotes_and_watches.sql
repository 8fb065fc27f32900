-- Parcels and the jobs in them; owners of a watch over time; watches that stand in a register of stolen ones.

create table shipment (
    site text collate "C" not null,
    id text collate "C" not null,
    direction text collate "C" not null check (direction in ('to-workshop', 'to-customer')),
    carrier text collate "C" not null,
    number text collate "C",
    insured_minor bigint,
    currency text collate "C",
    sent_at bigint not null,
    delivered_on text collate "C",
    lost_at bigint,
    primary key (site, id)
);

create table shipment_job (
    site text collate "C" not null,
    shipment text collate "C" not null,
    job text collate "C" not null,
    pieces text collate "C" not null,
    primary key (site, shipment, job)
);

create table watch_owner (
    site text collate "C" not null,
    watch text collate "C" not null,
    number bigint not null,
    customer_id text collate "C" not null,
    from_day text collate "C" not null,
    how text collate "C" not null,
    told_at bigint not null,
    primary key (site, watch, number),
    foreign key (site, customer_id) references customer (site, id)
);

create index watch_owner_customer on watch_owner (site, customer_id);

create table register_hit (
    site text collate "C" not null,
    watch text collate "C" not null,
    register text collate "C" not null,
    text text collate "C",
    told_at bigint not null,
    told_by text collate "C" not null,
    cleared_at bigint,
    reason text collate "C",
    primary key (site, watch)
);
