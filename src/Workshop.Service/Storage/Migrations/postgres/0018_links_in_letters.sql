-- What the addresses in letters are derived from, so that a letter that is sent again holds the same one; and which letter a link stands in.
create table letter_link_key (
    site text collate "C" primary key,
    secret bytea not null,
    created bigint not null
);

alter table public_link add column letter text collate "C";

-- When a letter was given up after its last attempt, as long as somebody is still to be told what it says.
alter table letter add column given_up bigint;

create index letter_given_up on letter (site, given_up) where given_up is not null;
