/** Brings a plant file to the newest version of the schema, wholly or not at all. */
import type { Migration } from "../migrations/index.ts";
import type { Connection } from "./sqlite-connection.ts";
import { statementsOf } from "./sqlite-statements.ts";

export const versionOf = (connection: Connection): number => Number(connection.pragma("user_version"));

export const newestVersion = (migrations: readonly Migration[]): number => migrations.at(-1)?.version ?? 0;

/**
 * Runs all migrations that the file lacks in one transaction; `also` runs at its end, inside it. Whatever goes wrong,
 * the file is as it was. Answers the version it found.
 */
export function migrate(connection: Connection, migrations: readonly Migration[], also: () => void = () => {}): number {
  // Rebuilding a table drops the old one, which with keys on would delete or refuse what refers to it. The switch does
  // nothing inside a transaction, so it stands outside.
  connection.pragma("foreign_keys = OFF");
  try {
    connection.run("BEGIN IMMEDIATE");
    const found = versionOf(connection);
    let version = found;
    for (const migration of migrations) {
      if (migration.version <= found) continue;
      if (migration.version !== version + 1) {
        throw new Error(`migration ${migration.name} doesn't follow version ${version}`);
      }
      for (const statement of statementsOf(migration.text())) connection.run(statement);
      version = migration.version;
    }
    also();
    const [dangling] = connection.rows<{ table: string; parent: string }>("PRAGMA foreign_key_check");
    if (dangling) throw new Error(`after the migration ${dangling.table} names a ${dangling.parent} that isn't there`);
    connection.pragma(`user_version = ${version}`);
    connection.run("COMMIT");
    return found;
  } catch (error) {
    if (connection.inTransaction) connection.run("ROLLBACK");
    throw error;
  } finally {
    connection.pragma("foreign_keys = ON");
  }
}
