import { describe, expect, it } from "vitest";
import { onFile, refusalOf } from "./on-file.ts";

describe("undo and redo", () => {
  it("go back and forth step by step, each a further change set that names what it took back or brought back", async () => {
    const on = await onFile();
    const states = [await on.content()];
    const party = await on.add("party", { tag: "CITY" });
    states.push(await on.content());
    const cable = await on.add("cable", { tag: "F-1", owner_id: party });
    states.push(await on.content());
    await on.write([{ op: "update", kind: "cable", id: cable, values: { tag: "F-2", name: "x" } }], "Rename");
    states.push(await on.content());
    for (const back of [2, 1, 0]) {
      await on.restore("undo");
      expect(await on.content()).toEqual(states[back]);
    }
    await refusalOf(on.restore("undo"), "not_possible");
    for (const forth of [1, 2, 3]) {
      await on.restore("redo");
      expect(await on.content()).toEqual(states[forth]);
    }
    await refusalOf(on.restore("redo"), "not_possible");
    expect(await on.rows("SELECT id, verb, target_id, summary FROM change_set WHERE id > 2 ORDER BY id")).toEqual([
      { id: 3, verb: "do", target_id: null, summary: "Rename" },
      { id: 4, verb: "undo", target_id: 3, summary: "Undo: Rename" },
      { id: 5, verb: "undo", target_id: 2, summary: "Undo: Add cable F-1" },
      { id: 6, verb: "undo", target_id: 1, summary: "Undo: Add party CITY" },
      { id: 7, verb: "redo", target_id: 1, summary: "Redo: Add party CITY" },
      { id: 8, verb: "redo", target_id: 2, summary: "Redo: Add cable F-1" },
      { id: 9, verb: "redo", target_id: 3, summary: "Redo: Rename" },
    ]);
  });

  it("never set a record's version back", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "x" } }]);
    await on.restore("undo");
    expect(await on.rows("SELECT name, rev FROM cable")).toEqual([{ name: null, rev: 3 }]);
    await refusalOf(on.write([{ op: "update", kind: "cable", id, rev: 1, values: { name: "y" } }]), "stale");
  });

  it("work after the file was closed and opened again", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "x" } }]);
    const state = await on.content();
    await on.restore("undo");
    await on.plant.close();
    const again = await onFile({ path: on.plant.path });
    await again.restore("redo");
    expect(await again.content()).toEqual(state);
    await again.restore("undo");
    await again.restore("undo");
    expect((await again.content()).cable).toEqual([]);
    await again.plant.close();
    const third = await onFile({ path: on.plant.path });
    await third.restore("redo");
    await third.restore("redo");
    expect(await third.content()).toEqual(state);
  });

  it("begin anew after a further change: what was undone before it isn't brought back by itself", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    await on.restore("undo");
    await on.add("cable", { tag: "F-2" });
    await refusalOf(on.restore("redo"), "not_possible");
    await on.restore("redo", 1);
    expect(await on.rows("SELECT tag FROM cable ORDER BY tag")).toEqual([{ tag: "F-1" }, { tag: "F-2" }]);
    await on.restore("undo");
    expect(await on.rows("SELECT tag FROM cable")).toEqual([{ tag: "F-2" }]);
  });

  it("restore fields that rest on each other, whatever their order in the plan", async () => {
    const on = await onFile();
    await on.write([
      { op: "insert", kind: "space", id: 1, values: { tag: "101", building_id: 1 } },
      { op: "insert", kind: "building", id: 1, values: { tag: "LIB" } },
    ]);
    const state = await on.content();
    await on.restore("undo");
    await on.restore("redo");
    expect(await on.content()).toEqual(state);
    await on.write([
      { op: "delete", kind: "building", id: 1 },
      { op: "delete", kind: "space", id: 1 },
    ]);
    await on.restore("undo");
    expect(await on.content()).toEqual(state);
  });

  it("give a deleted record its id back", async () => {
    const on = await onFile();
    const first = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "delete", kind: "cable", id: first }]);
    const second = await on.add("cable", { tag: "F-2" });
    expect(second).toBeGreaterThan(first);
    await on.restore("undo");
    await on.restore("undo");
    expect(await on.rows("SELECT id, tag FROM cable")).toEqual([{ id: first, tag: "F-1" }]);
  });

  it("tell in a rehearsal what they would do", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1", name: "x" });
    const written = await on.plant.rehearse("history.undo");
    expect(written).toMatchObject({
      change_set: null,
      summary: "Undo: Add cable F-1",
      counts: [{ kind: "cable", added: 0, changed: 0, deleted: 1 }],
      changes: [{ op: "delete", kind: "cable", record: "F-1" }],
    });
    expect(await on.rows("SELECT tag FROM cable")).toEqual([{ tag: "F-1" }]);
  });
});

