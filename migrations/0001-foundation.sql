-- Every record kind of a plant, its history and its files.
-- Frozen: a later change is a further migration.
-- Foreign keys are held at the commit, for the records of one act may name each other in any order. It is said here and not
-- by a pragma at each write, since such a pragma makes the engine prepare every statement anew.

CREATE TABLE plant (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  name TEXT NOT NULL,
  length_unit TEXT NOT NULL,
  colour_sequence TEXT NOT NULL,
  label_due TEXT NOT NULL,
  port_labels TEXT NOT NULL,
  label_patterns TEXT,
  old_label_patterns TEXT,
  tag_patterns TEXT,
  authority TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX plant_key ON plant (name);

CREATE TABLE party (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  role TEXT,
  contact_day TEXT,
  contact_night TEXT,
  agreement TEXT,
  until_on TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX party_key ON party (tag);
CREATE INDEX party_by_basis_visit ON party (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX party_by_basis_paper ON party (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX party_by_tag_key ON party (tag_key);

CREATE TABLE limit_value (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  meaning TEXT,
  value REAL,
  unit TEXT,
  published REAL,
  edition TEXT,
  source TEXT,
  how_known TEXT,
  reason TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX limit_value_key ON limit_value (tag);
CREATE INDEX limit_value_by_tag_key ON limit_value (tag_key);

CREATE TABLE building (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  use TEXT,
  longitude REAL,
  latitude REAL,
  outline TEXT,
  entrances TEXT,
  ways_wanted INTEGER,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX building_key ON building (tag);
CREATE INDEX building_by_life_job ON building (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX building_by_owner ON building (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX building_by_basis_visit ON building (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX building_by_basis_paper ON building (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX building_by_tag_key ON building (tag_key);

CREATE TABLE space (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  building_id INTEGER REFERENCES building (id) DEFERRABLE INITIALLY DEFERRED,
  floor TEXT,
  kind TEXT,
  environment TEXT,
  longitude REAL,
  latitude REAL,
  accuracy_m REAL,
  inner_length_m REAL,
  inner_width_m REAL,
  inner_depth_m REAL,
  crossing_m REAL,
  reach_m REAL,
  hazards TEXT,
  key_holder_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX space_key ON space (coalesce(building_id, 0), tag);
CREATE INDEX space_by_tag ON space (tag);
CREATE INDEX space_by_building ON space (building_id) WHERE building_id IS NOT NULL;
CREATE INDEX space_by_key_holder ON space (key_holder_id) WHERE key_holder_id IS NOT NULL;
CREATE INDEX space_by_life_job ON space (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX space_by_owner ON space (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX space_by_basis_visit ON space (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX space_by_basis_paper ON space (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX space_by_tag_key ON space (tag_key);

CREATE TABLE busbar (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  space_id INTEGER NOT NULL REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  connected_to TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX busbar_key ON busbar (space_id, tag);
CREATE INDEX busbar_by_life_job ON busbar (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX busbar_by_owner ON busbar (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX busbar_by_basis_visit ON busbar (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX busbar_by_basis_paper ON busbar (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX busbar_by_tag_key ON busbar (tag_key);

CREATE TABLE pathway (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  kind TEXT,
  from_space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  to_space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  from_wall TEXT,
  to_wall TEXT,
  length_m REAL,
  entrance_m REAL,
  environment TEXT,
  depth_m REAL,
  geometry TEXT,
  accuracy_m REAL,
  located_by TEXT,
  exposure TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX pathway_key ON pathway (tag);
CREATE INDEX pathway_by_from_space ON pathway (from_space_id);
CREATE INDEX pathway_by_to_space ON pathway (to_space_id);
CREATE INDEX pathway_by_life_job ON pathway (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX pathway_by_owner ON pathway (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX pathway_by_basis_visit ON pathway (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX pathway_by_basis_paper ON pathway (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX pathway_by_tag_key ON pathway (tag_key);

CREATE TABLE conduit (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  pathway_id INTEGER NOT NULL REFERENCES pathway (id) DEFERRABLE INITIALLY DEFERRED,
  parent_id INTEGER REFERENCES conduit (id) DEFERRABLE INITIALLY DEFERRED,
  bank_row INTEGER,
  bank_column INTEGER,
  colour TEXT,
  material TEXT,
  trade_size TEXT,
  inner_diameter_mm REAL,
  state TEXT,
  pull_line TEXT,
  from_coupled_id INTEGER REFERENCES conduit (id) DEFERRABLE INITIALLY DEFERRED,
  to_coupled_id INTEGER REFERENCES conduit (id) DEFERRABLE INITIALLY DEFERRED,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX conduit_key ON conduit (pathway_id, tag);
CREATE INDEX conduit_by_parent ON conduit (parent_id);
CREATE INDEX conduit_by_from_coupled ON conduit (from_coupled_id) WHERE from_coupled_id IS NOT NULL;
CREATE INDEX conduit_by_to_coupled ON conduit (to_coupled_id) WHERE to_coupled_id IS NOT NULL;
CREATE INDEX conduit_by_life_job ON conduit (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX conduit_by_owner ON conduit (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX conduit_by_basis_visit ON conduit (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX conduit_by_basis_paper ON conduit (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX conduit_by_tag_key ON conduit (tag_key);

CREATE TABLE firestop (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  pathway_id INTEGER NOT NULL REFERENCES pathway (id) DEFERRABLE INITIALLY DEFERRED,
  rating TEXT,
  listed_system TEXT,
  made_on TEXT,
  opened_on TEXT,
  inspected_on TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX firestop_key ON firestop (pathway_id, tag);
CREATE INDEX firestop_by_life_job ON firestop (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX firestop_by_owner ON firestop (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX firestop_by_basis_visit ON firestop (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX firestop_by_basis_paper ON firestop (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX firestop_by_tag_key ON firestop (tag_key);

CREATE TABLE cable_type (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  maker TEXT,
  part TEXT,
  construction TEXT,
  lay TEXT,
  colour_sequence TEXT NOT NULL,
  unit_colours TEXT,
  strand_colours TEXT,
  fibre_class TEXT,
  armour TEXT,
  metal TEXT,
  water_blocking TEXT,
  uv_resistant TEXT,
  environment TEXT,
  fire_marking TEXT,
  outer_diameter_mm REAL,
  bend_radius_loaded_mm REAL,
  bend_radius_mm REAL,
  max_tension_n REAL,
  excess_ratio REAL,
  index_850 REAL,
  index_1300 REAL,
  index_1310 REAL,
  index_1550 REAL,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX cable_type_key ON cable_type (tag);
CREATE INDEX cable_type_by_basis_visit ON cable_type (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX cable_type_by_basis_paper ON cable_type (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX cable_type_by_tag_key ON cable_type (tag_key);

CREATE TABLE unit_type (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  cable_type_id INTEGER NOT NULL REFERENCES cable_type (id) DEFERRABLE INITIALLY DEFERRED,
  parent_id INTEGER REFERENCES unit_type (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  kind TEXT NOT NULL,
  repeats INTEGER NOT NULL,
  strands INTEGER NOT NULL,
  fibre_class TEXT,
  coating_um TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX unit_type_key ON unit_type (cable_type_id, coalesce(parent_id, 0), ordinal);
CREATE INDEX unit_type_by_parent ON unit_type (parent_id) WHERE parent_id IS NOT NULL;

CREATE TABLE cable (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  type_id INTEGER REFERENCES cable_type (id) DEFERRABLE INITIALLY DEFERRED,
  differs TEXT,
  colour_sequence TEXT,
  unit_colours TEXT,
  strand_colours TEXT,
  run TEXT,
  reel TEXT,
  mark_unit TEXT,
  mark_breaks TEXT,
  sheath TEXT,
  installed_on TEXT,
  warranty_until TEXT,
  warranty_conditions TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX cable_key ON cable (tag);
CREATE INDEX cable_by_run ON cable (run);
CREATE INDEX cable_by_type ON cable (type_id) WHERE type_id IS NOT NULL;
CREATE INDEX cable_by_life_job ON cable (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX cable_by_owner ON cable (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX cable_by_basis_visit ON cable (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX cable_by_basis_paper ON cable (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX cable_by_tag_key ON cable (tag_key);

CREATE TABLE stop (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  cable_id INTEGER NOT NULL REFERENCES cable (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT NOT NULL,
  reachable TEXT,
  mark_in REAL,
  mark_open_from REAL,
  mark_open_to REAL,
  mark_out REAL,
  marks_basis TEXT,
  slack_m REAL,
  storage TEXT,
  coil_diameter_mm REAL,
  closure_id INTEGER REFERENCES closure (id) DEFERRABLE INITIALLY DEFERRED,
  metal TEXT,
  metal_on TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX stop_key ON stop (cable_id, ordinal);
CREATE INDEX stop_by_space ON stop (space_id);
CREATE INDEX stop_by_closure ON stop (closure_id);
CREATE INDEX stop_by_basis_visit ON stop (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX stop_by_basis_paper ON stop (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE leg (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  from_stop_id INTEGER NOT NULL REFERENCES stop (id) DEFERRABLE INITIALLY DEFERRED,
  to_stop_id INTEGER NOT NULL REFERENCES stop (id) DEFERRABLE INITIALLY DEFERRED,
  pathway_id INTEGER REFERENCES pathway (id) DEFERRABLE INITIALLY DEFERRED,
  conduit_id INTEGER REFERENCES conduit (id) DEFERRABLE INITIALLY DEFERRED,
  held TEXT,
  slides TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX leg_by_from_stop ON leg (from_stop_id);
CREATE INDEX leg_by_to_stop ON leg (to_stop_id);
CREATE INDEX leg_by_pathway ON leg (pathway_id);
CREATE INDEX leg_by_conduit ON leg (conduit_id);
CREATE INDEX leg_by_life_job ON leg (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX leg_by_owner ON leg (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX leg_by_basis_visit ON leg (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX leg_by_basis_paper ON leg (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE unit (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  cable_id INTEGER NOT NULL REFERENCES cable (id) DEFERRABLE INITIALLY DEFERRED,
  parent_id INTEGER REFERENCES unit (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  kind TEXT NOT NULL,
  colour TEXT,
  fibre_class TEXT,
  coating_um TEXT,
  mark TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX unit_key ON unit (cable_id, coalesce(parent_id, 0), ordinal);
CREATE INDEX unit_by_parent ON unit (parent_id);
CREATE INDEX unit_by_basis_visit ON unit (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX unit_by_basis_paper ON unit (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE strand (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  cable_id INTEGER NOT NULL REFERENCES cable (id) DEFERRABLE INITIALLY DEFERRED,
  number INTEGER NOT NULL,
  unit_id INTEGER REFERENCES unit (id) DEFERRABLE INITIALLY DEFERRED,
  place INTEGER,
  colour TEXT,
  condition TEXT,
  condition_why TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX strand_key ON strand (cable_id, number);
CREATE INDEX strand_by_unit ON strand (unit_id);
CREATE INDEX strand_by_basis_visit ON strand (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX strand_by_basis_paper ON strand (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE section (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  strand_id INTEGER NOT NULL REFERENCES strand (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  a_stop_id INTEGER REFERENCES stop (id) DEFERRABLE INITIALLY DEFERRED,
  b_stop_id INTEGER REFERENCES stop (id) DEFERRABLE INITIALLY DEFERRED,
  a_stub TEXT,
  b_stub TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX section_key ON section (strand_id, ordinal);
CREATE INDEX section_by_a_stop ON section (a_stop_id);
CREATE INDEX section_by_b_stop ON section (b_stop_id);
CREATE INDEX section_by_basis_visit ON section (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX section_by_basis_paper ON section (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE closure (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  panel_id INTEGER REFERENCES panel (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT,
  entries INTEGER,
  capacity INTEGER,
  position TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX closure_key ON closure (coalesce(space_id, 0), tag);
CREATE INDEX closure_by_space ON closure (space_id) WHERE space_id IS NOT NULL;
CREATE INDEX closure_by_panel ON closure (panel_id) WHERE panel_id IS NOT NULL;
CREATE INDEX closure_by_life_job ON closure (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX closure_by_owner ON closure (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX closure_by_basis_visit ON closure (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX closure_by_basis_paper ON closure (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX closure_by_tag_key ON closure (tag_key);

CREATE TABLE tray (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  closure_id INTEGER NOT NULL REFERENCES closure (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER,
  capacity INTEGER,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX tray_key ON tray (closure_id, tag);
CREATE INDEX tray_by_life_job ON tray (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX tray_by_owner ON tray (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX tray_by_basis_visit ON tray (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX tray_by_basis_paper ON tray (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX tray_by_tag_key ON tray (tag_key);

CREATE TABLE splice (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tray_id INTEGER REFERENCES tray (id) DEFERRABLE INITIALLY DEFERRED,
  place INTEGER,
  a_section_id INTEGER NOT NULL REFERENCES section (id) DEFERRABLE INITIALLY DEFERRED,
  a_side TEXT NOT NULL CHECK (a_side IN ('A', 'B')),
  b_section_id INTEGER NOT NULL REFERENCES section (id) DEFERRABLE INITIALLY DEFERRED,
  b_side TEXT NOT NULL CHECK (b_side IN ('A', 'B')),
  method TEXT,
  form TEXT,
  loss_ab_db REAL,
  loss_ba_db REAL,
  loss_basis TEXT,
  made_on TEXT,
  made_by TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX splice_by_a_section_a_side_life_b_section_b_side ON splice (a_section_id, a_side, life, b_section_id, b_side);
CREATE INDEX splice_by_b_section_b_side_life_a_section_a_side ON splice (b_section_id, b_side, life, a_section_id, a_side);
CREATE INDEX splice_by_tray_place ON splice (tray_id, place);
CREATE INDEX splice_by_life_job ON splice (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX splice_by_owner ON splice (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX splice_by_basis_visit ON splice (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX splice_by_basis_paper ON splice (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE panel (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  former_tags TEXT,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  rack TEXT,
  rack_unit INTEGER,
  height_u INTEGER,
  rows INTEGER,
  kind TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX panel_key ON panel (coalesce(space_id, 0), tag);
CREATE INDEX panel_by_space ON panel (space_id) WHERE space_id IS NOT NULL;
CREATE INDEX panel_by_life_job ON panel (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX panel_by_owner ON panel (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX panel_by_basis_visit ON panel (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX panel_by_basis_paper ON panel (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX panel_by_tag_key ON panel (tag_key);

CREATE TABLE module (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  panel_id INTEGER REFERENCES panel (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT NOT NULL,
  slot TEXT,
  model TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX module_key ON module (coalesce(space_id, 0), coalesce(panel_id, 0), tag);
CREATE INDEX module_by_space ON module (space_id) WHERE space_id IS NOT NULL;
CREATE INDEX module_by_panel ON module (panel_id) WHERE panel_id IS NOT NULL;
CREATE INDEX module_by_life_job ON module (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX module_by_owner ON module (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX module_by_basis_visit ON module (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX module_by_basis_paper ON module (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX module_by_tag_key ON module (tag_key);

CREATE TABLE port (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  former_tags TEXT,
  panel_id INTEGER REFERENCES panel (id) DEFERRABLE INITIALLY DEFERRED,
  module_id INTEGER REFERENCES module (id) DEFERRABLE INITIALLY DEFERRED,
  device_id INTEGER REFERENCES device (id) DEFERRABLE INITIALLY DEFERRED,
  face_row INTEGER,
  connector TEXT,
  polish TEXT,
  adapter_colour TEXT,
  condition TEXT,
  front TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX port_key ON port (coalesce(panel_id, 0), coalesce(module_id, 0), coalesce(device_id, 0), tag);
CREATE INDEX port_by_module ON port (module_id);
CREATE INDEX port_by_device ON port (device_id);
CREATE INDEX port_by_panel ON port (panel_id) WHERE panel_id IS NOT NULL;
CREATE INDEX port_by_life_job ON port (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX port_by_owner ON port (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX port_by_basis_visit ON port (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX port_by_basis_paper ON port (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX port_by_tag_key ON port (tag_key);

CREATE TABLE position (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  port_id INTEGER NOT NULL REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX position_key ON position (port_id, ordinal);

CREATE TABLE module_join (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  module_id INTEGER NOT NULL REFERENCES module (id) DEFERRABLE INITIALLY DEFERRED,
  a_position_id INTEGER NOT NULL REFERENCES position (id) DEFERRABLE INITIALLY DEFERRED,
  a_side TEXT NOT NULL CHECK (a_side IN ('back', 'front')),
  b_position_id INTEGER NOT NULL REFERENCES position (id) DEFERRABLE INITIALLY DEFERRED,
  b_side TEXT NOT NULL CHECK (b_side IN ('back', 'front')),
  band TEXT,
  loss_db REAL,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX module_join_by_a_position_a_side_b_position_b_side ON module_join (a_position_id, a_side, b_position_id, b_side);
CREATE INDEX module_join_by_b_position_b_side_a_position_a_side ON module_join (b_position_id, b_side, a_position_id, a_side);
CREATE INDEX module_join_by_module ON module_join (module_id);
CREATE INDEX module_join_by_basis_visit ON module_join (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX module_join_by_basis_paper ON module_join (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE termination (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  section_id INTEGER NOT NULL REFERENCES section (id) DEFERRABLE INITIALLY DEFERRED,
  side TEXT NOT NULL CHECK (side IN ('A', 'B')),
  position_id INTEGER NOT NULL REFERENCES position (id) DEFERRABLE INITIALLY DEFERRED,
  method TEXT,
  tray_id INTEGER REFERENCES tray (id) DEFERRABLE INITIALLY DEFERRED,
  place INTEGER,
  loss_db REAL,
  loss_basis TEXT,
  made_on TEXT,
  made_by TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX termination_by_section_side_life_position ON termination (section_id, side, life, position_id);
CREATE INDEX termination_by_position_life_section_side ON termination (position_id, life, section_id, side);
CREATE INDEX termination_by_tray ON termination (tray_id);
CREATE INDEX termination_by_life_job ON termination (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX termination_by_owner ON termination (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX termination_by_basis_visit ON termination (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX termination_by_basis_paper ON termination (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE cord (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT,
  tag_key TEXT,
  a_port_id INTEGER REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  a_first INTEGER NOT NULL,
  b_port_id INTEGER REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  b_first INTEGER NOT NULL,
  fibres INTEGER NOT NULL,
  map TEXT NOT NULL,
  length_m REAL,
  a_connector TEXT,
  b_connector TEXT,
  fibre_class TEXT,
  colour TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX cord_by_a_port_life_b_port ON cord (a_port_id, life, b_port_id);
CREATE INDEX cord_by_b_port_life_a_port ON cord (b_port_id, life, a_port_id);
CREATE INDEX cord_by_tag ON cord (tag);
CREATE INDEX cord_by_life_job ON cord (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX cord_by_owner ON cord (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX cord_by_basis_visit ON cord (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX cord_by_basis_paper ON cord (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX cord_by_tag_key ON cord (tag_key);

CREATE TABLE device (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  rack TEXT,
  rack_unit INTEGER,
  model TEXT,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX device_key ON device (coalesce(space_id, 0), tag);
CREATE INDEX device_by_space ON device (space_id) WHERE space_id IS NOT NULL;
CREATE INDEX device_by_life_job ON device (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX device_by_owner ON device (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX device_by_basis_visit ON device (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX device_by_basis_paper ON device (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX device_by_tag_key ON device (tag_key);

CREATE TABLE interface (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  port_id INTEGER NOT NULL REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  application TEXT,
  transmit_position INTEGER,
  receive_position INTEGER,
  wavelength_nm REAL,
  launch_min_dbm REAL,
  launch_max_dbm REAL,
  sensitivity_dbm REAL,
  overload_dbm REAL,
  hazard_level TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX interface_key ON interface (port_id);
CREATE INDEX interface_by_basis_visit ON interface (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX interface_by_basis_paper ON interface (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE circuit (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  name TEXT,
  application TEXT,
  strands INTEGER,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  priority INTEGER,
  state TEXT NOT NULL,
  state_since TEXT,
  reserved_until TEXT,
  a_port_id INTEGER REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  z_port_id INTEGER REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  a_party_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  z_party_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  a_reference TEXT,
  z_reference TEXT,
  rides_on_id INTEGER REFERENCES circuit (id) DEFERRABLE INITIALLY DEFERRED,
  job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX circuit_key ON circuit (tag);
CREATE INDEX circuit_by_a_port ON circuit (a_port_id);
CREATE INDEX circuit_by_z_port ON circuit (z_port_id);
CREATE INDEX circuit_by_owner ON circuit (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX circuit_by_a_party ON circuit (a_party_id) WHERE a_party_id IS NOT NULL;
CREATE INDEX circuit_by_z_party ON circuit (z_party_id) WHERE z_party_id IS NOT NULL;
CREATE INDEX circuit_by_rides_on ON circuit (rides_on_id) WHERE rides_on_id IS NOT NULL;
CREATE INDEX circuit_by_job ON circuit (job_id) WHERE job_id IS NOT NULL;
CREATE INDEX circuit_by_basis_visit ON circuit (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX circuit_by_basis_paper ON circuit (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX circuit_by_tag_key ON circuit (tag_key);

CREATE TABLE diversity (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  circuit_id INTEGER NOT NULL REFERENCES circuit (id) DEFERRABLE INITIALLY DEFERRED,
  other_id INTEGER NOT NULL REFERENCES circuit (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX diversity_key ON diversity (circuit_id, other_id);
CREATE INDEX diversity_by_other ON diversity (other_id);
CREATE INDEX diversity_by_basis_visit ON diversity (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX diversity_by_basis_paper ON diversity (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE assignment (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  circuit_id INTEGER NOT NULL REFERENCES circuit (id) DEFERRABLE INITIALLY DEFERRED,
  section_id INTEGER NOT NULL REFERENCES section (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER,
  role TEXT NOT NULL,
  band TEXT,
  from_on TEXT,
  until_on TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX assignment_by_section ON assignment (section_id);
CREATE INDEX assignment_by_circuit_ordinal ON assignment (circuit_id, ordinal);
CREATE INDEX assignment_by_basis_visit ON assignment (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX assignment_by_basis_paper ON assignment (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE bond (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  busbar_id INTEGER NOT NULL REFERENCES busbar (id) DEFERRABLE INITIALLY DEFERRED,
  stop_id INTEGER REFERENCES stop (id) DEFERRABLE INITIALLY DEFERRED,
  closure_id INTEGER REFERENCES closure (id) DEFERRABLE INITIALLY DEFERRED,
  panel_id INTEGER REFERENCES panel (id) DEFERRABLE INITIALLY DEFERRED,
  conductor TEXT,
  tested_on TEXT,
  resistance_ohm REAL,
  life TEXT NOT NULL,
  life_from TEXT,
  life_until TEXT,
  life_job_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  owner_id INTEGER REFERENCES party (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX bond_by_busbar ON bond (busbar_id);
CREATE INDEX bond_by_stop ON bond (stop_id) WHERE stop_id IS NOT NULL;
CREATE INDEX bond_by_closure ON bond (closure_id) WHERE closure_id IS NOT NULL;
CREATE INDEX bond_by_panel ON bond (panel_id) WHERE panel_id IS NOT NULL;
CREATE INDEX bond_by_life_job ON bond (life_job_id) WHERE life_job_id IS NOT NULL;
CREATE INDEX bond_by_owner ON bond (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX bond_by_basis_visit ON bond (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX bond_by_basis_paper ON bond (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE label (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  subject_kind TEXT NOT NULL,
  subject_id INTEGER NOT NULL,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  text TEXT,
  text_read TEXT,
  state TEXT,
  seen_on TEXT,
  seen_by TEXT,
  printed_on TEXT,
  due_on TEXT,
  due_why TEXT,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE INDEX label_by_subject_kind_subject ON label (subject_kind, subject_id);
CREATE INDEX label_by_space ON label (space_id) WHERE space_id IS NOT NULL;
CREATE INDEX label_by_basis_visit ON label (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX label_by_basis_paper ON label (basis_paper_id) WHERE basis_paper_id IS NOT NULL;

CREATE TABLE visit (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  made_on TEXT NOT NULL,
  made_by TEXT,
  space_id INTEGER REFERENCES space (id) DEFERRABLE INITIALLY DEFERRED,
  cable_id INTEGER REFERENCES cable (id) DEFERRABLE INITIALLY DEFERRED,
  extent TEXT NOT NULL,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX visit_key ON visit (tag);
CREATE INDEX visit_by_space_made_on ON visit (space_id, made_on);
CREATE INDEX visit_by_cable_made_on ON visit (cable_id, made_on);
CREATE INDEX visit_by_tag_key ON visit (tag_key);

CREATE TABLE measurement (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  method TEXT NOT NULL,
  subject_kind TEXT NOT NULL,
  subject_id INTEGER NOT NULL,
  far_port_id INTEGER REFERENCES port (id) DEFERRABLE INITIALLY DEFERRED,
  wavelength_nm REAL,
  direction TEXT,
  reference_method TEXT,
  loss_db REAL,
  length_m REAL,
  reflectance_db REAL,
  group_index REAL,
  cords_included TEXT,
  measured_on TEXT,
  measured_by TEXT,
  file_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX measurement_key ON measurement (tag);
CREATE INDEX measurement_by_subject_kind_subject ON measurement (subject_kind, subject_id);
CREATE INDEX measurement_by_far_port ON measurement (far_port_id) WHERE far_port_id IS NOT NULL;
CREATE INDEX measurement_by_file ON measurement (file_id) WHERE file_id IS NOT NULL;
CREATE INDEX measurement_by_basis_visit ON measurement (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX measurement_by_basis_paper ON measurement (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX measurement_by_tag_key ON measurement (tag_key);

CREATE TABLE measurement_event (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  measurement_id INTEGER NOT NULL REFERENCES measurement (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  kind TEXT,
  distance_m REAL,
  loss_db REAL,
  reflectance_db REAL,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX measurement_event_key ON measurement_event (measurement_id, ordinal);

CREATE TABLE attachment (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  subject_kind TEXT NOT NULL,
  subject_id INTEGER NOT NULL,
  name TEXT NOT NULL,
  media_type TEXT,
  content_hash TEXT NOT NULL,
  bytes INTEGER,
  taken_on TEXT,
  taken_by TEXT,
  notes TEXT
) STRICT;
CREATE INDEX attachment_by_subject_kind_subject ON attachment (subject_kind, subject_id);
CREATE INDEX attachment_by_content_hash ON attachment (content_hash);

CREATE TABLE exception (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  rule TEXT NOT NULL,
  finding TEXT NOT NULL,
  facts_digest TEXT NOT NULL,
  facts TEXT,
  reason TEXT NOT NULL,
  accepted_by TEXT NOT NULL,
  accepted_on TEXT NOT NULL,
  review_on TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX exception_key ON exception (rule, finding);

CREATE TABLE sign_off (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  signed_by TEXT NOT NULL,
  signed_on TEXT NOT NULL,
  content_hash TEXT NOT NULL,
  rules_version TEXT NOT NULL,
  change_set INTEGER NOT NULL,
  findings TEXT,
  notes TEXT
) STRICT;

CREATE TABLE job (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  tag TEXT NOT NULL,
  tag_key TEXT,
  reason TEXT,
  state TEXT NOT NULL,
  people TEXT,
  starts_on TEXT,
  ends_on TEXT,
  lasting TEXT,
  replace_by TEXT,
  follows_id INTEGER REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  basis TEXT,
  basis_visit_id INTEGER REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  basis_paper_id INTEGER REFERENCES attachment (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX job_key ON job (tag);
CREATE INDEX job_by_follows ON job (follows_id) WHERE follows_id IS NOT NULL;
CREATE INDEX job_by_basis_visit ON job (basis_visit_id) WHERE basis_visit_id IS NOT NULL;
CREATE INDEX job_by_basis_paper ON job (basis_paper_id) WHERE basis_paper_id IS NOT NULL;
CREATE INDEX job_by_tag_key ON job (tag_key);

CREATE TABLE job_step (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  rev INTEGER NOT NULL,
  job_id INTEGER NOT NULL REFERENCES job (id) DEFERRABLE INITIALLY DEFERRED,
  ordinal INTEGER NOT NULL,
  act TEXT NOT NULL,
  input TEXT,
  state TEXT NOT NULL,
  done_on TEXT,
  done_by TEXT,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX job_step_key ON job_step (job_id, ordinal);

CREATE TABLE change_set (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  author TEXT NOT NULL,
  reason TEXT,
  act TEXT NOT NULL,
  summary TEXT NOT NULL,
  meaning TEXT NOT NULL CHECK (meaning IN ('change', 'correction')),
  day TEXT,
  verb TEXT NOT NULL CHECK (verb IN ('do', 'undo', 'redo')),
  target_id INTEGER REFERENCES change_set (id) DEFERRABLE INITIALLY DEFERRED,
  records INTEGER NOT NULL,
  hash TEXT NOT NULL
) STRICT;
CREATE INDEX change_set_by_target ON change_set (target_id) WHERE target_id IS NOT NULL;

CREATE TABLE change_entry (
  change_set_id INTEGER NOT NULL REFERENCES change_set (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  kind TEXT NOT NULL,
  op TEXT NOT NULL CHECK (op IN ('insert', 'update', 'delete', 'insert_range', 'delete_page')),
  record_id INTEGER NOT NULL,
  last_id INTEGER NOT NULL,
  data TEXT,
  PRIMARY KEY (change_set_id, seq)
) STRICT, WITHOUT ROWID;
CREATE INDEX change_entry_by_record ON change_entry (kind, record_id, last_id);

CREATE TABLE content (
  hash TEXT NOT NULL PRIMARY KEY,
  bytes BLOB NOT NULL
) STRICT, WITHOUT ROWID;
