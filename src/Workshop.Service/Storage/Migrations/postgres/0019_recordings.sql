-- Recordings of a watch, each named by the hash of its bytes, which lie as a file in a folder that all instances share. "told" is how the watch lay and was
-- wound, "reading" what was heard, both as JSON. A recording that waits is a row with this state: what is to be done survives the service.
create table recording (
    site text collate "C" not null,
    job text collate "C" not null,
    sha256 text collate "C" not null,
    bytes bigint not null,
    seconds double precision not null,
    sample_rate bigint not null,
    bits bigint not null,
    channels bigint not null,
    told text collate "C" not null,
    state text collate "C" not null check (state in ('waiting', 'listened', 'failed')),
    tries bigint not null,
    failure text collate "C",
    reading text collate "C",
    analyser_version bigint,
    received bigint not null,
    listened bigint,
    removed bigint,
    source text collate "C" not null,
    primary key (site, job, sha256)
);

create index recording_waiting on recording (site, received) where state = 'waiting';

create index recording_kept on recording (site, received) where removed is null;

-- By how much the clock of a device's recorder runs fast, in parts per million, as it was stated or measured; older ones stay.
create table recording_clock (
    site text collate "C" not null,
    device text collate "C" not null,
    saved bigint not null,
    ppm double precision not null,
    uncertainty_ppm double precision not null,
    measured_on text collate "C" not null,
    how text collate "C" not null,
    reference text collate "C",
    measurement text collate "C",
    source text collate "C" not null,
    primary key (site, device, saved)
);

