/** Windows against a plain ORDER BY in the language and in the engine, on plants of random records. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { KINDS, type KindName } from "../../core/model/dictionary.ts";
import { naturalKey } from "../../core/model/natural-key.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { Cache } from "../../core/store/cache.ts";
import { Joins, orderTerms } from "../../core/store/order.ts";
import { windowOf } from "../../core/store/window.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";
import { onFile } from "./on-file.ts";

type Window = AnswerOf<"record.window">;
type Raw = Record<string, string | number | null>;

const compare = (a: unknown, b: unknown): number => {
  const [one, other] = [a, b] as [string, string];
  return one < other ? -1 : one > other ? 1 : 0;
};
const by =
  <T>(...keys: ((row: T) => unknown)[]) =>
  (a: T, b: T): number => {
    for (const key of keys) {
      const order = compare(key(a), key(b));
      if (order !== 0) return order;
    }
    return 0;
  };
/** What is not known comes last, whichever way the rest goes. */
const byKnown =
  (name: string, way: 1 | -1, key: (value: string | number) => unknown = (value) => value) =>
  (a: Raw, b: Raw): number => {
    const [one, other] = [a[name] ?? null, b[name] ?? null];
    if (one === null || other === null) return Number(one === null) - Number(other === null);
    return way * compare(key(one), key(other));
  };

const CABLES = 12;
const PLACES = ["good", "unproven", "degraded", "broken", null];

/** Strands with values that repeat and values that are missing, entered in no order. */
async function strands(seed: number) {
  const on = await onFile();
  const numbers =
    fc.sample(fc.uniqueArray(fc.integer({ min: 1, max: 400 }), { minLength: 300, maxLength: 300 }), {
      seed,
      numRuns: 1,
    })[0] ?? [];
  const pick = fc.sample(fc.nat(1000), { seed, numRuns: numbers.length });
  await on.write(
    Array.from(
      { length: CABLES },
      (_, i) => ({ op: "insert", kind: "cable", id: i + 1, values: { tag: `F-${(i * 7) % 13}` } }) as const,
    ),
  );
  await on.write(
    numbers.map((number, i) => {
      const random = pick[i] ?? 0;
      const values = {
        cable_id: (random % CABLES) + 1,
        number,
        place: random % 3 === 0 ? null : random % 7 || 7,
        condition: PLACES[random % 5] ?? null,
        colour: random % 4 === 0 ? null : (["blue", "Blue", "amber", "Zinc"][random % 4] ?? null),
      };
      return { op: "insert", kind: "strand", id: i + 1, values } as const;
    }),
  );
  const rows = await on.rows<Raw>("SELECT * FROM strand");
  const cables = new Map(
    (await on.rows<{ id: number; tag: string }>("SELECT id, tag FROM cable")).map((row) => [row.id, row.tag]),
  );
  return { plant: on.plant, rows, cables };
}

async function inPieces(plant: TestPlant, input: object): Promise<number[]> {
  const ids: number[] = [];
  for (;;) {
    const answer = await plant.run<Window>("record.window", { ...input, offset: ids.length, limit: 37 });
    ids.push(...answer.rows.map((row) => row.id));
    if (answer.rows.length === 0) return answer.total === ids.length ? ids : [];
  }
}

const conditions = Object.keys(KINDS.strand.fields.condition.values);

describe("windows put together", () => {
  it.each([11, 12, 13])("are the table in order, whatever the sort and filter (%i)", async (seed) => {
    const { plant, rows, cables } = await strands(seed);
    const cable = (row: Raw) => naturalKey(cables.get(Number(row.cable_id)) ?? "");
    const id = (row: Raw) => row.id;
    const then = (...orders: ((a: Raw, b: Raw) => number)[]) =>
      rows.toSorted((a, b) => orders.reduce((found, order) => found || order(a, b), 0)).map((row) => Number(row.id));

    expect(await inPieces(plant, { kind: "strand" })).toEqual(then(by(cable, (row) => row.number)));
    for (const way of [1, -1] as const) {
      const sorted = (field: string) => inPieces(plant, { kind: "strand", sort: [{ field, descending: way < 0 }] });
      expect(await sorted("place")).toEqual(then(byKnown("place", way), by(id)));
      expect(await sorted("colour")).toEqual(
        then(
          byKnown("colour", way, (value) => String(value).toLowerCase()),
          by(id),
        ),
      );
      expect(await sorted("condition")).toEqual(
        then(
          byKnown("condition", way, (value) => conditions.indexOf(String(value))),
          by(id),
        ),
      );
      expect(await sorted("cable_id")).toEqual(
        then(
          (a, b) => way * by(cable)(a, b),
          (a, b) => way * by<Raw>((row) => row.cable_id)(a, b),
          by(id),
        ),
      );
    }
    const two = await inPieces(plant, {
      kind: "strand",
      sort: [{ field: "condition" }, { field: "number", descending: true }],
    });
    expect(two).toEqual(
      then(
        byKnown("condition", 1, (value) => conditions.indexOf(String(value))),
        byKnown("number", -1),
      ),
    );

    const some = await inPieces(plant, {
      kind: "strand",
      filters: [
        { field: "place", test: "at_least", value: 3 },
        { field: "condition", test: "is_not", value: "good" },
      ],
    });
    const kept = new Set(
      rows.filter((row) => Number(row.place) >= 3 && row.condition !== "good").map((row) => Number(row.id)),
    );
    expect(some).toEqual(then(by(cable, (row) => row.number)).filter((one) => kept.has(one)));
    expect(some.length).toBeGreaterThan(20);

    // Above and below leave out the value itself.
    const count = async (test: string, value: number) =>
      (await inPieces(plant, { kind: "strand", filters: [{ field: "place", test, value }] })).length;
    expect(await count("above", 3)).toBe(rows.filter(({ place }) => place !== null && Number(place) > 3).length);
    expect(await count("below", 3)).toBe(rows.filter(({ place }) => place !== null && Number(place) < 3).length);
    expect(await count("below", 3)).toBeGreaterThan(0);
  });
});

