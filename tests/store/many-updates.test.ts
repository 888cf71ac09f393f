/** A change of more records than are kept one by one: pages in the history, of which nobody who reads it sees anything. */
import { describe, expect, it } from "vitest";
import { netChanges, valuesAt } from "../../core/history/net.ts";
import { entriesOf } from "../../core/store/entries.ts";
import { recordHistory, showHistory } from "../../core/store/history.ts";
import type { Change } from "../../core/store/plan.ts";
import { TESTER } from "../support/plant.ts";
import { type OnFile, onFile, refusalOf } from "./on-file.ts";

const COUNT = 3000;

/** A cable of 3000 strands, every second of which is given a note and a place in its unit by change set 3. */
async function noted() {
  const on = await onFile();
  const cable = await on.add("cable", { tag: "F-1" });
  const rows = Array.from({ length: COUNT }, (_, i) => ({ id: i + 1, values: { cable_id: cable, number: i + 1 } }));
  await on.gateway.stream("exchange.import", "Import", TESTER, (bulk) => bulk.insertMany("strand", rows));
  const before = await on.content();
  await on.write(
    odd((id) => ({ notes: `note ${id}`, place: id })),
    "Note every second",
  );
  return { on, before, after: await on.content() };
}

const odd = (values: (id: number) => Record<string, string | number>): Change[] =>
  Array.from(
    { length: COUNT / 2 },
    (_, i): Change => ({ op: "update", kind: "strand", id: i * 2 + 1, values: values(i * 2 + 1) }),
  );

const kept = (on: OnFile, changeSet: number) =>
  on.rows("SELECT op, record_id, last_id FROM change_entry WHERE change_set_id = ? ORDER BY seq", [changeSet]);

describe("a change of very many records", () => {
  it("is kept in pages, and only where the records lie close to each other", async () => {
    const { on } = await noted();
    expect(await kept(on, 3)).toEqual([
      { op: "update_page", record_id: 1, last_id: 1999 },
      { op: "update_page", record_id: 2001, last_id: 2999 },
    ]);
    const two = [1, 2, 1500].map((id): Change => ({ op: "update", kind: "strand", id, values: { colour: "red" } }));
    const rest = odd((id) => ({ place: id + 1 })).filter(({ id }) => id !== 1);
    await on.write([...two, ...rest]);
    expect(await kept(on, 4)).toEqual([
      { op: "update_page", record_id: 1, last_id: 2 },
      { op: "update", record_id: 1500, last_id: 1500 },
      { op: "update_page", record_id: 3, last_id: 2001 },
      { op: "update_page", record_id: 2003, last_id: 2999 },
    ]);
  });

  it("is undone and redone to the letter, any number of times", async () => {
    const { on, before, after } = await noted();
    for (let round = 0; round < 2; round++) {
      await on.restore("undo");
      expect(await on.content()).toEqual(before);
      await on.restore("redo");
      expect(await on.content()).toEqual(after);
    }
  });

  it("stands in the history of each record it touched, and of no other", async () => {
    const { on } = await noted();
    const [of, beside] = await on.plant.store.read(async (reader) => [
      await recordHistory(reader, "strand", 2001, 9),
      await recordHistory(reader, "strand", 2002, 9),
    ]);
    expect(of.map(({ summary, change }) => [summary, change.op])).toEqual([
      ["Note every second", "update"],
      ["Import", "insert"],
    ]);
    expect(of[0]?.change.fields).toEqual([
      { field: "place", label: "place", before: null, after: "2001" },
      { field: "notes", label: "notes", before: null, after: "note 2001" },
    ]);
    expect(beside.map(({ summary }) => summary)).toEqual(["Import"]);
    expect(await on.plant.store.read((reader) => entriesOf(reader, "strand", 2001, 2))).toMatchObject([
      { op: "update", record_id: 2001, last_id: 2001, seq: 2 },
    ]);
  });

  it("is shown a page at a time, from any record on", async () => {
    const { on } = await noted();
    const shown: number[] = [];
    await on.plant.store.read(async (reader) => {
      for (let from: { seq: number; id: number } | null = null; ; ) {
        const page: Awaited<ReturnType<typeof showHistory>> = await showHistory(reader, 3, from, 400);
        shown.push(...page.changes.map(({ id }) => id));
        from = page.next;
        if (!from) break;
      }
    });
    expect(shown).toEqual(odd(() => ({})).map(({ id }) => id));
  });

  it("is told when a day in the past is looked at, or two moments are compared", async () => {
    const { on } = await noted();
    await on.plant.store.read(async (reader) => {
      const then = await valuesAt(reader, "strand", [7, 8], 2);
      expect([then.get(7)?.notes, then.get(8)?.notes]).toEqual([null, null]);
      const nets = (await netChanges(reader, 2, 3)).get("strand");
      expect(nets?.size).toBe(COUNT / 2);
      expect(nets?.get(7)).toEqual({
        op: "update",
        before: { place: null, notes: null },
        after: { place: 7, notes: "note 7" },
      });
    });
  });

  it("can't be undone once one of its records was changed since; a record in between is none of them", async () => {
    const { on } = await noted();
    await on.write([{ op: "update", kind: "strand", id: 8, values: { notes: "not one of them" } }], "Beside");
    await on.restore("undo", 3);
    await on.restore("redo", 3);
    await on.write([{ op: "update", kind: "strand", id: 2001, values: { notes: "read again" } }], "One of them");
    const failure = await refusalOf(on.restore("undo", 3), "not_possible");
    expect(failure.problems).toEqual([
      {
        record: "F-1:2001",
        field: "notes",
        reason: expect.stringMatching(/^was changed since by change \d+: One of them/),
      },
    ]);
  });
});
