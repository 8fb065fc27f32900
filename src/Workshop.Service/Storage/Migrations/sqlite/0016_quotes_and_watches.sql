-- Parcels and the jobs in them; owners of a watch over time; watches that stand in a register of stolen ones.

create table shipment (
    site text not null,
    id text not null,
    direction text not null check (direction in ('to-workshop', 'to-customer')),
    carrier text not null,
    number text,
    insured_minor integer,
    currency text,
    sent_at integer not null,
    delivered_on text,
    lost_at integer,
    primary key (site, id)
) strict, without rowid;

create table shipment_job (
    site text not null,
    shipment text not null,
    job text not null,
    pieces text not null,
    primary key (site, shipment, job)
) strict, without rowid;

create table watch_owner (
    site text not null,
    watch text not null,
    number integer not null,
    customer_id text not null,
    from_day text not null,
    how text not null,
    told_at integer not null,
    primary key (site, watch, number),
    foreign key (site, customer_id) references customer (site, id)
) strict, without rowid;

create index watch_owner_customer on watch_owner (site, customer_id);

create table register_hit (
    site text not null,
    watch text not null,
    register text not null,
    text text,
    told_at integer not null,
    told_by text not null,
    cleared_at integer,
    reason text,
    primary key (site, watch)
) strict, without rowid;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('shipment', 'shipment', '50000 50000 1'),
    ('shipment_job', 'shipment_job', '60000 60000 2 1'),
    ('watch_owner', 'watch_owner', '20000 20000 2 1'),
    ('watch_owner', 'watch_owner_customer', '20000 20000 2'),
    ('register_hit', 'register_hit', '20 20 1');
