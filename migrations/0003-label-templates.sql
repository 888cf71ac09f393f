-- Wordings of labels by class of place, and the measures of label sheets and tapes.
-- Frozen: a later change is a further migration.

CREATE TABLE label_template (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  place TEXT NOT NULL,
  text TEXT NOT NULL,
  code TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX label_template_key ON label_template (tag);
CREATE INDEX label_template_by_tag_key ON label_template (tag_key);

CREATE TABLE label_sheet (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  form TEXT NOT NULL,
  page_width_mm REAL,
  page_height_mm REAL,
  label_width_mm REAL,
  label_height_mm REAL NOT NULL,
  print_height_mm REAL,
  columns INTEGER,
  rows INTEGER,
  left_mm REAL,
  top_mm REAL,
  pitch_x_mm REAL,
  pitch_y_mm REAL,
  corner_mm REAL,
  source TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX label_sheet_key ON label_sheet (tag);
CREATE INDEX label_sheet_by_tag_key ON label_sheet (tag_key);
