-- Devices, people at them, and the short numbers by which people are known. Its twin under sqlite/ has the same tables and columns.

-- A pairing that waits for its device: six digits, of which the hash is kept. Rows go when their time is over.
create table pairing (
    site text collate "C" not null,
    id text collate "C" not null,
    device text collate "C" not null,
    bench text collate "C",
    role text collate "C" not null,
    salt bytea not null,
    hash bytea not null,
    iterations bigint not null,
    expires bigint not null,
    wrong bigint not null,
    closed bigint,
    primary key (site, id)
);

create index pairing_expiry on pairing (expires);

-- Who was at a device from when on; person is null where somebody signed off. A row counts until the next of its source, in the order of
-- effective time and then the device's own numbers, and never beyond the end of its day. proof is the moment at which the proof that was
-- told had been given out: a proof given out anew ends what the old one proved.
create table sign_on (
    site text collate "C" not null,
    source text collate "C" not null,
    effective bigint not null,
    order_sequence bigint not null,
    id text collate "C" not null,
    person text collate "C",
    until bigint not null,
    proof bigint,
    primary key (site, source, effective, order_sequence, id)
);

create table person_proof (
    site text collate "C" not null,
    person text collate "C" not null,
    salt bytea not null,
    hash bytea not null,
    iterations bigint not null,
    given bigint not null,
    locked_until bigint,
    primary key (site, person)
);

-- Wrong proofs of the last minutes.
create table proof_try (
    site text collate "C" not null,
    person text collate "C" not null,
    at bigint not null,
    source text collate "C" not null,
    id text collate "C" not null,
    primary key (site, person, at, source, id)
);

-- Proofs that were right when their event came, for events that are judged later: held back behind a gap.
create table proof_heard (
    site text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    person text collate "C" not null,
    given bigint not null,
    primary key (site, source, id)
);

create index api_key_source on api_key (site, source);
