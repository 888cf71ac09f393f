import { describe, expect, it } from "vitest";
import type { BulkRow, BulkWriter } from "../../core/store/bulk.ts";
import { entriesOf } from "../../core/store/entries.ts";
import type { Change } from "../../core/store/plan.ts";
import { TESTER } from "../support/plant.ts";
import { type OnFile, onFile, refusalOf } from "./on-file.ts";

const strands = (cable: number, from: number, count: number): BulkRow[] =>
  Array.from({ length: count }, (_, i) => ({ id: from + i, values: { cable_id: cable, number: from + i } }));

const stream = (on: OnFile, work: (bulk: BulkWriter) => Promise<void>) =>
  on.gateway.stream("exchange.import", "Import", TESTER, work);

const entries = (on: OnFile, changeSet: number) =>
  on.rows<{ op: string; kind: string; record_id: number; last_id: number }>(
    "SELECT op, kind, record_id, last_id FROM change_entry WHERE change_set_id = ? ORDER BY seq",
    [changeSet],
  );

async function imported(count = 25_000) {
  const on = await onFile();
  const cable = await on.add("cable", { tag: "F-1" });
  const before = await on.content();
  const written = await stream(on, async (bulk) => {
    for (let from = 1; from <= count; from += 4000)
      await bulk.insertMany("strand", strands(cable, from, Math.min(4000, count - from + 1)));
  });
  return { on, cable, before, written };
}

describe("a bulk import", () => {
  it("is one change set whose history is ranges of ids", async () => {
    const { on, written } = await imported();
    expect(written).toMatchObject({ change_set: 2, counts: [{ kind: "strand", added: 25_000 }] });
    expect(await entries(on, 2)).toEqual([
      { op: "insert_range", kind: "strand", record_id: 1, last_id: 10_000 },
      { op: "insert_range", kind: "strand", record_id: 10_001, last_id: 20_000 },
      { op: "insert_range", kind: "strand", record_id: 20_001, last_id: 25_000 },
    ]);
    expect(await on.rows("SELECT records, act, verb FROM change_set WHERE id = 2")).toEqual([
      { records: 25_000, act: "exchange.import", verb: "do" },
    ]);
  });

  it("is undone by range, its rows kept in pages, and redone from them, any number of times", async () => {
    const { on, before } = await imported();
    const after = await on.content();
    for (let round = 0; round < 2; round++) {
      await on.restore("undo");
      expect(await on.content()).toEqual(before);
      await on.restore("redo");
      expect(await on.content()).toEqual(after);
    }
    const undone = await entries(on, 3);
    expect(undone).toHaveLength(25);
    expect(undone.every((entry) => entry.op === "delete_page")).toBe(true);
    expect((await entries(on, 4)).every((entry) => entry.op === "insert_range")).toBe(true);
  });

  it("is undone with progress, and can be stopped with nothing changed", async () => {
    const { on } = await imported();
    const after = await on.content();
    const told: [string, number, number | null][] = [];
    const undo = (stop: boolean) =>
      on.gateway.carryOut("history.undo", TESTER, async () => ({
        summary: "",
        changes: [],
        answer: null,
        restores: {
          verb: "undo",
          progress: async (what, done, total) => {
            told.push([what, done, total]);
            if (stop) throw new Error("stopped");
          },
        },
      }));
    await expect(undo(true)).rejects.toThrow("stopped");
    expect(await on.content()).toEqual(after);
    told.length = 0;
    await undo(false);
    expect(told.at(-1)).toEqual(["undoing", 25_000, 25_000]);
  });

  it("can be taken back when other records were written since, but not what later records rest on", async () => {
    const { on, cable } = await imported(3000);
    await on.add("party", { tag: "CITY" });
    const label = await on.add("label", { subject_kind: "strand", subject_id: 7 });
    const failure = await refusalOf(on.restore("undo", 2), "rests_on");
    expect(failure.problems[0]?.reason).toMatch(/^1 label rests on them: /);
    await on.write([{ op: "delete", kind: "label", id: label }]);
    await on.write([{ op: "update", kind: "strand", id: 8, values: { place: 3 } }], "Place strand 8");
    const touched = await refusalOf(on.restore("undo", 2), "not_possible");
    expect(touched.problems).toEqual([{ record: "F-1:8", reason: expect.stringContaining("Place strand 8") }]);
    await on.restore("undo");
    await on.restore("undo", 2);
    expect(await on.rows("SELECT count(*) AS n FROM strand")).toEqual([{ n: 0 }]);
    // Coming back, each page is held against what is on record now.
    await on.add("strand", { cable_id: cable, number: 5 });
    const taken = await refusalOf(on.restore("redo", 2), "duplicate");
    expect(taken.problems[0]).toMatchObject({
      field: "number",
      reason: expect.stringMatching(/^is 5: taken by F-1:5/),
    });
    await on.restore("undo");
    await on.restore("redo", 2);
    expect(await on.rows("SELECT count(*) AS n FROM strand")).toEqual([{ n: 3000 }]);
  });

  it("may refer to rows that come later", async () => {
    const on = await onFile();
    await stream(on, async (bulk) => {
      await bulk.insertMany("strand", [{ id: 1, values: { cable_id: 1, number: 1 } }]);
      await bulk.insertMany("cable", [{ id: 1, values: { tag: "F-1" } }]);
    });
    expect(await on.rows("SELECT count(*) AS n FROM strand")).toEqual([{ n: 1 }]);
  });

  it.each([
    ["a reference that is nowhere", { cable_id: 77, number: 1 }, "not_found", { field: "cable", row: 12 }],
    ["a key that is taken", { cable_id: 1, number: 5 }, "duplicate", { field: "number", row: 12 }],
    ["a value that breaks a rule", { cable_id: 1, number: 1.5 }, "bad_input", { field: "number", row: 12 }],
  ] as const)("is refused for %s, with the row, and changes nothing", async (_, values, code, problem) => {
    const { on } = await imported(2000);
    const before = await on.content();
    const work = stream(on, async (bulk) => {
      await bulk.insertMany("strand", strands(1, 2001, 60));
      await bulk.insertMany("strand", [{ id: 2061, values, row: 12 }]);
    });
    const failure = await refusalOf(work, code);
    expect(failure.problems[0]).toMatchObject(problem);
    expect(await on.content()).toEqual(before);
    expect(await on.rows("SELECT max(id) AS n FROM change_set")).toEqual([{ n: 2 }]);
  });

  it("finds the taken key among rows that are written fifty at a time", async () => {
    const { on } = await imported(2000);
    const rows = strands(1, 2001, 120).map((row, i) =>
      i === 77 ? { ...row, values: { cable_id: 1, number: 9 }, row: 78 } : row,
    );
    const failure = await refusalOf(
      stream(on, (bulk) => bulk.insertMany("strand", rows)),
      "duplicate",
    );
    expect(failure.problems).toEqual([
      { row: 78, record: expect.any(String), field: "number", reason: "is 9: taken by F-1:9" },
    ]);
  });

  it("may also change and delete, and is undone with all of it", async () => {
    const on = await onFile();
    const keep = await on.add("cable", { tag: "F-1", name: "old" });
    const gone = await on.add("cable", { tag: "F-2" });
    const before = await on.content();
    await stream(on, async (bulk) => {
      await bulk.apply([
        { op: "update", kind: "cable", id: keep, values: { name: "new", tag: "F-2" } },
        { op: "delete", kind: "cable", id: gone },
      ]);
      await bulk.insertMany("cable", [{ id: 10, values: { tag: "F-1" } }]);
      await bulk.insertMany("strand", strands(10, 1, 1200));
      // What happens to its own new rows goes with them.
      await bulk.apply([
        { op: "update", kind: "strand", id: 3, values: { place: 2 } },
        { op: "delete", kind: "strand", id: 4 },
        { op: "update", kind: "cable", id: keep, values: { name: "newer" } },
      ]);
    });
    const after = await on.content();
    await on.restore("undo");
    expect(await on.content()).toEqual(before);
    await on.restore("redo");
    expect(await on.content()).toEqual(after);
    await on.restore("undo");
    expect(await on.content()).toEqual(before);
  });

  it("writes no change set when there is nothing to write", async () => {
    const on = await onFile();
    expect(await stream(on, async () => {})).toMatchObject({ change_set: null, counts: [] });
    expect(await on.rows("SELECT count(*) AS n FROM change_set")).toEqual([{ n: 0 }]);
  });
});

