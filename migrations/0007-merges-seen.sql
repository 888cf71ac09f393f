-- How far another file of this plant was seen when it was merged, and which record of this file stands for which of that
-- one's new ones: what was settled then isn't asked again. A row counts as long as its change set isn't undone.
-- Frozen: a later change is a further migration.

CREATE TABLE merge_seen (
  change_set_id INTEGER NOT NULL PRIMARY KEY REFERENCES change_set (id) DEFERRABLE INITIALLY DEFERRED,
  their_id INTEGER NOT NULL,
  their_hash TEXT NOT NULL,
  pairs TEXT NOT NULL CHECK (json_valid(pairs))
) STRICT;
