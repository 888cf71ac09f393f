/** Whatever is written, in whatever order, taken back and brought back: the content is what it was. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { KindName } from "../../core/model/dictionary.ts";
import { Refusal } from "../../core/result.ts";
import type { Change } from "../../core/store/plan.ts";
import { closureOf, removal } from "../../core/store/resting.ts";
import { type OnFile, onFile } from "./on-file.ts";

const KINDS = ["party", "building", "space", "cable", "strand", "label"] as const;
type Kind = (typeof KINDS)[number];

const step = fc.record({
  op: fc.constantFrom("insert", "update", "delete", "swap"),
  kind: fc.constantFrom(...KINDS),
  /** Which of the records there are. */
  pick: fc.nat(20),
  other: fc.nat(20),
  value: fc.nat(5),
});
const act = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ do: fc.constant("write" as const), steps: fc.array(step, { minLength: 1, maxLength: 4 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant("remove" as const), kind: fc.constantFrom(...KINDS), pick: fc.nat(20) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constantFrom("undo" as const, "redo" as const),
      target: fc.option(fc.nat(9), { freq: 2 }),
    }),
  },
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;
type Act = typeof act extends fc.Arbitrary<infer T> ? T : never;

const idsOf = async (on: OnFile, kind: KindName): Promise<number[]> =>
  (await on.rows<{ id: number }>(`SELECT id FROM "${kind}" ORDER BY id`)).map((row) => row.id);

const contentOf = (on: OnFile) => on.content(KINDS);

/** Values that collide often: few tags, few numbers, references among what there is. */
async function valuesFor(on: OnFile, kind: Kind, { value, other }: Step): Promise<Change & { op: "insert" }> {
  const one = async (of: Kind) => (await idsOf(on, of))[other % 3] ?? null;
  const id = await on.plant.store.read((reader) => on.gateway.newIds(reader, kind, 1));
  const values = {
    party: async () => ({ tag: `P${value}` }),
    building: async () => ({ tag: `B${value}`, owner_id: await one("party") }),
    space: async () => ({ tag: `${value}`, building_id: await one("building") }),
    cable: async () => ({ tag: `F-${value}`, owner_id: await one("party") }),
    strand: async () => ({ cable_id: await one("cable"), number: value + 1 }),
    label: async () => {
      const subject_kind = KINDS[value % 5] ?? "cable";
      return { subject_kind, subject_id: await one(subject_kind), text: `${value}` };
    },
  }[kind];
  return { op: "insert", kind, id, values: await values() };
}

async function changesFor(on: OnFile, steps: readonly Step[]): Promise<Change[]> {
  const changes: Change[] = [];
  const taken = new Set<string>();
  const free = (kind: Kind, id: number | undefined): id is number => {
    if (id === undefined || taken.has(`${kind} ${id}`)) return false;
    taken.add(`${kind} ${id}`);
    return true;
  };
  for (const one of steps) {
    const { kind } = one;
    const ids = await idsOf(on, kind);
    const id = ids[one.pick % Math.max(1, ids.length)];
    const fresh = await valuesFor(on, kind, one);
    if (one.op === "insert") changes.push(fresh);
    else if (!free(kind, id)) continue;
    else if (one.op === "delete") changes.push({ op: "delete", kind, id });
    else if (one.op === "update")
      changes.push({ op: "update", kind, id, values: { ...fresh.values, notes: `${one.value}` } });
    else {
      const second = ids[one.other % ids.length];
      const name = kind === "strand" ? "number" : "tag";
      if (kind === "label" || !free(kind, second)) continue;
      const rows = await on.rows<Record<string, string | number>>(
        `SELECT id, ${name} FROM "${kind}" WHERE id IN (?, ?) ORDER BY id = ?`,
        [id, second, second],
      );
      changes.push({ op: "update", kind, id, values: { [name]: rows[1]?.[name] ?? null } });
      changes.push({ op: "update", kind, id: second, values: { [name]: rows[0]?.[name] ?? null } });
    }
  }
  return changes;
}

/** Carries an act out; a refusal must leave everything as it was. */
async function perform(on: OnFile, one: Act): Promise<boolean> {
  const before = JSON.stringify(await contentOf(on));
  try {
    if (one.do === "write") await on.write(await changesFor(on, one.steps));
    else if (one.do === "remove") {
      const ids = await idsOf(on, one.kind);
      const id = ids[one.pick % Math.max(1, ids.length)];
      if (id === undefined) return false;
      await on.write(removal(await on.plant.store.read((reader) => closureOf(reader, new Map([[one.kind, [id]]])))));
    } else {
      const [{ last } = { last: 1 }] = await on.rows<{ last: number }>("SELECT max(id) AS last FROM change_set");
      await on.restore(one.do, one.target === null ? undefined : last - (one.target % last));
    }
    return true;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    expect(JSON.stringify(await contentOf(on))).toBe(before);
    return false;
  }
}

async function expectSound(on: OnFile): Promise<void> {
  expect(await on.rows("SELECT * FROM pragma_foreign_key_check")).toEqual([]);
  for (const kind of KINDS) {
    const sql = `SELECT id FROM label WHERE subject_kind = ? AND subject_id NOT IN (SELECT id FROM "${kind}")`;
    expect(await on.rows(sql, [kind])).toEqual([]);
  }
}

/** Undoes until there is nothing left; how many steps it took. */
async function undoAll(on: OnFile): Promise<number> {
  for (let steps = 0; ; steps++) {
    try {
      await on.restore("undo");
    } catch (error) {
      if (error instanceof Refusal && error.message === "There is nothing to undo.") return steps;
      throw error;
    }
  }
}

it("undoing all of any sequence gives the content at first, redoing all the content at last", {
  timeout: 240_000,
}, async () => {
  let carried = 0;
  let refused = 0;
  let restored = 0;
  const acts = fc.array(act, { minLength: 8, maxLength: 24, size: "max" });
  await fc.assert(
    fc.asyncProperty(acts, async (sequence) => {
      const on = await onFile();
      const first = await contentOf(on);
      await on.write([
        { op: "insert", kind: "party", id: 1, values: { tag: "P0" } },
        { op: "insert", kind: "building", id: 1, values: { tag: "B0", owner_id: 1 } },
        { op: "insert", kind: "space", id: 1, values: { tag: "0", building_id: 1 } },
        { op: "insert", kind: "cable", id: 1, values: { tag: "F-0" } },
        { op: "insert", kind: "strand", id: 1, values: { cable_id: 1, number: 1 } },
        { op: "insert", kind: "strand", id: 2, values: { cable_id: 1, number: 2 } },
      ]);
      for (const one of sequence) {
        if (!(await perform(on, one))) refused++;
        else if (one.do === "undo" || one.do === "redo") restored++;
        else carried++;
      }
      await expectSound(on);
      const last = await contentOf(on);
      const back = await undoAll(on);
      expect(await contentOf(on)).toEqual(first);
      for (let steps = 0; steps < back; steps++) await on.restore("redo");
      expect(await contentOf(on)).toEqual(last);
      await expectSound(on);
      await on.plant.close();
    }),
    { seed: 20260403, numRuns: 30 },
  );
  // The sequences must really write, really take back, and really be refused, or the test says nothing.
  expect(Math.min(carried / 4, refused, restored)).toBeGreaterThan(40);
});
