-- What lies on the clerk's desk and is no record yet: an entry left unfinished, and how sheets of one source are read. It
-- is kept beside the history and not in it: a letter typed is no change of the plant, so nothing here is undone, compared,
-- merged or exchanged. Each keeping counts up, so that a second window doesn't write over what it hasn't seen.
CREATE TABLE desk (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  form TEXT NOT NULL,
  name TEXT NOT NULL,
  content TEXT NOT NULL CHECK (json_valid(content)),
  kept INTEGER NOT NULL,
  kept_at TEXT NOT NULL,
  kept_by TEXT NOT NULL,
  entered INTEGER REFERENCES change_set (id) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX desk_by_form ON desk (form, name);
CREATE INDEX desk_by_entered ON desk (entered) WHERE entered IS NOT NULL;
