/**
 * Who is called what: records of every kind by their key, and addresses both ways, for millions of records at once. It
 * begins with what is on record and, while a folder is read, takes in the rows that are new.
 */
import { escapeName, type Separator, unescapeName } from "../model/address.ts";
import { KIND_NAMES, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { KeyTable, Texts } from "./key-table.ts";

/** No parent at all: the record's name stands alone. */
const ALONE = 9;
const PAGE = 5_000;
/** Nothing nests deeper; what seems to lies inside itself. */
const DEEPEST = 64;

interface Naming {
  readonly separator: Separator;
  /** In the order in which they are tried; `at` is their place in the key. */
  readonly parents: readonly { readonly kind: KindName; readonly at: number }[];
  readonly mayStandAlone: boolean;
  /** Named by a number (a strand) and not by a text (a panel). */
  readonly numbered: boolean;
  /** Place of the own name in the key. */
  readonly own: number;
}

function namingOf(kind: KindName): Naming | null {
  const { address, fields, key } = kindOf(kind);
  if (!address) return null;
  const parents = address.parents.map((field) => {
    const declared = fields[field];
    if (declared?.type !== "reference") throw new Error(`${kind}.${field} is no reference`);
    return { kind: declared.to as KindName, at: key.indexOf(field) };
  });
  const own = key.indexOf(address.name);
  if (own < 0 || parents.some(({ at }) => at < 0) || key.length !== parents.length + 1) {
    throw new Error(`the key of ${kind} is not its parents and its own name`);
  }
  return {
    separator: address.separator,
    parents,
    mayStandAlone: address.parents.every((field) => fields[field]?.required !== true),
    numbered: fields[address.name]?.type === "integer",
    own,
  };
}

const byKind = <T>(make: (kind: KindName) => T): Readonly<Record<KindName, T>> =>
  Object.fromEntries(KIND_NAMES.map((kind) => [kind, make(kind)])) as Record<KindName, T>;

export const NAMING = byKind(namingOf);
const KEYS = byKind((kind) => kindOf(kind).key);

/** Kinds whose records may share an address: those with parents of several sorts, and what is named after them. */
export const MAY_BE_UNCLEAR: ReadonlySet<KindName> = new Set(KIND_NAMES.filter((kind) => mayBeUnclear(kind)));

function mayBeUnclear(kind: KindName): boolean {
  const parents = NAMING[kind]?.parents ?? [];
  return parents.length > 1 || parents.some((parent) => parent.kind !== kind && mayBeUnclear(parent.kind));
}

/** A splice names sections of two cables: more than one parent is remembered. */
const SLOTS = 8;

/** What an address can mean: no record, one, or several. */
export type Found = readonly number[];
const NONE: Found = [];

export class Directory {
  readonly texts = new Texts();
  /** Records by their whole key, in the order of its fields. */
  readonly tables = byKind((kind) => new KeyTable(KEYS[kind].length));
  /** For kinds with parents of several sorts: which sort, the parent, the own name. One such address may be shared. */
  readonly #named = byKind((kind) => ((NAMING[kind]?.parents.length ?? 0) > 1 ? new KeyTable(3) : null));
  /** The last answer of each kind: neighbouring rows share their parents. */
  readonly #last = byKind(() => ({ address: "", found: NONE }));
  /** By kind some parents of the last addresses asked for: neighbours share theirs. What is called so stays so. */
  readonly #lastAbove = byKind(() =>
    Array.from({ length: SLOTS }, () => ({ kind: "plant" as KindName, id: 0, start: "" })),
  );
  readonly #scratch = byKind((kind) => new Array<number>(KEYS[kind].length).fill(0));

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
      const columns = ["id", ...KEYS[kind]].map((name) => `"${name}"`).join(", ");
      const sql = `select ${columns} from "${kind}" where id > ? order by id limit ${PAGE}`;
      for (let after = 0; ; ) {
        const rows = await reader.rows<Record<string, Value> & { id: number }>(sql, [after]);
        for (const row of rows) this.add(kind, row.id, this.keyOfValues(kind, row));
        done += rows.length;
        await progress(done, total);
        if (rows.length < PAGE) break;
        after = (rows.at(-1) as { id: number }).id;
      }
    }
  }

  /** The key of a record from its stored values; good until the next one of its kind is asked for. */
  keyOfValues(kind: KindName, values: Readonly<Record<string, Value>>): readonly number[] {
    const key = this.#scratch[kind];
    const names = KEYS[kind];
    for (let i = 0; i < names.length; i += 1) key[i] = this.part(values[names[i] as string] ?? null);
    return key;
  }

  /** A value as part of a key; 0 for not known. */
  part(value: Value): number {
    if (value === null) return 0;
    return typeof value === "number" ? value : this.texts.numberOf(value);
  }

  /** Adds a record; the last answer may no longer hold. */
  add(kind: KindName, id: number, key: readonly number[]): void {
    this.tables[kind].add(id, key);
    const naming = NAMING[kind];
    const named = this.#named[kind];
    if (named && naming) {
      const option = naming.parents.findIndex(({ at }) => key[at] !== 0);
      const own = key[naming.own] as number;
      named.add(id, option < 0 ? [ALONE, 0, own] : [option, key[naming.parents[option]?.at as number] as number, own]);
    }
    this.#last[kind].address = "";
  }

  /** Records of a kind that an address names. */
  find(kind: KindName, address: string): Found {
    const last = this.#last[kind];
    if (last.address === address && address !== "") return last.found;
    const found = this.#look(kind, address);
    last.address = address;
    last.found = found;
    return found;
  }

  #look(kind: KindName, address: string): Found {
    const naming = NAMING[kind];
    if (!naming) return NONE;
    const { separator } = naming;
    const at = separator === "" ? -1 : separator === ":" ? address.indexOf(separator) : address.lastIndexOf(separator);
    const own = this.#ownPart(naming, address, at + 1);
    if (own === 0) return NONE;
    if (at < 0) return naming.mayStandAlone ? this.#called(kind, ALONE, 0, own) : NONE;
    const prefix = address.slice(0, at);
    let found = NONE;
    for (let option = 0; option < naming.parents.length; option += 1) {
      for (const parent of this.find((naming.parents[option] as { kind: KindName }).kind, prefix)) {
        const more = this.#called(kind, option, parent, own);
        if (more.length > 0) found = found.length === 0 ? more : [...found, ...more];
      }
    }
    return found;
  }

  #called(kind: KindName, option: number, parent: number, own: number): Found {
    const named = this.#named[kind];
    if (named) return named.all([option, parent, own]);
    const naming = NAMING[kind] as Naming;
    const key = this.#scratch[kind];
    key[naming.own] = own;
    const [only] = naming.parents;
    if (only) key[only.at] = parent;
    const id = this.tables[kind].find(key);
    return id === 0 ? NONE : [id];
  }

  /** The own name in an address, from a place on, as part of a key; 0 when nothing is called so. */
  #ownPart(naming: Naming, address: string, from: number): number {
    if (naming.numbered) return numberFrom(address, from);
    const text = address.slice(from);
    const known = this.texts.known(text);
    if (known !== 0 && !text.includes("%")) return known;
    return this.texts.known(unescapeName(text).normalize("NFC"));
  }

  /** The address of a record, or null for a kind that has none, and for what lies inside itself. */
  addressOf(kind: KindName, id: number): string | null {
    return this.#addressOf(kind, id, DEEPEST);
  }

  #addressOf(kind: KindName, id: number, depth: number): string | null {
    const naming = NAMING[kind];
    const table = this.tables[kind];
    if (!naming || depth === 0 || !table.has(id)) return null;
    const own = table.part(id, naming.own);
    const parent = naming.parents.find(({ at }) => table.part(id, at) !== 0);
    if (!parent) return naming.numbered ? String(own) : escapeName(this.texts.textOf(own), "");
    const parentId = table.part(id, parent.at);
    const last = this.#lastAbove[kind][parentId % SLOTS] as { kind: KindName; id: number; start: string };
    if (last.id !== parentId || last.kind !== parent.kind) {
      const above = this.#addressOf(parent.kind, parentId, depth - 1);
      if (above === null) return null;
      last.kind = parent.kind;
      last.id = parentId;
      last.start = above + naming.separator;
    }
    return last.start + (naming.numbered ? own : escapeName(this.texts.textOf(own), naming.separator));
  }
}

/** The whole number that a text is from a place on; 0 when it is none, or more than nine digits. */
function numberFrom(text: string, from: number): number {
  const digits = text.length - from;
  if (digits < 1 || digits > 9 || text.charCodeAt(from) === 48) return 0;
  let number = 0;
  for (let i = from; i < text.length; i += 1) {
    const digit = text.charCodeAt(i) - 48;
    if (digit < 0 || digit > 9) return 0;
    number = number * 10 + digit;
  }
  return number;
}