describe("taking back one change out of order", () => {
  it("leaves later changes of other records alone", async () => {
    const on = await onFile();
    const one = await on.add("cable", { tag: "F-1" });
    const two = await on.add("cable", { tag: "F-2" });
    await on.write([{ op: "update", kind: "cable", id: one, values: { name: "one" } }]);
    await on.write([{ op: "update", kind: "cable", id: two, values: { name: "two" } }]);
    await on.restore("undo", 3);
    expect(await on.rows("SELECT name FROM cable ORDER BY id")).toEqual([{ name: null }, { name: "two" }]);
    await on.restore("redo", 3);
    expect(await on.rows("SELECT name FROM cable ORDER BY id")).toEqual([{ name: "one" }, { name: "two" }]);
  });

  it("leaves what later changes made of other fields of the same record", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "one", notes: "first" } }], "Name it");
    await on.write([{ op: "update", kind: "cable", id, values: { run: "R" } }], "Give it a run");
    await on.restore("undo", 2);
    expect(await on.rows("SELECT name, notes, run FROM cable")).toEqual([{ name: null, notes: null, run: "R" }]);
    await on.restore("undo", 3);
    await on.restore("redo", 2);
    expect(await on.rows("SELECT name, notes, run FROM cable")).toEqual([{ name: "one", notes: "first", run: null }]);
  });

  it("is refused where a record that it made was changed since, in whatever field", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { run: "R" } }], "Give it a run");
    const failure = await refusalOf(on.restore("undo", 1), "not_possible");
    expect(failure.problems).toMatchObject([{ record: "F-1", reason: expect.stringContaining("Give it a run") }]);
  });

  it("is refused with what changed the same field since, until that is undone", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "one", run: "Q" } }], "Name it");
    await on.write([{ op: "update", kind: "cable", id, values: { run: "R" } }], "Give it a run");
    const failure = await refusalOf(on.restore("undo", 2), "not_possible");
    expect(failure.problems).toEqual([
      {
        record: "F-1",
        field: "run",
        reason: expect.stringMatching(/^was changed since by change \d+: Give it a run \(Test Person, \d+ \w+ \d+\)$/),
      },
    ]);
    expect(failure.details).toMatchObject({ since: [{ id: 3, author: "Test Person", summary: "Give it a run" }] });
    await on.restore("undo", 3);
    await on.restore("undo", 2);
    expect(await on.rows("SELECT name, run FROM cable")).toEqual([{ name: null, run: null }]);
  });

  it("is refused when records that came later rest on what would go, with the changes they came with", async () => {
    const on = await onFile();
    const building = await on.add("building", { tag: "LIB" });
    const room = await on.add("space", { tag: "101", building_id: building });
    await on.write([{ op: "update", kind: "space", id: room, values: { name: "Network room" } }], "Name it");
    const failure = await refusalOf(on.restore("undo", 1), "rests_on");
    expect(failure.problems[0]?.reason).toMatch(
      /^1 space rests on it: LIB\/101\. That came by change 2: Add space (LIB\/)?101 \(Test Person, \d+ \w+ \d+\)$/,
    );
    expect(failure.details).toMatchObject({ since: [{ id: 2, author: "Test Person" }] });
  });

  it("is refused when what would come back refers to what has gone since", async () => {
    const on = await onFile();
    const party = await on.add("party", { tag: "CITY" });
    const cable = await on.add("cable", { tag: "F-1", owner_id: party });
    await on.write([{ op: "delete", kind: "cable", id: cable }]);
    await on.write([{ op: "delete", kind: "party", id: party }]);
    const failure = await refusalOf(on.restore("undo", 3), "not_found");
    expect(failure.problems[0]).toMatchObject({ field: "owner", reason: "is party 1, which is not on record" });
  });

  it("is refused when the key has gone to another record since", async () => {
    const on = await onFile();
    const cable = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "delete", kind: "cable", id: cable }]);
    await on.add("cable", { tag: "F-1" });
    await refusalOf(on.restore("undo", 2), "duplicate");
  });

  it("is refused to redo what another change has touched since it was undone", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "one" } }], "Name it");
    await on.restore("undo");
    await on.write([{ op: "update", kind: "cable", id, values: { name: "other" } }], "Name it otherwise");
    const failure = await refusalOf(on.restore("redo", 2), "not_possible");
    expect(failure.details).toMatchObject({ since: [{ summary: "Name it otherwise" }] });
  });

  it("is refused twice over, and for what never was", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    await refusalOf(on.restore("redo", 1), "not_possible");
    await on.restore("undo", 1);
    await refusalOf(on.restore("undo", 1), "not_possible");
    await refusalOf(on.restore("undo", 99), "not_found");
  });

  it("takes the number of an undo for the change it took back", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    await on.restore("undo");
    await on.restore("redo", 2);
    expect(await on.rows("SELECT tag FROM cable")).toEqual([{ tag: "F-1" }]);
  });
});
