-- The whole shape of the workshop's memory. Moments are whole microseconds since 1970-01-01T00:00Z, days are text YYYY-MM-DD,
-- yes and no are 1 and 0, text compares byte by byte. Its twin under sqlite/ has the same tables and columns.

create table site (
    id text collate "C" not null primary key,
    name text collate "C" not null,
    time_zone text collate "C" not null,
    last_position bigint not null,
    last_hash bytea not null
);

create table received (
    site text collate "C" not null,
    source text collate "C" not null,
    id text collate "C" not null,
    digest bytea not null,
    body text collate "C",
    sequence bigint,
    device_time text collate "C",
    received bigint not null,
    api_key text collate "C",
    state text collate "C" not null check (state in ('held', 'accepted', 'refused')),
    release_at bigint,
    answer text collate "C",
    position bigint,
    primary key (site, source, id)
);

create index received_held on received (site, release_at) where state = 'held';

create table journal (
    site text collate "C" not null,
    position bigint not null,
    stream text collate "C" not null,
    stream_version bigint not null,
    source text collate "C" not null,
    id text collate "C" not null,
    sequence bigint,
    device_time text collate "C",
    received bigint not null,
    effective bigint not null,
    order_source text collate "C" not null,
    order_sequence bigint not null,
    person text collate "C",
    type text collate "C" not null,
    schema bigint not null,
    data text collate "C" not null,
    salt bytea,
    digest bytea not null,
    judged text collate "C" not null,
    disposition text collate "C" not null check (disposition in ('applied', 'noted')),
    flags text collate "C" not null,
    rules_version bigint not null,
    caused_by_source text collate "C",
    caused_by_id text collate "C",
    hash bytea not null,
    primary key (site, position),
    unique (site, stream, stream_version),
    unique (site, source, id)
);

create table job (
    site text collate "C" not null,
    label text collate "C" not null,
    version bigint not null,
    intake_version bigint not null,
    fold_version bigint not null,
    stage text collate "C",
    branch text collate "C",
    variant text collate "C",
    customer_id text collate "C",
    watch_id text collate "C",
    case_serial_key text collate "C",
    movement_number_key text collate "C",
    promised_on text collate "C",
    taken_in_at bigint,
    in_house bigint not null check (in_house in (0, 1)),
    closed bigint not null check (closed in (0, 1)),
    document text collate "C" not null,
    intake text collate "C" not null,
    primary key (site, label)
);

create index job_stage on job (site, stage);
create index job_customer on job (site, customer_id);
create index job_watch on job (site, watch_id);
create index job_case_serial on job (site, case_serial_key) where case_serial_key is not null;
create index job_movement_number on job (site, movement_number_key) where movement_number_key is not null;
create index job_taken_in on job (site, taken_in_at, label);

-- A label names one thing, whatever the site; a misdirected parcel must not meet a label that exists twice.
create table label (
    site text collate "C" not null,
    label text collate "C" not null,
    kind text collate "C" not null,
    names text collate "C" not null,
    bound bigint not null,
    primary key (site, label)
);

create unique index label_everywhere on label (label);

-- A thing is a piece's own label, or <job>/<piece> for a piece without one.
create table holding (
    site text collate "C" not null,
    thing text collate "C" not null,
    opened_by_source text collate "C" not null,
    opened_by_id text collate "C" not null,
    job text collate "C" not null,
    piece text collate "C" not null,
    run text collate "C",
    holder text collate "C" not null,
    from_at bigint not null,
    until_at bigint,
    closed_by_source text collate "C",
    closed_by_id text collate "C",
    primary key (site, thing, opened_by_source, opened_by_id)
);

create unique index holding_open on holding (site, thing) where until_at is null;
create index holding_job on holding (site, job);
create index holding_holder on holding (site, holder) where until_at is null;

create table agenda (
    site text collate "C" not null,
    stream text collate "C" not null,
    kind text collate "C" not null,
    ref text collate "C" not null,
    due bigint,
    task bigint,
    wake bigint,
    level text collate "C" not null,
    line text collate "C" not null,
    primary key (site, stream, kind, ref)
);

create index agenda_wake on agenda (site, wake) where wake is not null;
create index agenda_due on agenda (site, due);

create table outbox (
    site text collate "C" not null,
    id text collate "C" not null,
    type text collate "C" not null,
    stream text collate "C" not null,
    body text collate "C" not null,
    created bigint not null,
    not_before bigint,
    attempts bigint not null,
    next_attempt bigint,
    done bigint,
    primary key (site, id)
);

create index outbox_waiting on outbox (site, created) where done is null;

create table idempotency (
    site text collate "C" not null,
    api_key text collate "C" not null,
    idempotency_key text collate "C" not null,
    digest bytea not null,
    state text collate "C" not null check (state in ('running', 'finished')),
    status bigint,
    headers text collate "C",
    body text collate "C",
    created bigint not null,
    expires bigint not null,
    primary key (site, api_key, idempotency_key)
);

create index idempotency_expiry on idempotency (expires);

create table shop_document (
    site text collate "C" not null,
    kind text collate "C" not null,
    id text collate "C" not null,
    version bigint not null,
    document text collate "C" not null,
    saved bigint not null,
    rules_version bigint not null,
    primary key (site, kind, id, version)
);

create table customer (
    site text collate "C" not null,
    id text collate "C" not null,
    name text collate "C" not null,
    telephone text collate "C",
    telephone_normalised text collate "C",
    email text collate "C",
    address text collate "C",
    language text collate "C",
    consents text collate "C" not null,
    created bigint not null,
    version bigint not null,
    primary key (site, id)
);

create index customer_telephone on customer (site, telephone_normalised) where telephone_normalised is not null;
create index customer_name on customer (site, name);

create table watch (
    site text collate "C" not null,
    id text collate "C" not null,
    customer_id text collate "C",
    maker text collate "C",
    model text collate "C",
    reference text collate "C",
    case_serial text collate "C",
    case_serial_key text collate "C",
    movement_number text collate "C",
    movement_number_key text collate "C",
    facts text collate "C" not null,
    created bigint not null,
    version bigint not null,
    primary key (site, id),
    foreign key (site, customer_id) references customer (site, id)
);

create index watch_customer on watch (site, customer_id);
create index watch_case_serial on watch (site, case_serial_key) where case_serial_key is not null;
create index watch_movement_number on watch (site, movement_number_key) where movement_number_key is not null;

create table source (
    site text collate "C" not null,
    source text collate "C" not null,
    next_sequence bigint not null,
    clock_samples text collate "C" not null,
    heard bigint,
    primary key (site, source)
);

create table api_key (
    site text collate "C" not null,
    id text collate "C" not null,
    prefix text collate "C" not null,
    hash bytea not null unique,
    source text collate "C" not null,
    role text collate "C" not null,
    bench text collate "C",
    created bigint not null,
    revoked bigint,
    last_used bigint,
    primary key (site, id)
);
