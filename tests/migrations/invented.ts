/** Two migrations after the newest one, as a later program might bring them: a table rebuilt, and one added and filled. */
import { newestVersion } from "../../host/migrate.ts";
import { MIGRATIONS, type Migration } from "../../migrations/index.ts";

const newest = newestVersion(MIGRATIONS);

const REBUILD = `
-- Every building gets a campus; a table can't be given a required column in place, so it is rebuilt.
CREATE TABLE rebuilt (
  id INTEGER PRIMARY KEY AUTOINCREMENT, rev INTEGER NOT NULL, tag TEXT NOT NULL, life TEXT NOT NULL,
  campus TEXT NOT NULL CHECK (campus <> '')
) STRICT;
INSERT INTO rebuilt (id, rev, tag, life, campus) SELECT id, rev, tag, life, 'main' FROM building;
DROP TABLE building;
ALTER TABLE rebuilt RENAME TO building;
CREATE UNIQUE INDEX building_key ON building (tag);
`;

const ADD = `
CREATE TABLE remark (id INTEGER PRIMARY KEY, building_id INTEGER NOT NULL REFERENCES building (id), text TEXT) STRICT;
INSERT INTO remark (building_id, text) SELECT id, 'moved; ''kept''' FROM building;
UPDATE plant SET notes = 'upgraded';
`;

const invented = (after: number, name: string, text: string): Migration => ({
  version: newest + after,
  name,
  text: () => text,
});

export const LATER: readonly Migration[] = [
  ...MIGRATIONS,
  invented(1, "rebuild-building", REBUILD),
  invented(2, "add-remark", ADD),
];

/** Ends in a reference that leads nowhere. */
export const DANGLING: readonly Migration[] = [...MIGRATIONS, invented(1, "dangling", "DELETE FROM building;")];
