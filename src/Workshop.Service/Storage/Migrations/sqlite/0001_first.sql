-- The whole shape of the workshop's memory. Moments are whole microseconds since 1970-01-01T00:00Z, days are text YYYY-MM-DD,
-- yes and no are 1 and 0. Its twin under postgres/ has the same tables and columns. Only tables of short rows are without rowid: there
-- the rows themselves are the tree, and long ones make it deep and wide.

create table site (
    id text not null primary key,
    name text not null,
    time_zone text not null,
    last_position integer not null,
    last_hash blob not null
) strict;

create table received (
    site text not null,
    source text not null,
    id text not null,
    digest blob not null,
    body text,
    sequence integer,
    device_time text,
    received integer not null,
    api_key text,
    state text not null check (state in ('held', 'accepted', 'refused')),
    release_at integer,
    answer text,
    position integer,
    primary key (site, source, id)
) strict;

create index received_held on received (site, release_at) where state = 'held';

create table journal (
    site text not null,
    position integer not null,
    stream text not null,
    stream_version integer not null,
    source text not null,
    id text not null,
    sequence integer,
    device_time text,
    received integer not null,
    effective integer not null,
    order_source text not null,
    order_sequence integer not null,
    person text,
    type text not null,
    schema integer not null,
    data text not null,
    salt blob,
    digest blob not null,
    judged text not null,
    disposition text not null check (disposition in ('applied', 'noted')),
    flags text not null,
    rules_version integer not null,
    caused_by_source text,
    caused_by_id text,
    hash blob not null,
    primary key (site, position),
    unique (site, stream, stream_version),
    unique (site, source, id)
) strict;

create table job (
    site text not null,
    label text not null,
    version integer not null,
    intake_version integer not null,
    fold_version integer not null,
    stage text,
    branch text,
    variant text,
    customer_id text,
    watch_id text,
    case_serial_key text,
    movement_number_key text,
    promised_on text,
    taken_in_at integer,
    in_house integer not null check (in_house in (0, 1)),
    closed integer not null check (closed in (0, 1)),
    document text not null,
    intake text not null,
    primary key (site, label)
) strict;

create index job_stage on job (site, stage);
create index job_customer on job (site, customer_id);
create index job_watch on job (site, watch_id);
create index job_case_serial on job (site, case_serial_key) where case_serial_key is not null;
create index job_movement_number on job (site, movement_number_key) where movement_number_key is not null;
create index job_taken_in on job (site, taken_in_at, label);

-- A label names one thing, whatever the site; a misdirected parcel must not meet a label that exists twice.
create table label (
    site text not null,
    label text not null,
    kind text not null,
    names text not null,
    bound integer not null,
    primary key (site, label)
) strict, without rowid;

create unique index label_everywhere on label (label);

-- A thing is a piece's own label, or <job>/<piece> for a piece without one.
create table holding (
    site text not null,
    thing text not null,
    opened_by_source text not null,
    opened_by_id text not null,
    job text not null,
    piece text not null,
    run text,
    holder text not null,
    from_at integer not null,
    until_at integer,
    closed_by_source text,
    closed_by_id text,
    primary key (site, thing, opened_by_source, opened_by_id)
) strict, without rowid;

create unique index holding_open on holding (site, thing) where until_at is null;
create index holding_job on holding (site, job);
create index holding_holder on holding (site, holder) where until_at is null;

create table agenda (
    site text not null,
    stream text not null,
    kind text not null,
    ref text not null,
    due integer,
    task integer,
    wake integer,
    level text not null,
    line text not null,
    primary key (site, stream, kind, ref)
) strict, without rowid;

create index agenda_wake on agenda (site, wake) where wake is not null;
create index agenda_due on agenda (site, due);

create table outbox (
    site text not null,
    id text not null,
    type text not null,
    stream text not null,
    body text not null,
    created integer not null,
    not_before integer,
    attempts integer not null,
    next_attempt integer,
    done integer,
    primary key (site, id)
) strict;

create index outbox_waiting on outbox (site, created) where done is null;

create table idempotency (
    site text not null,
    api_key text not null,
    idempotency_key text not null,
    digest blob not null,
    state text not null check (state in ('running', 'finished')),
    status integer,
    headers text,
    body text,
    created integer not null,
    expires integer not null,
    primary key (site, api_key, idempotency_key)
) strict;

