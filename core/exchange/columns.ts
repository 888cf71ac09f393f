/** Columns of exchange files, from the dictionary: fields under their own names, references by address. */
import { KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";

export interface Column {
  /** Name in the file's first row. */
  readonly name: string;
  /** The field it holds; null for the two columns that belong to the file and not to the record. */
  readonly field: string | null;
  readonly holds: "value" | "reference" | "subject" | "again" | "ref";
  readonly declared: Field | null;
  /** For a reference, the kind referred to. */
  readonly to: KindName | null;
  /** Whether it is part of what tells records of the kind apart. */
  readonly key: boolean;
}

/** Which of several exact repeats a row is, from 1; empty is the first. Only kinds that may repeat have it. */
export const AGAIN = "again";
/** A name for the row, by which other rows of the folder refer to it as `#name` where no address can. */
export const REF = "ref";

const withoutId = (field: string): string => field.replace(/_id$/, "");

function columnOf(name: string, field: Field, key: boolean): Column {
  switch (field.type) {
    case "reference":
      return { name: withoutId(name), field: name, holds: "reference", declared: field, to: field.to as KindName, key };
    case "subject":
      return { name: withoutId(name), field: name, holds: "subject", declared: field, to: null, key };
    default:
      return { name, field: name, holds: "value", declared: field, to: null, key };
  }
}

const columnsFor = (kind: KindName): readonly Column[] => {
  const { fields, key, unique } = kindOf(kind);
  const own = (name: typeof AGAIN | typeof REF): Column => ({
    name,
    field: null,
    holds: name,
    declared: null,
    to: null,
    key: name === AGAIN,
  });
  return [
    ...Object.entries(fields).map(([name, field]) => columnOf(name, field, key.includes(name))),
    ...(unique ? [] : [own(AGAIN)]),
    own(REF),
  ];
};

/** Columns of a kind's file in order. */
export const EXCHANGE_COLUMNS = Object.fromEntries(KIND_NAMES.map((kind) => [kind, columnsFor(kind)])) as Readonly<
  Record<KindName, readonly Column[]>
>;

export const fileOf = (kind: KindName): string => `${kind}.csv`;

/** The kind whose file this is, or null. */
export const kindOfFile = (name: string): KindName | null => KIND_NAMES.find((kind) => fileOf(kind) === name) ?? null;

/** Columns without which a row can't be told apart. A parent that may be missing may also be missing as a column. */
export const neededColumns = (kind: KindName): readonly Column[] =>
  EXCHANGE_COLUMNS[kind].filter((column) => column.key && column.declared?.required === true);

export const METADATA_FILE = "csv-metadata.json";
