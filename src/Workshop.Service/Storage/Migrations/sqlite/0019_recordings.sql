-- Recordings of a watch, each named by the hash of its bytes, which lie as a file beside the database. "told" is how the watch lay and was
-- wound, "reading" what was heard, both as JSON. A recording that waits is a row with this state: what is to be done survives the service.
create table recording (
    site text not null,
    job text not null,
    sha256 text not null,
    bytes integer not null,
    seconds real not null,
    sample_rate integer not null,
    bits integer not null,
    channels integer not null,
    told text not null,
    state text not null check (state in ('waiting', 'listened', 'failed')),
    tries integer not null,
    failure text,
    reading text,
    analyser_version integer,
    received integer not null,
    listened integer,
    removed integer,
    source text not null,
    primary key (site, job, sha256)
) strict, without rowid;

create index recording_waiting on recording (site, received) where state = 'waiting';

create index recording_kept on recording (site, received) where removed is null;

-- By how much the clock of a device's recorder runs fast, in parts per million, as it was stated or measured; older ones stay.
create table recording_clock (
    site text not null,
    device text not null,
    saved integer not null,
    ppm real not null,
    uncertainty_ppm real not null,
    measured_on text not null,
    how text not null,
    reference text,
    measurement text,
    source text not null,
    primary key (site, device, saved)
) strict, without rowid;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('recording', 'recording', '100000 100000 30 1'),
    ('recording', 'recording_waiting', '10 10 1'),
    ('recording', 'recording_kept', '50000 50000 1'),
    ('recording_clock', 'recording_clock', '40 40 4 1');