describe("a plan of more than a thousand records", () => {
  it("keeps insertions as ranges, none so long that the search for one record would be", async () => {
    const on = await onFile();
    await on.write([
      { op: "insert", kind: "cable", id: 1, values: { tag: "F-1" } },
      ...strands(1, 1, 10_500).map(({ id, values }) => ({ op: "insert", kind: "strand", id, values }) as Change),
    ]);
    expect(await entries(on, 1)).toEqual([
      { op: "insert", kind: "cable", record_id: 1, last_id: 1 },
      { op: "insert_range", kind: "strand", record_id: 1, last_id: 10_000 },
      { op: "insert_range", kind: "strand", record_id: 10_001, last_id: 10_500 },
    ]);
    const found = await on.plant.store.read((reader) => entriesOf(reader, "strand", 10_000));
    expect(found.map((entry) => entry.record_id)).toEqual([1]);
  });

  it("keeps deletions in pages by column, and is undone from them", async () => {
    const { on, cable } = await imported(2500);
    const before = await on.content();
    await on.write([
      { op: "delete", kind: "cable", id: cable },
      ...strands(cable, 1, 2500).map(({ id }) => ({ op: "delete", kind: "strand", id }) as const),
    ]);
    const kept = await on.rows<{ op: string; data: string }>(
      "SELECT op, data FROM change_entry WHERE change_set_id = 3 ORDER BY seq",
    );
    expect(kept.map((entry) => entry.op)).toEqual(["delete", "delete_page", "delete_page", "delete_page"]);
    expect(JSON.parse(kept[3]?.data ?? "").fields).toEqual(["id", "cable_id", "number"]);
    await on.restore("undo");
    expect(await on.content()).toEqual(before);
    await on.restore("redo");
    expect((await on.content()).strand).toEqual([]);
  });

  it("doesn't take a page for all the ids it spans", async () => {
    const { on } = await imported(2500);
    const odd = strands(1, 1, 2500).filter(({ id }) => id % 2 === 1);
    await on.write(odd.map(({ id }) => ({ op: "delete", kind: "strand", id }) as const));
    await on.write([{ op: "update", kind: "strand", id: 8, values: { place: 3 } }]);
    await on.restore("undo", 3);
    expect(await on.rows("SELECT count(*) AS n FROM strand")).toEqual([{ n: 2500 }]);
    expect(await on.rows("SELECT place FROM strand WHERE id = 8")).toEqual([{ place: 3 }]);
  });
});
