/**
 * Finds records by the names of an address. Everything it knows of kinds comes from the dictionary: which field holds the
 * name, which parents it may have and what separates them.
 */
import type { Segment } from "../model/address.ts";
import { hasTag, type KindName, kindOf } from "../model/dictionary.ts";
import { naturalKey } from "../model/natural-key.ts";
import type { Reader } from "./handle.ts";
import { idList, targetOf } from "./record-address.ts";

/**
 * How names are compared. `exact`: letter by letter. `former`: tags that a panel or port had before count too.
 * `folded`: case, spaces, dashes and leading zeros aside, and a room may be left out between a building and what is in it.
 */
export type Comparison = "exact" | "former" | "folded";

/** A tag as it is compared after folding; agrees with `FOLDED` in SQL. */
export const foldTag = (tag: string): string => naturalKey(tag).replace(/[ \u2013_-]/g, "");
export const FOLDED = "replace(replace(replace(replace(tag_key, ' ', ''), '-', ''), '_', ''), '–', '')";

/** Kinds that keep their former tags. */
const KEEPS_FORMER: ReadonlySet<KindName> = new Set(["panel", "port"]);
const LETTERS: Readonly<Record<string, number>> = { A: 1, B: 2 };

/** A reference as the unique index has it, so that a look-up by parent and tag can use that index. */
const indexed = (kind: KindName, field: string): string => (isRequired(kind, field) ? field : `coalesce(${field}, 0)`);

/**
 * Letters in order with anything around them, for LIKE with the escape `\\`: a cheap test that lets through whatever may
 * fit once spaces and dashes are gone, so that these are taken out of few tags and not of all.
 */
export const inOrder = (letters: string): string =>
  `%${[...letters].map((letter) => (/[\\%_]/.test(letter) ? `\\${letter}` : letter)).join("%")}%`;

const isRequired = (kind: KindName, field: string): boolean => {
  const declared = kindOf(kind).fields[field];
  return declared !== undefined && "required" in declared && declared.required === true;
};

export class Lookup {
  readonly #reader: Reader;
  readonly #comparison: Comparison;
  readonly #known = new Map<string, Promise<ReadonlySet<number>>>();

  constructor(reader: Reader, comparison: Comparison) {
    this.#reader = reader;
    this.#comparison = comparison;
  }

  /** Ids of the records of a kind that the segments name. */
  find(kind: KindName, segments: readonly Segment[]): Promise<ReadonlySet<number>> {
    const key = `${kind} ${JSON.stringify(segments)}`;
    let found = this.#known.get(key);
    if (found === undefined) {
      found = this.#search(kind, segments);
      this.#known.set(key, found);
    }
    return found;
  }

  async #search(kind: KindName, segments: readonly Segment[]): Promise<ReadonlySet<number>> {
    const { address } = kindOf(kind);
    const last = segments.at(-1);
    if (address === null || last === undefined) return new Set();
    const test = this.#nameTest(kind, address.name, last.name);
    if (test === null) return new Set();
    if (segments.length === 1) {
      if (address.parents.some((field) => isRequired(kind, field))) return new Set();
      const alone = address.parents.map((field) => ` and coalesce(${field}, 0) = 0`).join("");
      return this.#ids(`select id from "${kind}" where ${test.sql}${alone}`, test.values);
    }
    if (address.separator !== last.separator) return new Set();
    const found = new Set<number>();
    for (const [index, field] of address.parents.entries()) {
      const parents = await this.#parents(targetOf(kind, field), segments.slice(0, -1));
      if (parents.size === 0) continue;
      const earlier = address.parents.slice(0, index).map((name) => ` and coalesce(${name}, 0) = 0`);
      const sql = `select id from "${kind}" where ${indexed(kind, field)} in (select value from json_each(?)) and ${test.sql}${earlier.join("")}`;
      for (const id of await this.#ids(sql, [idList(parents), ...test.values])) found.add(id);
    }
    return found;
  }

  async #parents(kind: KindName, segments: readonly Segment[]): Promise<ReadonlySet<number>> {
    const found = await this.find(kind, segments);
    if (this.#comparison !== "folded" || kind !== "space") return found;
    const buildings = await this.find("building", segments);
    if (buildings.size === 0) return found;
    const rooms = await this.#ids("select id from space where building_id in (select value from json_each(?))", [
      idList(buildings),
    ]);
    return new Set([...found, ...rooms]);
  }

  #nameTest(kind: KindName, field: string, name: string): { sql: string; values: (string | number)[] } | null {
    if (field !== "tag") {
      if (/^\d{1,9}$/.test(name)) return { sql: `${field} = +?`, values: [Number(name)] };
      const ordinal = kind === "position" ? LETTERS[name.toUpperCase()] : undefined;
      if (ordinal === undefined) return null;
      // Only a duplex port calls its positions A and B.
      return {
        sql: `${field} = +? and (select count(*) from position p where p.port_id = position.port_id) = 2`,
        values: [ordinal],
      };
    }
    if (this.#comparison === "folded") {
      const folded = foldTag(name);
      return { sql: `(tag_key like ? escape '\\' and ${FOLDED} = ?)`, values: [inOrder(folded), folded] };
    }
    if (this.#comparison === "former" && KEEPS_FORMER.has(kind)) {
      return {
        sql: "(tag = ? or exists (select 1 from json_each(former_tags) where value = ?))",
        values: [name, name],
      };
    }
    return { sql: "tag = ?", values: [name] };
  }

  async #ids(sql: string, values: (string | number)[]): Promise<ReadonlySet<number>> {
    return new Set((await this.#reader.rows<{ id: number }>(sql, values)).map(({ id }) => id));
  }

  /** Records of a kind that stand alone and whose tag is the whole text, signs included. */
  whole(kind: KindName, text: string): Promise<ReadonlySet<number>> {
    const { address } = kindOf(kind);
    if (address === null || !hasTag(kind) || address.parents.length > 0) return Promise.resolve(new Set());
    return this.#ids(`select id from "${kind}" where tag = ?`, [text]);
  }
}
