-- Who maintains a cable and mends it, where that is not its owner.
-- Frozen: a later change is a further migration.

ALTER TABLE cable ADD COLUMN kept_by_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED;
CREATE INDEX cable_by_kept_by ON cable (kept_by_id) WHERE kept_by_id IS NOT NULL;
