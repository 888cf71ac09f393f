/** What refers to what, read once from the dictionary. Statements that follow from it alone are texts made here once. */
import { KIND_NAMES, KINDS, type KindName, kindOf } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";

export interface Reference {
  /** The kind that refers. */
  readonly kind: KindName;
  readonly field: string;
  readonly label: string;
  readonly to: KindName;
}
/** A pair of fields that can point at a record of any kind. */
export interface Subject {
  readonly kind: KindName;
  readonly field: string;
  readonly kindField: string;
  readonly label: string;
}

const fieldsOf = (kind: KindName): [string, Field][] => Object.entries(KINDS[kind].fields);

const byKind = <T>(make: (kind: KindName) => T): Readonly<Record<KindName, T>> =>
  Object.fromEntries(KIND_NAMES.map((kind) => [kind, make(kind)])) as Record<KindName, T>;

/** References that a record of the kind holds. */
export const REFERENCES = byKind((kind) =>
  fieldsOf(kind).flatMap(([field, f]): Reference[] =>
    f.type === "reference" ? [{ kind, field, label: f.label, to: f.to as KindName }] : [],
  ),
);

/** References to records of the kind, by any kind. */
export const REFERRERS = byKind((to) =>
  KIND_NAMES.flatMap((kind) => REFERENCES[kind].filter((reference) => reference.to === to)),
);

/** The subject of the kind, where it has one. */
export const SUBJECT = byKind((kind): Subject | null => {
  for (const [field, f] of fieldsOf(kind))
    if (f.type === "subject") return { kind, field, kindField: f.kindField, label: f.label };
  return null;
});
export const SUBJECTS: readonly Subject[] = KIND_NAMES.flatMap((kind) => SUBJECT[kind] ?? []);

/** Names of a kind's fields in declared order. */
export const FIELD_NAMES = byKind((kind): readonly string[] => Object.keys(KINDS[kind].fields));
export const HAS_TAG = byKind((kind) => Object.hasOwn(KINDS[kind].fields, "tag"));
/** Columns of a kind's table without `id` and `rev`. */
export const COLUMNS = byKind((kind): readonly string[] =>
  FIELD_NAMES[kind].flatMap((name) => (name === "tag" ? ["tag", "tag_key"] : [name])),
);

/** Kinds with a key that the store holds unique. */
export const UNIQUE_KEY = byKind((kind): readonly string[] | null => (kindOf(kind).unique ? kindOf(kind).key : null));

export const labelOf = (kind: KindName, field: string): string => {
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  return fields[field]?.label ?? field;
};

/** Ids travel as one JSON list, so that a statement's text doesn't depend on how many there are. */
export const IDS = "(SELECT value FROM json_each(?))";
/** A name of a table or column as it stands in SQL: some kinds' names are words of SQL. */
export const named = (name: string): string => `"${name}"`;

export const SQL = byKind((kind) => {
  const table = named(kind);
  const columns = COLUMNS[kind].map(named).join(", ");
  return {
    rows: `SELECT * FROM ${table} WHERE id IN ${IDS}`,
    present: `SELECT id FROM ${table} WHERE id IN ${IDS}`,
    insert: `INSERT INTO ${table} (id, rev, ${columns}) VALUES (?, ?${", ?".repeat(COLUMNS[kind].length)})`,
    delete: `DELETE FROM ${table} WHERE id = ?`,
  };
});
