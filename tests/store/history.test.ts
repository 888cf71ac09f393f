import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { refusalOf } from "./on-file.ts";

type List = AnswerOf<"history.list">;
type Show = AnswerOf<"history.show">;
const list = (plant: TestPlant, input: object = {}) => plant.run<List>("history.list", input);
const show = (plant: TestPlant, id: number, input: object = {}) => plant.run<Show>("history.show", { id, ...input });

async function storied() {
  let now = "2026-03-01T08:00:00.000Z";
  const plant = await newPlant({ clock: { now: () => now, today: () => now.slice(0, 10) } });
  const run = (at: string, author: string, name: string, input: object, more: object = {}) => {
    now = at;
    return plant.run(name, input, { author, ...more });
  };
  await run("2026-03-01T08:00:00.000Z", "Ada", "record.add", { kind: "party", values: { tag: "CITY" } });
  await run(
    "2026-03-01T09:00:00.000Z",
    "Ben",
    "record.add",
    { kind: "cable", values: { tag: "F-1", owner_id: "CITY" } },
    {
      reason: "As built",
      meaning: "correction",
      day: "2026-02-20",
    },
  );
  await run("2026-03-02T23:59:59.000Z", "Ada", "record.edit", {
    kind: "cable",
    id: "F-1",
    values: { tag: "F-2", owner_id: null },
  });
  await run("2026-03-04T10:00:00.000Z", "Ada", "record.remove", { kind: "cable", ids: ["F-2"] });
  return { plant, run };
}

describe("the history", () => {
  it("lists who did what, when, why and since what day, the newest first", async () => {
    const { plant } = await storied();
    const { items, next } = await list(plant);
    expect(items.map((item) => [item.id, item.author, item.act, item.summary])).toEqual([
      [4, "Ada", "record.remove", "Delete cable F-2"],
      [3, "Ada", "record.edit", "Change cable F-1: tag, owner"],
      [2, "Ben", "record.add", "Add cable F-1"],
      [1, "Ada", "record.add", "Add party CITY"],
    ]);
    expect(items[2]).toMatchObject({
      reason: "As built",
      meaning: "correction",
      day: "2026-02-20",
      records: 1,
      undone: false,
    });
    expect(next).toBeNull();
  });

  it("lists by page, author, act, days and record", async () => {
    const { plant } = await storied();
    const ids = async (input: object) => (await list(plant, input)).items.map((item) => item.id);
    const page = await list(plant, { limit: 3 });
    expect(page.next).toBe(2);
    expect(await ids({ before: page.next, limit: 3 })).toEqual([1]);
    expect(await ids({ author: "ada" })).toEqual([4, 3, 1]);
    expect(await ids({ act: "record.add" })).toEqual([2, 1]);
    expect(await ids({ since: "2026-03-02" })).toEqual([4, 3]);
    expect(await ids({ until: "2026-03-02" })).toEqual([3, 2, 1]);
    expect(await ids({ since: "2026-03-02", until: "2026-03-02" })).toEqual([3]);
    expect(await ids({ record: { kind: "cable", id: 1 } })).toEqual([4, 3, 2]);
    expect(await ids({ record: { kind: "party", id: "CITY" } })).toEqual([1]);
    await refusalOf(list(plant, { since: "2026-02-30" }), "bad_input");
  });

  it("knows who wrote, whoever wrote last first", async () => {
    const { plant } = await storied();
    await plant.run("history.undo", {}, { author: "Ben" });
    expect((await plant.run<AnswerOf<"history.people">>("history.people")).people).toMatchObject([
      { author: "Ben", change_sets: 2 },
      { author: "Ada", change_sets: 3, last_at: "2026-03-04T10:00:00.000Z" },
    ]);
  });

  it("shows each change in words, as the record was then", async () => {
    const { plant } = await storied();
    expect((await show(plant, 2)).changes).toEqual([
      {
        op: "insert",
        kind: "cable",
        id: 1,
        record: "F-1",
        fields: [
          { field: "tag", label: "tag", before: null, after: "F-1" },
          { field: "life", label: "life", before: null, after: "in place" },
          { field: "owner_id", label: "owner", before: null, after: "CITY" },
        ],
      },
    ]);
    expect((await show(plant, 3)).changes).toEqual([
      {
        op: "update",
        kind: "cable",
        id: 1,
        record: "F-2",
        fields: [
          { field: "tag", label: "tag", before: "F-1", after: "F-2" },
          { field: "owner_id", label: "owner", before: "CITY", after: null },
        ],
      },
    ]);
    expect((await show(plant, 4)).changes).toMatchObject([
      { op: "delete", record: "F-2", fields: [{ field: "tag", before: "F-2", after: null }, { field: "life" }] },
    ]);
  });

  it("marks what is undone, and no more when it is redone", async () => {
    const { plant } = await storied();
    const undone = async () => (await list(plant)).items.filter((item) => item.undone).map((item) => item.id);
    await plant.run("history.undo");
    expect(await undone()).toEqual([4]);
    expect((await show(plant, 5)).changes).toMatchObject([{ op: "insert", record: "F-2" }]);
    await plant.run("history.redo");
    expect(await undone()).toEqual([]);
    await plant.run("history.undo");
    expect(await undone()).toEqual([4]);
  });

  it("gives a long change set page by page, each record once", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "cable", values: { tag: "F-1" } });
    const changes = Array.from({ length: 1500 }, (_, i) => ({
      op: "add",
      kind: "strand",
      values: { cable_id: "F-1", number: i + 1 },
    }));
    await plant.run("record.change_many", { changes });
    const names: string[] = [];
    let from: Show["next"] | undefined;
    do {
      const page = await show(plant, 2, { limit: 400, ...(from ? { from } : {}) });
      names.push(...page.changes.map((change) => change.record));
      from = page.next;
    } while (from);
    expect(names).toEqual(Array.from({ length: 1500 }, (_, i) => `F-1:${i + 1}`));
  });

  it("has no change of a number that was never given", async () => {
    const plant = await newPlant();
    await refusalOf(show(plant, 1), "not_found");
  });
});

describe("the state of the plant", () => {
  it("names the last change and what undo and redo would take on", async () => {
    const { plant } = await storied();
    expect(await plant.run("plant.status")).toMatchObject({
      last_change: { id: 4 },
      undo: { id: 4, summary: "Delete cable F-2" },
      redo: null,
    });
    await plant.run("history.undo");
    expect(await plant.run("plant.status")).toMatchObject({
      undo: { id: 3, summary: "Change cable F-1: tag, owner" },
      redo: { id: 4, summary: "Delete cable F-2" },
    });
  });
});
