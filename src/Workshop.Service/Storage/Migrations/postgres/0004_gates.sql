-- What gates had to say about events that were decided: one row for each gate that did not pass by itself, none for an event that met no
-- such gate. "about" is the stage or piece the event speaks of; "position" the last one given out before the decision, or the entry's own.

create table gate_word (
    site text collate "C" not null,
    at bigint not null,
    source text collate "C" not null,
    id text collate "C" not null,
    gate text collate "C" not null,
    said text collate "C" not null check (said in ('refused', 'asked', 'noted', 'flagged', 'tapped', 'waived', 'settled')),
    job text collate "C" not null,
    type text collate "C" not null,
    about text collate "C",
    position bigint not null,
    primary key (site, at, source, id, gate, said)
);
