/**
 * The metadata beside the files, against the W3C's Metadata Vocabulary for Tabular Data, Recommendation of 17 December
 * 2015 (https://www.w3.org/TR/2015/REC-tabular-metadata-20151217/): sections 5.3 to 5.9 and 5.11, from memory of that text.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, it } from "vitest";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { Gateway } from "../../core/store/gateway.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant } from "../support/plant.ts";
import { writeDirtyPlant } from "./dirty-plant.ts";
import { exported, filesOf } from "./support.ts";

interface ColumnDescription {
  readonly name: string;
  readonly titles: string | readonly string[];
  readonly datatype: string | Readonly<Record<string, unknown>>;
  readonly required?: boolean;
}
interface TableDescription {
  readonly url: string;
  readonly tableSchema: {
    readonly columns: readonly ColumnDescription[];
    readonly primaryKey?: readonly string[];
    readonly foreignKeys?: readonly {
      readonly columnReference: string;
      readonly reference: { readonly resource: string; readonly columnReference: string };
    }[];
  };
}
interface TableGroup {
  readonly "@context": unknown;
  readonly dialect: Readonly<Record<string, unknown>>;
  readonly tables: readonly TableDescription[];
}

/** 5.11.1: built-in datatypes that are used here. */
const DATATYPES = ["string", "integer", "number", "date", "json"];
/** Properties each object may have: 5.3.2, 5.4.2, 5.5, 5.6, 5.9, 5.11.2; others must be common properties with a prefix. */
const ALLOWED = {
  group: ["@context", "@id", "@type", "dialect", "notes", "tableDirection", "tables", "tableSchema", "transformations"],
  table: ["url", "dialect", "notes", "suppressOutput", "tableDirection", "tableSchema", "transformations"],
  schema: ["columns", "foreignKeys", "primaryKey", "rowTitles"],
  column: [
    "name",
    "suppressOutput",
    "titles",
    "virtual",
    "datatype",
    "required",
    "null",
    "lang",
    "default",
    "separator",
  ],
  datatype: ["base", "format", "length", "minLength", "maxLength", "minimum", "maximum"],
  dialect: [
    "commentPrefix",
    "delimiter",
    "doubleQuote",
    "encoding",
    "header",
    "headerRowCount",
    "lineTerminators",
    "quoteChar",
  ],
} as const;

function expectAllowed(what: keyof typeof ALLOWED, object: object): void {
  for (const name of Object.keys(object)) {
    if (!/^(dc|http):/.test(name)) expect(ALLOWED[what] as readonly string[], `${what}: ${name}`).toContain(name);
  }
}

let files: Readonly<Record<string, string>>;
let group: TableGroup;
let folder: string;
beforeAll(async () => {
  const plant = await newPlant();
  await writeDirtyPlant(new Gateway(plant.store, machineClock), 3, 10);
  folder = await exported(plant);
  files = filesOf(folder);
  group = JSON.parse(files["csv-metadata.json"] ?? "");
});

const recordsOf = (url: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, url)), { columns: true, record_delimiter: "\r\n" });

describe("csv-metadata.json", () => {
  it("is a table group with the vocabulary's context and properties", () => {
    expect(group["@context"]).toEqual(["http://www.w3.org/ns/csvw", { "@language": "en" }]);
    expectAllowed("group", group);
    expectAllowed("dialect", group.dialect);
    for (const table of group.tables) {
      expectAllowed("table", table);
      expectAllowed("schema", table.tableSchema);
      for (const column of table.tableSchema.columns) {
        expectAllowed("column", column);
        if (typeof column.datatype === "object") expectAllowed("datatype", column.datatype);
      }
    }
  });

  it("describes every file that is there, and no other", () => {
    expect(group.tables.map(({ url }) => url).sort()).toEqual(
      Object.keys(files)
        .filter((name) => name.endsWith(".csv"))
        .sort(),
    );
    expect(group.tables).toHaveLength(KIND_NAMES.length);
  });

  it("names the columns of each in their order; one title of each is its heading", () => {
    for (const { url, tableSchema } of group.tables) {
      const heading = files[url]?.split("\r\n")[0]?.split(",");
      expect(tableSchema.columns.map(({ name }) => name)).toEqual(heading);
      for (const { name, titles } of tableSchema.columns) {
        // 5.6: a name must not begin with an underscore and be usable in a URI template.
        expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
        expect([titles].flat()).toContain(name);
      }
    }
  });

  it("gives datatypes that every cell keeps", () => {
    let cells = 0;
    for (const { url, tableSchema } of group.tables) {
      for (const record of recordsOf(url)) {
        for (const { name, datatype, required } of tableSchema.columns) {
          const cell = record[name] as string;
          const { base, format, minimum, maximum, maxLength } = (
            typeof datatype === "string" ? { base: datatype } : datatype
          ) as { base: string; format?: string; minimum?: number; maximum?: number; maxLength?: number };
          expect(DATATYPES).toContain(base);
          if (required) expect(cell, `${url} ${name}`).not.toBe("");
          if (cell === "") continue;
          cells += 1;
          if (base === "integer") expect(cell).toMatch(/^-?\d+$/);
          if (base === "json") expect(() => JSON.parse(cell)).not.toThrow();
          if (base === "date") expect(cell).toMatch(/^\d{4}-\d\d-\d\d$/);
          if (base === "string" && format) expect(cell).toMatch(new RegExp(format, "u"));
          if (minimum !== undefined) expect(Number(cell)).toBeGreaterThanOrEqual(minimum);
          if (maximum !== undefined) expect(Number(cell)).toBeLessThanOrEqual(maximum);
          if (maxLength !== undefined) expect([...cell].length).toBeLessThanOrEqual(maxLength);
        }
      }
    }
    expect(cells).toBeGreaterThan(1_500);
  });

  it("gives primary keys that tell rows apart, and foreign keys to primary keys", () => {
    const keys = new Map(group.tables.map(({ url, tableSchema }) => [url, tableSchema.primaryKey]));
    for (const { url, tableSchema } of group.tables) {
      const { primaryKey, foreignKeys = [] } = tableSchema;
      if (primaryKey) {
        const records = recordsOf(url);
        const said = records.map((record) => JSON.stringify(primaryKey.map((name) => record[name])));
        expect(new Set(said).size, url).toBe(records.length);
      }
      for (const { columnReference, reference } of foreignKeys) {
        expect(tableSchema.columns.map(({ name }) => name)).toContain(columnReference);
        expect(keys.get(reference.resource)).toEqual([reference.columnReference]);
      }
    }
    expect([...keys.values()].filter(Boolean).length).toBeGreaterThan(10);
  });
});
