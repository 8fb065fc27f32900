-- Which jobs have a check after wear that runs: asked whenever one begins, since a place on a winder holds one watch.

create index agenda_running_check on agenda (site, stream) where kind = 'wear-check';
