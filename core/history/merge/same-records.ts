/**
 * Records that both files entered since they parted. Their ids mean nothing to each other: they are the same record when
 * they have the same key, or, where a kind has none, when every field agrees.
 */
import { KIND_NAMES, type KindName, type Value } from "../../model/dictionary.ts";
import { FIELD_NAMES, REFERENCES, SUBJECT, UNIQUE_KEY } from "../../store/relations.ts";
import type { Entered, News, Values } from "./news.ts";
import type { Pairs } from "./seen.ts";

/** Which of our ids stands for one of theirs. Records older than the parting have the same id in both. */
export class Ids {
  readonly #theirs: News["entered"];
  readonly #ours = new Map<KindName, Map<number, number>>();

  /** @param theirs what they entered since */
  constructor(theirs: News["entered"], known: Pairs = new Map()) {
    this.#theirs = theirs;
    for (const [kind, own] of known) this.#ours.set(kind, new Map(own));
  }

  get pairs(): Pairs {
    return this.#ours;
  }

  set(kind: KindName, theirs: number, ours: number): void {
    const own = this.#ours.get(kind) ?? new Map<number, number>();
    this.#ours.set(kind, own.set(theirs, ours));
  }

  /** Their id of a record entered since both parted; null of any other. */
  theirs(kind: KindName, ours: number): number | null {
    for (const [id, own] of this.#ours.get(kind) ?? []) if (own === ours) return id;
    return null;
  }

  /** Null where a record that they entered has no counterpart yet. */
  of(kind: KindName, theirs: number): number | null {
    if (!this.#theirs.get(kind)?.has(theirs)) return theirs;
    return this.#ours.get(kind)?.get(theirs) ?? null;
  }

  /** Their values as ours; null where one of them has no counterpart. A subject comes with the kind it points at. */
  translated(kind: KindName, values: Values): Values | null {
    const out: Record<string, Value> = { ...values };
    for (const { field, to } of REFERENCES[kind]) {
      const target = values[field];
      if (typeof target === "number") out[field] = this.of(to, target);
      if (typeof target === "number" && out[field] === null) return null;
    }
    const pair = SUBJECT[kind];
    const target = pair ? values[pair.field] : null;
    if (pair && typeof target === "number") {
      const to = values[pair.kindField] as KindName | undefined;
      if (to) out[pair.field] = this.of(to, target);
      if (out[pair.field] === null) return null;
    }
    return out;
  }
}

/**
 * Finds the counterparts among what we entered, parents before what is named after them.
 * @param apart whether a pair of one key counts as two records all the same
 * @param known pairs that an earlier merge settled
 */
export function matched(
  ours: Entered,
  { there, entered }: Pick<News, "there" | "entered">,
  apart: (kind: KindName, our_id: number) => boolean = () => false,
  known: Pairs = new Map(),
): Ids {
  const ids = new Ids(entered, known);
  const taken = new Map([...known].map(([kind, own]) => [kind, new Set(own.values())]));
  for (let more = true; more; ) {
    more = false;
    for (const kind of KIND_NAMES) {
      const own = there.get(kind);
      if (!own || !ours.has(kind)) continue;
      const key = UNIQUE_KEY[kind] ?? FIELD_NAMES[kind];
      const used = taken.get(kind) ?? new Set();
      taken.set(kind, used);
      const byKey = new Map<string, number[]>();
      for (const [id, values] of ours.get(kind) ?? []) {
        if (used.has(id) || apart(kind, id)) continue;
        const text = keyText(key, values);
        byKey.set(text, [...(byKey.get(text) ?? []), id]);
      }
      for (const [id, values] of own) {
        if (ids.of(kind, id) !== null) continue;
        const translated = ids.translated(kind, pick(key, values, kind));
        const found = translated ? byKey.get(keyText(key, translated))?.shift() : undefined;
        if (found === undefined) continue;
        ids.set(kind, id, found);
        used.add(found);
        more = true;
      }
    }
  }
  return ids;
}

/** The key alone: what isn't part of it may well have no counterpart. */
function pick(key: readonly string[], values: Values, kind: KindName): Values {
  const pair = SUBJECT[kind];
  const fields = pair && key.includes(pair.field) ? [...key, pair.kindField] : key;
  return Object.fromEntries(fields.map((field) => [field, values[field] ?? null]));
}

const keyText = (key: readonly string[], values: Values): string =>
  JSON.stringify(key.map((field) => values[field] ?? null));
