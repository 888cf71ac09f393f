/**
 * The W3C metadata beside the files: Metadata Vocabulary for Tabular Data (CSVW), Recommendation of 17 December 2015.
 * Column names, titles, datatypes and the dialect, from the dictionary.
 */
import { type KindName, kindOf } from "../model/dictionary.ts";
import type { Field, Unit } from "../model/field.ts";
import { AGAIN, type Column, EXCHANGE_COLUMNS, fileOf, REF } from "./columns.ts";

/** QUDT names of the units. */
const UNITS: Readonly<Partial<Record<Unit, string>>> = {
  m: "http://qudt.org/vocab/unit/M",
  mm: "http://qudt.org/vocab/unit/MilliM",
  um: "http://qudt.org/vocab/unit/MicroM",
  nm: "http://qudt.org/vocab/unit/NanoM",
  db: "http://qudt.org/vocab/unit/DeciB",
  dbm: "http://qudt.org/vocab/unit/DeciB_M",
  n: "http://qudt.org/vocab/unit/N",
  deg: "http://qudt.org/vocab/unit/DEG",
  ohm: "http://qudt.org/vocab/unit/OHM",
};

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&");

function datatypeOf(field: Field): unknown {
  switch (field.type) {
    case "integer":
      return { base: "integer", minimum: field.min, maximum: field.max };
    case "number":
      return { base: "number", minimum: field.min, maximum: field.max };
    case "date":
      return { base: "date", format: "yyyy-MM-dd" };
    case "text":
      return { base: "string", maxLength: field.max };
    case "choice":
      return { base: "string", format: `^(${Object.keys(field.values).map(escaped).join("|")})$` };
    case "shape":
      return "json";
    default:
      return "string";
  }
}

function columnOf({ name, declared }: Column): Readonly<Record<string, unknown>> {
  if (!declared) {
    return {
      name,
      titles: name,
      datatype: name === AGAIN ? "integer" : "string",
      "dc:description":
        name === AGAIN
          ? "Which of several exact repeats this row is; empty is the first."
          : "A name for this row, by which other rows refer to it as #name.",
    };
  }
  const unit = "unit" in declared ? UNITS[declared.unit as Unit] : undefined;
  return {
    name,
    // The heading is the column's name in the file; the words people read are the second title.
    titles: name === declared.label ? name : [name, declared.label],
    "dc:description": declared.help,
    datatype: datatypeOf(declared),
    ...(declared.required ? { required: true } : {}),
    ...(unit ? { "http://qudt.org/schema/qudt/unit": { "@id": unit } } : {}),
  };
}

/** References that name a whole column of another file: those to kinds told apart by their tag alone. */
function foreignKeys(kind: KindName, kinds: readonly KindName[]): unknown[] {
  return EXCHANGE_COLUMNS[kind].flatMap(({ name, to }) => {
    if (!to || !kinds.includes(to)) return [];
    const key = kindOf(to).key;
    if (key.length !== 1 || key[0] !== "tag") return [];
    return [{ columnReference: name, reference: { resource: fileOf(to), columnReference: "tag" } }];
  });
}

const primaryKey = (kind: KindName): Readonly<Record<string, unknown>> => {
  const key = EXCHANGE_COLUMNS[kind].filter((column) => column.key && column.name !== REF);
  // A primary key must not hold empty cells; only keys of required columns are one.
  return key.every((column) => column.declared?.required) ? { primaryKey: key.map(({ name }) => name) } : {};
};

/** `csv-metadata.json` for the kinds whose files are in the folder. */
export function metadata(kinds: readonly KindName[], shieldedCells: boolean): string {
  const document = {
    "@context": ["http://www.w3.org/ns/csvw", { "@language": "en" }],
    "dc:title": "A campus fibre plant",
    "dc:format": "strandbook exchange 1",
    ...(shieldedCells ? { notes: [{ shielded: true }] } : {}),
    dialect: {
      encoding: "utf-8",
      delimiter: ",",
      quoteChar: '"',
      doubleQuote: true,
      header: true,
      lineTerminators: ["\r\n", "\n"],
    },
    tables: kinds.map((kind) => {
      const keys = foreignKeys(kind, kinds);
      return {
        url: fileOf(kind),
        "dc:title": kindOf(kind).many,
        "dc:description": kindOf(kind).help,
        tableSchema: {
          columns: EXCHANGE_COLUMNS[kind].map(columnOf),
          ...primaryKey(kind),
          ...(keys.length > 0 ? { foreignKeys: keys } : {}),
        },
      };
    }),
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

/** Whether a folder's metadata says that cells are shielded against spreadsheets. */
export function saysShielded(text: string): boolean {
  try {
    const document: unknown = JSON.parse(text);
    if (typeof document !== "object" || document === null || !("notes" in document)) return false;
    const { notes } = document;
    return Array.isArray(notes) && notes.some((note) => note?.shielded === true);
  } catch {
    return false;
  }
}
