-- What the addresses in letters are derived from, so that a letter that is sent again holds the same one; and which letter a link stands in.
create table letter_link_key (
    site text not null primary key,
    secret blob not null,
    created integer not null
) strict, without rowid;

alter table public_link add column letter text;

-- When a letter was given up after its last attempt, as long as somebody is still to be told what it says.
alter table letter add column given_up integer;

create index letter_given_up on letter (site, given_up) where given_up is not null;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('letter_link_key', 'letter_link_key', '4 1'),
    ('letter', 'letter_given_up', '20 20 1');