create index idempotency_expiry on idempotency (expires);

create table shop_document (
    site text not null,
    kind text not null,
    id text not null,
    version integer not null,
    document text not null,
    saved integer not null,
    rules_version integer not null,
    primary key (site, kind, id, version)
) strict;

create table customer (
    site text not null,
    id text not null,
    name text not null,
    telephone text,
    telephone_normalised text,
    email text,
    address text,
    language text,
    consents text not null,
    created integer not null,
    version integer not null,
    primary key (site, id)
) strict;

create index customer_telephone on customer (site, telephone_normalised) where telephone_normalised is not null;
create index customer_name on customer (site, name);

create table watch (
    site text not null,
    id text not null,
    customer_id text,
    maker text,
    model text,
    reference text,
    case_serial text,
    case_serial_key text,
    movement_number text,
    movement_number_key text,
    facts text not null,
    created integer not null,
    version integer not null,
    primary key (site, id),
    foreign key (site, customer_id) references customer (site, id)
) strict;

create index watch_customer on watch (site, customer_id);
create index watch_case_serial on watch (site, case_serial_key) where case_serial_key is not null;
create index watch_movement_number on watch (site, movement_number_key) where movement_number_key is not null;

create table source (
    site text not null,
    source text not null,
    next_sequence integer not null,
    clock_samples text not null,
    heard integer,
    primary key (site, source)
) strict, without rowid;

create table api_key (
    site text not null,
    id text not null,
    prefix text not null,
    hash blob not null unique,
    source text not null,
    role text not null,
    bench text,
    created integer not null,
    revoked integer,
    last_used integer,
    primary key (site, id)
) strict, without rowid;

-- How selective each index is, in round figures of a workshop after some years: rows, then rows alike in the first column, in the first
-- two … Without them SQLite takes a site to be as selective as a job, and reads all rows of the site where an index leads to ten.
-- PostgreSQL counts by itself. For a table without rowid its own name means the primary key.
analyze;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('agenda', 'agenda', '10000 10000 2 2 1'),
    ('agenda', 'agenda_due', '10000 10000 2'),
    ('agenda', 'agenda_wake', '5000 5000 2'),
    ('customer', 'sqlite_autoindex_customer_1', '3000 3000 1'),
    ('customer', 'customer_name', '3000 3000 2'),
    ('customer', 'customer_telephone', '3000 3000 2'),
    ('holding', 'holding', '50000 50000 4 2 1'),
    ('holding', 'holding_holder', '15000 15000 300'),
    ('holding', 'holding_job', '50000 50000 10'),
    ('holding', 'holding_open', '15000 15000 1'),
    ('idempotency', 'sqlite_autoindex_idempotency_1', '5000 5000 500 1'),
    ('idempotency', 'idempotency_expiry', '5000 2'),
    ('job', 'sqlite_autoindex_job_1', '5000 5000 1'),
    ('job', 'job_case_serial', '5000 5000 2'),
    ('job', 'job_customer', '5000 5000 2'),
    ('job', 'job_movement_number', '5000 5000 2'),
    ('job', 'job_stage', '5000 5000 250'),
    ('job', 'job_taken_in', '5000 5000 2 1'),
    ('job', 'job_watch', '5000 5000 2'),
    ('journal', 'sqlite_autoindex_journal_1', '300000 300000 1'),
    ('journal', 'sqlite_autoindex_journal_2', '300000 300000 60 1'),
    ('journal', 'sqlite_autoindex_journal_3', '300000 300000 5000 1'),
    ('label', 'label', '20000 20000 1'),
    ('label', 'label_everywhere', '20000 1'),
    ('outbox', 'sqlite_autoindex_outbox_1', '5000 5000 1'),
    ('outbox', 'outbox_waiting', '10 10 2'),
    ('received', 'sqlite_autoindex_received_1', '250000 250000 5000 1'),
    ('received', 'received_held', '10 10 2'),
    ('shop_document', 'sqlite_autoindex_shop_document_1', '100 100 10 3 1'),
    ('watch', 'sqlite_autoindex_watch_1', '4000 4000 1'),
    ('watch', 'watch_case_serial', '4000 4000 2'),
    ('watch', 'watch_customer', '4000 4000 2'),
    ('watch', 'watch_movement_number', '4000 4000 2');
