-- A change of very many records is kept in pages, as deletions are: 'update_page' is a further kind of entry.
-- Frozen: a later change is a further migration.

CREATE TABLE change_entry_paged (
  change_set_id INTEGER NOT NULL REFERENCES change_set (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  kind TEXT NOT NULL,
  op TEXT NOT NULL CHECK (op IN ('insert', 'update', 'delete', 'insert_range', 'delete_page', 'update_page')),
  record_id INTEGER NOT NULL,
  last_id INTEGER NOT NULL,
  data TEXT,
  PRIMARY KEY (change_set_id, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO change_entry_paged SELECT change_set_id, seq, kind, op, record_id, last_id, data FROM change_entry;
DROP TABLE change_entry;
ALTER TABLE change_entry_paged RENAME TO change_entry;
CREATE INDEX change_entry_by_record ON change_entry (kind, record_id, last_id);
