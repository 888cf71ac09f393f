/**
 * Who is called what: records of every kind by their key, and addresses both ways, for millions of records at once. It
 * begins with what is on record and, while a folder is read, takes in the rows that are new.
 */
import { escapeName, type Separator, unescapeName } from "../model/address.ts";
import { KIND_NAMES, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import type { Reader } from "../store/handle.ts";
import { KeyTable, Texts } from "./key-table.ts";

/** No parent at all: the record's name stands alone. */
const ALONE = 9;
const PAGE = 20_000;

interface Naming {
  readonly separator: Separator;
  readonly parents: readonly { readonly field: string; readonly kind: KindName }[];
  readonly mayStandAlone: boolean;
  /** Named by a number (a strand) and not by a text (a panel). */
  readonly numbered: boolean;
  readonly nameField: string;
}

export interface Keying {
  /** For kinds with an address: parent option, parent, own name. */
  readonly naming: Naming | null;
  /** For the others: the fields of the key. */
  readonly fields: readonly { readonly name: string; readonly declared: Field }[];
}

function keyingOf(kind: KindName): Keying {
  const { address, fields, key } = kindOf(kind);
  if (!address) {
    return { naming: null, fields: key.map((name) => ({ name, declared: fields[name] as Field })) };
  }
  const parents = address.parents.map((field) => {
    const declared = fields[field];
    if (declared?.type !== "reference") throw new Error(`${kind}.${field} is no reference`);
    return { field, kind: declared.to as KindName };
  });
  return {
    naming: {
      separator: address.separator,
      parents,
      mayStandAlone: parents.every(({ field }) => fields[field]?.required !== true),
      numbered: fields[address.name]?.type === "integer",
      nameField: address.name,
    },
    fields: [],
  };
}

export const KEYING = Object.fromEntries(KIND_NAMES.map((kind) => [kind, keyingOf(kind)])) as Readonly<
  Record<KindName, Keying>
>;

/** Kinds whose records may share an address: those with parents of several kinds, and what is named after them. */
export const MAY_BE_UNCLEAR: ReadonlySet<KindName> = new Set(KIND_NAMES.filter((kind) => mayBeUnclear(kind)));

function mayBeUnclear(kind: KindName): boolean {
  const others = (KEYING[kind].naming?.parents ?? []).filter((parent) => parent.kind !== kind);
  return others.length > 1 || others.some((parent) => mayBeUnclear(parent.kind));
}

/** What an address can mean: no record, one, or several. */
export type Found = readonly number[];
const NONE: Found = [];

export class Directory {
  readonly texts = new Texts();
  readonly tables = Object.fromEntries(
    KIND_NAMES.map((kind) => [kind, new KeyTable(KEYING[kind].naming ? 3 : KEYING[kind].fields.length)]),
  ) as Record<KindName, KeyTable>;
  /** The last answer of each kind: neighbouring rows share their parents. */
  readonly #last = new Map<KindName, { readonly address: string; readonly found: Found }>();

  /** Takes in what is on record of the given kinds. */
  async load(
    reader: Reader,
    kinds: readonly KindName[],
    progress: (done: number, total: number) => Promise<void>,
  ): Promise<void> {
    const counts = new Map<KindName, number>();
    for (const kind of kinds) {
      const [row] = await reader.rows<{ n: number }>(`select count(*) as n from "${kind}"`);
      counts.set(kind, row?.n ?? 0);
    }
    const total = [...counts.values()].reduce((sum, n) => sum + n, 0);
    let done = 0;
    for (const kind of kinds) {
      if (counts.get(kind) === 0) continue;
      const { naming, fields } = KEYING[kind];
      const columns = naming
        ? [...naming.parents.map(({ field }) => field), naming.nameField]
        : fields.map(({ name }) => name);
      const sql = `select id, ${columns.map((name) => `"${name}"`).join(", ")} from "${kind}" where id > ? order by id limit ${PAGE}`;
      for (let after = 0; ; ) {
        const rows = await reader.rows<Record<string, Value> & { id: number }>(sql, [after]);
        for (const row of rows) this.tables[kind].add(row.id, this.keyOfValues(kind, row));
        done += rows.length;
        await progress(done, total);
        if (rows.length < PAGE) break;
        after = (rows.at(-1) as { id: number }).id;
      }
    }
  }

  /** The key of a record from its stored values. */
  keyOfValues(kind: KindName, values: Readonly<Record<string, Value>>): number[] {
    const { naming, fields } = KEYING[kind];
    if (!naming) return fields.map(({ name }) => this.#part(values[name] ?? null));
    const option = naming.parents.findIndex(({ field }) => typeof values[field] === "number");
    const parent = option < 0 ? 0 : (values[naming.parents[option]?.field ?? ""] as number);
    return [option < 0 ? ALONE : option, parent, this.#part(values[naming.nameField] ?? null)];
  }

  #part(value: Value): number {
    if (value === null) return 0;
    return typeof value === "number" ? value : this.texts.numberOf(value);
  }

  /** Adds a record; the last answer may no longer hold. */
  add(kind: KindName, id: number, key: readonly number[]): void {
    this.tables[kind].add(id, key);
    this.#last.delete(kind);
  }

  /** Records of a kind that an address names. */
  find(kind: KindName, address: string): Found {
    const last = this.#last.get(kind);
    if (last && last.address === address) return last.found;
    const found = this.#look(kind, address);
    this.#last.set(kind, { address, found });
    return found;
  }

  #look(kind: KindName, address: string): Found {
    const { naming } = KEYING[kind];
    if (!naming) return NONE;
    const at =
      naming.separator === ""
        ? -1
        : naming.separator === ":"
          ? address.indexOf(":")
          : address.lastIndexOf(naming.separator);
    if (at < 0) {
      if (!naming.mayStandAlone) return NONE;
      const own = this.#ownPart(naming, address);
      const id = own === 0 ? 0 : this.tables[kind].find([ALONE, 0, own]);
      return id === 0 ? NONE : [id];
    }
    const own = this.#ownPart(naming, address.slice(at + 1));
    if (own === 0) return NONE;
    const prefix = address.slice(0, at);
    let first = 0;
    let more: number[] | null = null;
    for (let option = 0; option < naming.parents.length; option += 1) {
      const parent = naming.parents[option] as { kind: KindName };
      for (const parentId of this.find(parent.kind, prefix)) {
        const id = this.tables[kind].find([option, parentId, own]);
        if (id === 0) continue;
        if (first === 0) first = id;
        else {
          more ??= [first];
          more.push(id);
        }
      }
    }
    return more ?? (first === 0 ? NONE : [first]);
  }

  #ownPart(naming: Naming, text: string): number {
    if (!naming.numbered) return this.texts.known(text.includes("%") ? unescapeName(text) : text);
    return /^[1-9]\d{0,8}$/.test(text) ? Number(text) : 0;
  }

  /** The address of a record, or null for a kind that has none. */
  addressOf(kind: KindName, id: number): string | null {
    const { naming } = KEYING[kind];
    const table = this.tables[kind];
    if (!naming || !table.has(id)) return null;
    const own = table.part(id, 2);
    const option = table.part(id, 0);
    if (option === ALONE) return naming.numbered ? String(own) : escapeName(this.texts.textOf(own), "");
    const parent = naming.parents[option] as { kind: KindName };
    const name = naming.numbered ? own : escapeName(this.texts.textOf(own), naming.separator);
    return `${this.addressOf(parent.kind, table.part(id, 1))}${naming.separator}${name}`;
  }
}
