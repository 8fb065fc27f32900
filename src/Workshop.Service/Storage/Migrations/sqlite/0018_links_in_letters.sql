-- What the addresses in letters are derived from, so that a letter that is sent again holds the same one; and which letter a link stands in.
create table letter_link_key (
    site text not null primary key,
    secret blob not null,
    created integer not null
) strict, without rowid;

alter table public_link add column letter text;
