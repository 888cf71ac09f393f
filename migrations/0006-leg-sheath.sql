-- Sheath along a leg: as planned where a piece lies in none of the ways on record, or as it was measured.
-- Frozen: a later change is a further migration.

ALTER TABLE leg ADD COLUMN length_m REAL;
ALTER TABLE leg ADD COLUMN length_basis TEXT;
