/** The first migration: every record kind, history and the content of files. */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { createPlant } from "../../host/plant-file.ts";
import { APPLICATION_ID } from "../../host/recognise.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder } from "../support/plant.ts";
import { query } from "./old-plant.ts";

/** Kinds that came with later migrations. */
const LATER: ReadonlySet<string> = new Set(["label_template", "label_sheet"]);
const FIRST = KIND_NAMES.filter((kind) => !LATER.has(kind));

let path: string;
beforeAll(async () => {
  path = join(newFolder(), "first.strandbook");
  await createPlant(path, "First", MIGRATIONS.slice(0, 1));
});

const keysOf = (kind: string) =>
  query<{ table: string; from: string; to: string }>(path, `PRAGMA foreign_key_list(${kind})`);

describe("a file made by the first migration", () => {
  it("bears the number of plant files and version 1", () => {
    expect(query(path, "PRAGMA application_id")).toEqual([{ application_id: APPLICATION_ID }]);
    expect(query(path, "PRAGMA user_version")).toEqual([{ user_version: 1 }]);
  });

  it("has a strict table for every record kind, for history and for the content of files", () => {
    const tables = query<{ name: string; strict: number }>(
      path,
      "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'",
    );
    expect(tables.filter((table) => table.strict === 0)).toEqual([]);
    expect(tables.map((table) => table.name).sort()).toEqual(
      [...FIRST, "change_set", "change_entry", "content"].sort(),
    );
  });

  it("never gives the id of a deleted record to another", () => {
    const reusing = FIRST.filter((kind) => {
      const [table] = query<{ sql: string }>(path, `SELECT sql FROM sqlite_schema WHERE name = '${kind}'`);
      return !table?.sql.includes("AUTOINCREMENT");
    });
    expect(reusing).toEqual([]);
  });

  it("refers only to tables and columns that exist", () => {
    const broken = FIRST.flatMap((kind) =>
      keysOf(kind).filter(({ table, to }) => to !== "id" || query(path, `PRAGMA table_info(${table})`).length === 0),
    );
    expect(FIRST.flatMap(keysOf).length).toBeGreaterThan(100);
    expect(broken).toEqual([]);
  });

  it("finds every record that refers to another by an index", () => {
    const slow = FIRST.flatMap((kind) => {
      const indexed = query<{ name: string }>(path, `PRAGMA index_list(${kind})`).map(
        ({ name }) => query<{ name: string | null }>(path, `PRAGMA index_info(${name})`)[0]?.name,
      );
      return keysOf(kind).flatMap(({ from }) => (indexed.includes(from) ? [] : [`${kind}.${from}`]));
    });
    expect(slow).toEqual([]);
  });

  it("holds one record: the plant", () => {
    expect(query(path, "SELECT id, rev, name FROM plant")).toEqual([{ id: 1, rev: 0, name: "First" }]);
  });
});
