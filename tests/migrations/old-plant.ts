/** Plant files of the present version with content that refers to each other, as bytes, to be upgraded. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { newestVersion } from "../../host/migrate.ts";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder } from "../support/plant.ts";

export const PRESENT = newestVersion(MIGRATIONS);

/** `buildings` buildings, each with a space in it. */
export async function oldPlant(buildings: number): Promise<Buffer> {
  const path = join(newFolder(), "old.strandbook");
  await createPlant(path, "Old Campus");
  const connection = new Connection(path);
  connection.run("BEGIN");
  for (let id = 1; id <= buildings; id++) {
    connection.run("INSERT INTO building (id, rev, tag, life) VALUES (?, 0, ?, 'in_place')", [id, `B${id}`]);
    connection.run(
      "INSERT INTO space (id, rev, tag, kind, building_id, life) VALUES (?, 0, '1', 'telecom_room', ?, 'in_place')",
      [id, id],
    );
  }
  connection.run("COMMIT");
  connection.close();
  return readFileSync(path);
}

export function placed(content: Buffer): string {
  const path = join(newFolder(), "campus.strandbook");
  writeFileSync(path, content);
  return path;
}

/** The schema as its texts, without the tables that the engine keeps for itself. */
export function schemaOf(path: string): string[] {
  const connection = new Connection(path, { readOnly: true });
  const rows = connection.rows<{ sql: string }>(
    "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY type, name",
  );
  connection.close();
  return rows.map((row) => row.sql.replaceAll(/\s+/g, " "));
}

export function query<T>(path: string, sql: string): T[] {
  const connection = new Connection(path, { readOnly: true });
  try {
    return connection.rows<T>(sql);
  } finally {
    connection.close();
  }
}