describe("the order of every kind", () => {
  it("can be read by every field, either way, and by its address", async () => {
    const plant = await newPlant();
    for (const kind of Object.keys(KINDS) as KindName[]) {
      await plant.run("record.window", { kind });
      for (const field of Object.keys(KINDS[kind].fields)) {
        await plant.run("record.window", { kind, sort: [{ field, descending: true }] });
        await plant.run("record.values", { kind, field });
        for (const test of ["contains", "starts", "is", "at_least", "above"] as const)
          if (
            !(KINDS[kind].fields as Record<string, { type: string }>)[field]?.type.startsWith("ref") ||
            test === "contains"
          )
            await plant.run("record.window", { kind, text: "a 1", filters: [{ field, test, value: "a" }] });
      }
    }
  });

  it("needs no sorting for strands and sections: the engine follows its indices", async () => {
    const seen: string[] = [];
    const plant = await newPlant();
    for (const kind of ["strand", "section", "cable", "stop"] as const) {
      const joins = new Joins(kind);
      const terms = orderTerms(kind, [], joins).join(", ");
      const plan = await plant.store.read((reader) =>
        reader.rows<{ detail: string }>(`EXPLAIN QUERY PLAN SELECT t.id FROM ${joins.fromTheTop} ORDER BY ${terms}`),
      );
      seen.push(...plan.flatMap(({ detail }) => (detail.includes("TEMP B-TREE") ? [`${kind}: ${detail}`] : [])));
    }
    expect(seen).toEqual([]);
  });
});

describe("the list of ids kept for a table", () => {
  it("is read once, until something it depends on was written", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    await on.add("strand", { cable_id: 1, number: 1 });
    const cache = new Cache();
    const reads = async () => {
      let lists = 0;
      await on.plant.store.read(async (reader) => {
        const counting = {
          db: reader.db,
          lists: reader.lists.bind(reader),
          rows: <T>(sql: string, parameters?: readonly (string | number | null)[]) => {
            if (sql.includes("json_group_array")) lists++;
            return reader.rows<T>(sql, parameters);
          },
        };
        await windowOf(counting, cache, { kind: "strand", sort: [], filters: [], text: "" }, 0, 10);
      });
      return lists;
    };
    expect([await reads(), await reads()]).toEqual([1, 0]);
    await on.add("party", { tag: "CITY" });
    expect(await reads()).toBe(0);
    await on.write([{ op: "update", kind: "cable", id: 1, values: { tag: "F-2" } }]);
    expect([await reads(), await reads()]).toEqual([1, 0]);
    await on.gateway.stream("import", "Import", TESTER, (bulk) =>
      bulk.insertMany("strand", [{ id: 9, values: { cable_id: 1, number: 9 } }]),
    );
    expect(await reads()).toBe(1);
  });
});

describe("the cache", () => {
  it("keeps what was used last and lets go of the rest", () => {
    const cache = new Cache(100);
    cache.set("a", 1, 40);
    cache.set("b", 2, 40);
    expect(cache.get("a")).toBe(1);
    cache.set("c", 3, 40);
    expect([cache.get("a"), cache.get("b"), cache.get("c")]).toEqual([1, undefined, 3]);
    cache.set("huge", 4, 1000);
    expect(cache.get("huge")).toBeUndefined();
    cache.set("d", 5, 90);
    expect(cache.get("d")).toBe(5);
  });
});
