/**
 * Plants as they really are, only worse: records of every kind with any text the store takes, repeats, references in
 * every direction, several parents at once, units that lie in units entered later.
 */
import { KIND_NAMES, type KindName, kindOf, type Value } from "../../core/model/dictionary.ts";
import type { Field, ShapeField } from "../../core/model/field.ts";
import type { Gateway } from "../../core/store/gateway.ts";
import type { Change } from "../../core/store/plan.ts";
import { type Random, seeded } from "../../core/synthetic/random.ts";
import { TESTER } from "../support/plant.ts";

const SIGNS = [
  ..."\"',;=+-@#/:%|\\ 0179axZ",
  "%2F",
  "''",
  "é",
  "e\u0301",
  "ש",
  "漢",
  "\u{1f300}",
  "ß",
  "\u00a0",
] as const;
const STARTS = ["=1+", "'=", "''", "+4", "-7", "@x", "#1", "007", "1e5", '"', "é", "(", "null", "漢", "%25"] as const;

const SHAPES: Readonly<Record<ShapeField["shape"], string>> = {
  line: "[[7.5,47.25],[-0.125,3]]",
  polygon: "[[7,47],[8,47],[8,48.5]]",
  colours: '["blue","\\"odd\\", one"]',
  overrides: '{"maker":"An, other"}',
  mark_breaks: '[{"at_mark":100,"jumps_to":2}]',
  patterns: '{"cable":["{tag}, \\"{from}\\""]}',
  names: '["=1","07"]',
  facts: '{"a":[1,null,"x\\ny"]}',
};

/** Kinds whose key is taken up before those that may refer to it by key. */
const ORDER: readonly KindName[] = [
  ...KIND_NAMES.filter((kind) => kindOf(kind).address !== null),
  ...KIND_NAMES.filter((kind) => kindOf(kind).address === null && kind !== "plant"),
];

class Maker {
  readonly #random: Random;
  readonly #most: number;
  /** Units lie in units entered later instead of earlier. */
  readonly #backwards: boolean;
  readonly made = new Map<KindName, Record<string, Value>[]>();
  readonly #keys = new Set<string>();

  constructor(random: Random, most: number) {
    this.#random = random;
    this.#most = most;
    this.#backwards = random.oneIn(2);
  }

  changes(): Change[] {
    this.made.set("plant", [{ name: this.#text(40, false) }]);
    for (const kind of ORDER) this.#keysOf(kind);
    for (const kind of ORDER) for (const values of this.made.get(kind) ?? []) this.#fill(kind, values);
    return ORDER.flatMap((kind) =>
      (this.made.get(kind) ?? []).map((values, i): Change => ({ op: "insert", kind, id: i + 1, values })),
    );
  }

  #keysOf(kind: KindName): void {
    const { key, unique, fields } = kindOf(kind);
    const rows: Record<string, Value>[] = [];
    this.made.set(kind, rows);
    const wanted = this.#random.whole(2, this.#most);
    for (let tries = 0; rows.length < wanted && tries < 50; tries += 1) {
      const values: Record<string, Value> = {};
      const repeated = !unique && rows.length > 0 && this.#random.oneIn(3) ? this.#random.pick(rows) : null;
      let whole = true;
      for (const name of key) {
        const field = fields[name] as Field;
        values[name] = repeated?.[name] ?? this.#value(kind, name, field, values, rows.length + 1, wanted);
        if (field.required && values[name] === null) whole = false;
      }
      const text = `${kind} ${JSON.stringify(key.map((name) => values[name] ?? 0))}`;
      if (!whole || (unique && this.#keys.has(text))) continue;
      this.#keys.add(text);
      rows.push(values);
    }
    // Units were told of units inside which they lie; there may be fewer than were wanted.
    for (const values of rows) {
      const parent = values.parent_id;
      if (typeof parent === "number" && parent > rows.length) values.parent_id = null;
    }
    if (unique) this.#withoutRepeats(kind, rows);
  }

  #withoutRepeats(kind: KindName, rows: Record<string, Value>[]): void {
    const own = kindOf(kind).address?.name;
    const seen = new Set<string>();
    for (const [i, values] of rows.entries()) {
      const text = () => JSON.stringify(kindOf(kind).key.map((name) => values[name] ?? 0));
      if (seen.has(text()) && own) values[own] = typeof values[own] === "number" ? 500 + i : `again ${i}`;
      seen.add(text());
    }
  }

  #fill(kind: KindName, values: Record<string, Value>): void {
    for (const [name, field] of Object.entries(kindOf(kind).fields)) {
      if (name in values) continue;
      values[name] =
        field.required || this.#random.oneIn(2)
          ? this.#value(kind, name, field, values, 0, Number.POSITIVE_INFINITY)
          : null;
    }
  }

  /** `id` of the record, 0 when that doesn't matter; `last` is the greatest that its kind will have. */
  #value(
    kind: KindName,
    name: string,
    field: Field,
    values: Readonly<Record<string, Value>>,
    id: number,
    last: number,
  ): Value {
    const random = this.#random;
    switch (field.type) {
      case "text":
        return field.required || !random.oneIn(4) ? this.#text(Math.min(field.max, 30), field.lines === true) : null;
      case "integer": {
        const named = kindOf(kind).key.includes(name);
        return named
          ? random.whole(Math.max(1, field.min), 3)
          : random.whole(field.min, Math.min(field.max, field.min + 999));
      }
      case "number":
        return field.max - field.min > 2 && random.oneIn(3)
          ? random.whole(field.min, field.max)
          : field.min + random.next() * (field.max - field.min);
      case "date":
        return `20${random.whole(10, 29)}-0${random.whole(1, 9)}-${random.whole(10, 28)}`;
      case "choice":
        return random.pick(Object.keys(field.values));
      case "set":
        return Object.keys(field.values)
          .filter(() => random.oneIn(2))
          .join(" ");
      case "kind":
        return random.pick(KIND_NAMES.filter((one) => (this.made.get(one)?.length ?? 0) > 0));
      case "shape":
        return SHAPES[field.shape];
      case "subject":
        return this.#any(values[field.kindField] as KindName);
      case "reference": {
        const to = field.to as KindName;
        if (!field.required && random.oneIn(3)) return null;
        // Inside one another in a ring they would have no name.
        if (to === kind && kindOf(kind).address?.parents.includes(name)) {
          if (this.#backwards) return id < last ? random.whole(id + 1, last) : null;
          return id > 1 ? random.whole(1, id - 1) : null;
        }
        return this.#any(to);
      }
    }
  }

  #any(kind: KindName): number | null {
    const count = this.made.get(kind)?.length ?? 0;
    return count === 0 ? null : this.#random.whole(1, count);
  }

  #text(max: number, manyLines: boolean): string {
    const { pick, oneIn, whole } = this.#random;
    let text = oneIn(2) ? pick(STARTS) : "";
    for (let n = whole(0, 6); n > 0; n -= 1) text += manyLines && oneIn(3) ? "\n" : pick(SIGNS);
    return `${text.slice(0, max - 1)}x`.trim();
  }
}

/** Fills an empty plant; the same seed gives the same. `most` records of a kind. */
export async function writeDirtyPlant(gateway: Gateway, seed: number, most: number): Promise<number> {
  const changes = new Maker(seeded(seed), most).changes();
  await gateway.carryOut("test.dirty", TESTER, async () => ({ summary: "Fill", changes, answer: null }));
  return changes.length;
}
