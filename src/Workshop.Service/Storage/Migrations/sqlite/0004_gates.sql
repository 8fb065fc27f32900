-- What gates had to say about events that were decided: one row for each gate that did not pass by itself, none for an event that met no
-- such gate. "about" is the stage or piece the event speaks of; "position" the last one given out before the decision, or the entry's own.

create table gate_word (
    site text not null,
    at integer not null,
    source text not null,
    id text not null,
    gate text not null,
    said text not null check (said in ('refused', 'asked', 'noted', 'flagged', 'tapped', 'waived', 'settled')),
    job text not null,
    type text not null,
    about text,
    position integer not null,
    primary key (site, at, source, id, gate, said)
) strict, without rowid;

insert into sqlite_stat1 (tbl, idx, stat) values
    ('gate_word', 'gate_word', '20000 20000 2 2 2 1 1');
