-- Which jobs have a check after wear that runs: asked whenever one begins, since a place on a winder holds one watch.

create index agenda_running_check on agenda (site, stream) where kind = 'wear-check';

insert into sqlite_stat1 (tbl, idx, stat) values
    ('agenda', 'agenda_running_check', '200 200 1');
