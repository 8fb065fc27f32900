-- Devices, people at them, and the short numbers by which people are known. Its twin under postgres/ has the same tables and columns.

-- A pairing that waits for its device: six digits, of which the hash is kept. Rows go when their time is over.
create table pairing (
    site text not null,
    id text not null,
    device text not null,
    bench text,
    role text not null,
    salt blob not null,
    hash blob not null,
    iterations integer not null,
    expires integer not null,
    wrong integer not null,
    closed integer,
    primary key (site, id)
) strict, without rowid;

create index pairing_expiry on pairing (expires);

-- Who was at a device from when on; person is null where somebody signed off. A row counts until the next of its source, in the order of
-- effective time and then the device's own numbers, and never beyond the end of its day. proof is the moment at which the proof that was
-- told had been given out: a proof given out anew ends what the old one proved.
create table sign_on (
    site text not null,
    source text not null,
    effective integer not null,
    order_sequence integer not null,
    id text not null,
    person text,
    until integer not null,
    proof integer,
    primary key (site, source, effective, order_sequence, id)
) strict, without rowid;

create table person_proof (
    site text not null,
    person text not null,
    salt blob not null,
    hash blob not null,
    iterations integer not null,
    given integer not null,
    locked_until integer,
    primary key (site, person)
) strict, without rowid;

-- Wrong proofs of the last minutes.
create table proof_try (
    site text not null,
    person text not null,
    at integer not null,
    source text not null,
    id text not null,
    primary key (site, person, at, source, id)
) strict, without rowid;

-- Proofs that were right when their event came, for events that are judged later: held back behind a gap.
create table proof_heard (
    site text not null,
    source text not null,
    id text not null,
    person text not null,
    given integer not null,
    primary key (site, source, id)
) strict, without rowid;

create index api_key_source on api_key (site, source);

-- As in the first migration: how selective each index is.
insert into sqlite_stat1 (tbl, idx, stat) values
    ('api_key', 'api_key', '100 100 1'),
    ('api_key', 'api_key_source', '100 100 2'),
    ('pairing', 'pairing', '5 5 1'),
    ('pairing', 'pairing_expiry', '5 1'),
    ('person_proof', 'person_proof', '20 20 1'),
    ('proof_heard', 'proof_heard', '10 10 2 1'),
    ('proof_try', 'proof_try', '20 20 5 1 1 1'),
    ('sign_on', 'sign_on', '20000 20000 500 2 1 1');
