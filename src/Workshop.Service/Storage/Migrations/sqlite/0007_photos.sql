-- Which photos of a job have come. "sha256" is of the bytes as they were sent and names the photo for ever; "stored_sha256" is of what is
-- kept: drawn anew, upright and without what the camera wrote beside it. The pictures themselves are files beside the database.

create table photo (
    site text not null,
    job text not null,
    sha256 text not null,
    stored_sha256 text not null,
    media_type text not null check (media_type in ('image/jpeg', 'image/png', 'image/webp')),
    bytes integer not null,
    width integer not null,
    height integer not null,
    received integer not null,
    source text not null,
    primary key (site, job, sha256)
) strict, without rowid;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('photo', 'photo', '100000 100000 30 1');
