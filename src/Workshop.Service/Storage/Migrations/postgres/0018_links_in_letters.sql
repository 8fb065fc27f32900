-- What the addresses in letters are derived from, so that a letter that is sent again holds the same one; and which letter a link stands in.
create table letter_link_key (
    site text collate "C" primary key,
    secret bytea not null,
    created bigint not null
);

alter table public_link add column letter text collate "C";
