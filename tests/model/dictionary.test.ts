/** The dictionary against the database that the migrations make: neither may say what the other doesn't. */
import { describe, expect, it } from "vitest";
import { KIND_NAMES, type KindName, kindOf } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { newPlant } from "../support/plant.ts";

interface Column {
  name: string;
  type: string;
  notnull: number;
  pk: number;
}
interface ForeignKey {
  table: string;
  from: string;
  to: string;
}
interface Index {
  name: string;
  unique: number;
  sql: string;
}

const TYPES: Readonly<Record<Field["type"], string>> = {
  text: "TEXT",
  integer: "INTEGER",
  number: "REAL",
  date: "TEXT",
  choice: "TEXT",
  set: "TEXT",
  reference: "INTEGER",
  kind: "TEXT",
  subject: "INTEGER",
  shape: "TEXT",
};
const HISTORY = ["change_set", "change_entry", "content", "desk", "merge_seen"];

async function schema() {
  const plant = await newPlant();
  return plant.store.read(async (reader) => {
    const tables = await reader.rows<{ name: string; strict: number }>(
      "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%'",
    );
    const all = new Map<string, { columns: Column[]; keys: ForeignKey[]; indices: Index[] }>();
    for (const { name } of tables)
      all.set(name, {
        columns: await reader.rows<Column>(`SELECT name, type, "notnull", pk FROM pragma_table_info('${name}')`),
        keys: await reader.rows<ForeignKey>(`SELECT "table", "from", "to" FROM pragma_foreign_key_list('${name}')`),
        indices: await reader.rows<Index>(
          `SELECT l.name, l."unique", s.sql FROM pragma_index_list('${name}') l JOIN sqlite_master s ON s.name = l.name AND s.sql IS NOT NULL`,
        ),
      });
    return { tables, all };
  });
}

/** The columns or expressions of an index, as they stand in its text. */
const termsOf = (sql: string): string[] =>
  (/\((.*)\)(?: WHERE .*)?$/.exec(sql)?.[1] ?? "").split(/,\s*(?![^(]*\))/).map((term) => term.trim());

const fieldsOf = (kind: KindName) => Object.entries<Field>(kindOf(kind).fields);

describe("the database", () => {
  it("has a table for each kind, those of history, the desk, and nothing else, all strict", async () => {
    const { tables } = await schema();
    expect(tables.map((table) => table.name).sort()).toEqual([...KIND_NAMES, ...HISTORY].sort());
    expect(tables.filter((table) => table.strict !== 1)).toEqual([]);
  });

  it("has the dictionary's fields as columns, in their order, with their types, required or not", async () => {
    const { all } = await schema();
    for (const kind of KIND_NAMES) {
      const columns = (all.get(kind)?.columns ?? []).map(
        ({ name, type, notnull }) => `${name} ${type}${notnull ? " NOT NULL" : ""}`,
      );
      const expected = fieldsOf(kind).flatMap(([name, field]) => {
        const column = `${name} ${TYPES[field.type]}${field.required ? " NOT NULL" : ""}`;
        return name === "tag" ? [column, "tag_key TEXT"] : [column];
      });
      expect(columns, kind).toEqual(["id INTEGER", "rev INTEGER NOT NULL", ...expected]);
      expect(
        all
          .get(kind)
          ?.columns.filter((column) => column.pk)
          .map((column) => column.name),
      ).toEqual(["id"]);
    }
  });

  it("holds each reference by a foreign key", async () => {
    const { all } = await schema();
    for (const kind of KIND_NAMES) {
      const keys = (all.get(kind)?.keys ?? []).map(({ from, table, to }) => `${from} -> ${table}.${to}`);
      const expected = fieldsOf(kind).flatMap(([name, field]) =>
        field.type === "reference" ? [`${name} -> ${field.to}.id`] : [],
      );
      expect(keys.sort(), kind).toEqual(expected.sort());
    }
  });

  it("holds every foreign key at the commit, so that records of one act may name each other in any order", async () => {
    const plant = await newPlant();
    const tables = await plant.store.read((reader) =>
      reader.rows<{ name: string; sql: string }>("SELECT name, sql FROM sqlite_schema WHERE type = 'table'"),
    );
    const keys = tables.flatMap(({ name, sql }) =>
      sql
        .split(",")
        .filter((part) => part.includes("REFERENCES"))
        .map((part) => `${name}: ${part.trim()}`),
    );
    expect(keys.length).toBeGreaterThan(100);
    expect(keys.filter((key) => !/DEFERRABLE INITIALLY DEFERRED(\n\) STRICT)?/.test(key))).toEqual([]);
  });

  it("holds each unique key by an index, in which an empty reference is a value", async () => {
    const { all } = await schema();
    for (const kind of KIND_NAMES) {
      const { key, unique, fields } = kindOf(kind);
      const held = (all.get(kind)?.indices ?? [])
        .filter((index) => index.unique === 1)
        .map((index) => termsOf(index.sql));
      const expected = key.map((name) => (fields[name]?.required ? name : `coalesce(${name}, 0)`));
      expect(held, kind).toEqual(unique ? [expected] : []);
    }
  });

  it("has an index that begins with each reference, each declared index, and each sort key", async () => {
    const { all } = await schema();
    for (const kind of KIND_NAMES) {
      const indices = (all.get(kind)?.indices ?? []).map((index) => termsOf(index.sql));
      const begins = (...terms: string[]) => indices.some((index) => terms.every((term, i) => index[i] === term));
      for (const [name, field] of fieldsOf(kind)) {
        if (field.type === "reference") expect(begins(name), `${kind}.${name}`).toBe(true);
        if (field.type === "subject") expect(begins(field.kindField, name), `${kind}.${name}`).toBe(true);
        if (name === "tag") expect(begins("tag_key"), `${kind}.tag_key`).toBe(true);
      }
      for (const index of kindOf(kind).indices ?? [])
        expect(begins(...index), `${kind} (${index.join(", ")})`).toBe(true);
    }
  });

  it("never uses an id again", async () => {
    const plant = await newPlant();
    const made = await plant.store.read((reader) =>
      reader.rows<{ name: string; sql: string }>("SELECT name, sql FROM sqlite_master WHERE type = 'table'"),
    );
    for (const kind of KIND_NAMES)
      expect(made.find((table) => table.name === kind)?.sql, kind).toMatch(/id INTEGER PRIMARY KEY AUTOINCREMENT/);
  });
});

describe("the dictionary", () => {
  it("is consistent in itself: names, parents, keys, indices and owners are fields, references lead to kinds", () => {
    for (const name of KIND_NAMES) {
      const kind = kindOf(name);
      expect(kind.name).toBe(name);
      const named = [
        ...kind.key,
        ...(kind.indices ?? []).flat(),
        ...(kind.ownedBy ?? []),
        ...(kind.address ? [kind.address.name, ...kind.address.parents] : []),
      ];
      for (const field of named) expect(Object.keys(kind.fields), `${name}.${field}`).toContain(field);
      for (const [field, declared] of fieldsOf(name)) {
        if (declared.type === "reference") expect(KIND_NAMES, `${name}.${field}`).toContain(declared.to);
        if (declared.type === "subject") expect(kind.fields[declared.kindField]?.type).toBe("kind");
        if (declared.type === "choice" && declared.initial)
          expect(Object.keys(declared.values)).toContain(declared.initial);
        expect(declared.help, `${name}.${field}`).toMatch(/^[A-Z0-9].*\.$/);
      }
      expect(kind.help, name).toMatch(/\.$/);
    }
  });
});
