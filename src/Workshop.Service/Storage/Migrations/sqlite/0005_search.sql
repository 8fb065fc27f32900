-- What is found while the customer is still talking. A gram is three letters of a name, or three characters of a number, and says whose:
-- kind 'name' leads to a customer, 'number' to a watch. Grams are personal data and go with whoever they lead to. "gram_version" tells
-- which rows were taken apart by an older rule of the program; migrate takes them apart anew.

create table gram (
    site text not null,
    kind text not null check (kind in ('name', 'number')),
    gram text not null,
    id text not null,
    primary key (site, kind, gram, id)
) strict, without rowid;

create index gram_of on gram (site, kind, id);

alter table customer add column gram_version integer not null default 0;
alter table watch add column gram_version integer not null default 0;

-- Digits from the last to the first: a number is known by its end, with its country before it or without.
alter table customer add column telephone_reversed text;

create index customer_telephone_reversed on customer (site, telephone_reversed) where telephone_reversed is not null;

-- Whether and how somebody wants to be reached: normal, none, only-by with the channel beside it.
alter table customer add column contact text not null default 'normal';
alter table customer add column contact_by text;
alter table customer add column deceased_on text;

-- The number of the shop's own paper book, as written and as it is compared; a person edits it, no event does.
alter table job add column own_number text;
alter table job add column own_number_key text;

create index job_own_number on job (site, own_number_key) where own_number_key is not null;

-- When the work was done; folded. Empty while it is not, and for jobs that began in the paper book: they enter no figure.
alter table job add column ready_at integer;

create index job_ready on job (site, variant, ready_at) where ready_at is not null;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('gram', 'gram', '100000 100000 50000 20 1'),
    ('gram', 'gram_of', '100000 100000 50000 15'),
    ('customer', 'customer_telephone_reversed', '3000 3000 2'),
    ('job', 'job_own_number', '1000 1000 1'),
    ('job', 'job_ready', '5000 5000 500 1');
