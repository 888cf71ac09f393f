/** The migrations in order. Each is SQL text beside this file; a published one never changes (`checksums.json`). */
import { readFileSync } from "node:fs";

export interface Migration {
  /** What `user_version` is afterwards. */
  readonly version: number;
  readonly name: string;
  /** The SQL text. */
  readonly text: () => string;
}

/** Reads the text of a migration. A bundled program passes a reader of its own. */
export type MigrationReader = (file: string) => string;

const beside: MigrationReader = (file) => readFileSync(new URL(file, import.meta.url), "utf8");

const NAMES = [
  "0001-foundation",
  "0002-desk",
  "0003-label-templates",
  "0004-pages-of-updates",
  "0005-kept-by",
  "0006-leg-sheath",
  "0007-merges-seen",
] as const;

export const migrations = (read: MigrationReader = beside): readonly Migration[] =>
  NAMES.map((name) => ({ version: Number(name.slice(0, 4)), name, text: () => read(`./${name}.sql`) }));

export const MIGRATIONS = migrations();
