-- Which photos of a job have come. "sha256" is of the bytes as they were sent and names the photo for ever; "stored_sha256" is of what is
-- kept: drawn anew, upright and without what the camera wrote beside it. The pictures themselves are files in a folder that all instances share.

create table photo (
    site text collate "C" not null,
    job text collate "C" not null,
    sha256 text collate "C" not null,
    stored_sha256 text collate "C" not null,
    media_type text collate "C" not null check (media_type in ('image/jpeg', 'image/png', 'image/webp')),
    bytes bigint not null,
    width bigint not null,
    height bigint not null,
    received bigint not null,
    source text collate "C" not null,
    primary key (site, job, sha256)
);
