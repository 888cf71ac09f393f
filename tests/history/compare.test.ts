/** Two moments of the record compared, held against what was done in between. */
import { describe, expect, it } from "vitest";
import type { AnswerOf, InputOf } from "../../core/operations/list.ts";
import { enterCampus } from "../journeys/support/campus.ts";
import { refusalOf } from "../store/on-file.ts";
import type { TestPlant } from "../support/plant.ts";
import { add, edit, newStory, remove } from "./story.ts";

type Comparison = AnswerOf<"history.compare">;
const compare = (plant: TestPlant, input: InputOf<"history.compare">) =>
  plant.run<Comparison>("history.compare", input);
/** `+` added, `~` changed with its fields, `-` removed. */
const told = ({ changes }: Comparison): string[] =>
  changes.map(({ op, kind, record, fields }) =>
    op === "update"
      ? `~${kind} ${record} ${fields.map((f) => `${f.label}: ${f.before} > ${f.after}`).join(", ")}`
      : `${op === "insert" ? "+" : "-"}${kind} ${record}`,
  );

async function ayear() {
  const story = await newStory();
  await story.on("2026-01-05", ...add("party", { tag: "CITY" }));
  await story.on("2026-01-05", ...add("cable", { tag: "F-1", owner_id: "CITY" }));
  await story.on("2026-02-10", ...add("cable", { tag: "F-2" }), { author: "Ben" });
  await story.on("2026-03-01", ...edit("cable", "F-1", { tag: "F-10", name: "north" }));
  await story.on("2026-03-02", ...edit("cable", "F-10", { name: "north loop" }), { author: "Ben" });
  await story.on("2026-04-01", ...remove("cable", "F-2"));
  await story.on("2026-05-01", ...edit("cable", "F-10", { name: "loop" }));
  return story;
}

describe("two moments of the record", () => {
  it("differ by what was added, changed and removed in between, each field before and after", async () => {
    const story = await ayear();
    const year = await compare(story, { from: { day: "2026-01-31" }, to: { day: "2026-04-30" } });
    // F-2 came and went in between: it is in neither.
    expect(told(year)).toEqual(["~cable F-10 tag: F-1 > F-10, name: null > north loop"]);
    expect(year.counts).toEqual([{ kind: "cable", added: 0, changed: 1, removed: 0 }]);
    expect(year.change_sets).toBe(4);
    expect(year.authors).toEqual([
      { author: "Ada", change_sets: 2 },
      { author: "Ben", change_sets: 2 },
    ]);
    expect(year.sentence).toBe(
      "Between the end of 31 Jan 2026 and the end of 30 Apr 2026, of the cables 1 was changed.",
    );
    expect(told(await compare(story, { from: { change_set: 3 } }))).toEqual([
      "~cable F-10 tag: F-1 > F-10, name: null > loop",
      "-cable F-2",
    ]);
  });

  it("shows what was added as it stood at the second moment, not as it is now", async () => {
    const story = await ayear();
    const first = await compare(story, { from: { change_set: 0 }, to: { change_set: 3 } });
    expect(told(first)).toEqual(["+party CITY", "+cable F-10", "+cable F-2"]);
    expect(first.sentence).toBe("Between the beginning and change 3, of the records 3 were added.");
    expect(first.changes[1]?.fields).toContainEqual({ field: "tag", label: "tag", before: null, after: "F-1" });
    expect(first.changes[2]?.fields).toContainEqual({ field: "tag", label: "tag", before: null, after: "F-2" });
  });

  it("are the same when everything was taken back, and when a moment is held against itself", async () => {
    const story = await ayear();
    for (let n = 0; n < 3; n++) await story.run("history.undo");
    const since = await compare(story, { from: { change_set: 4 } });
    expect([since.changes, since.counts, since.change_sets]).toEqual([[], [], 6]);
    expect(since.sentence).toContain("nothing differs");
    expect((await compare(story, { from: { change_set: 4 }, to: { change_set: 4 } })).change_sets).toBe(0);
  });

  it("know a record that was deleted and brought back otherwise by what it became", async () => {
    const story = await ayear();
    const before = { change_set: 5 };
    await story.run("history.undo", { change_set: 6 });
    await story.on("2026-06-01", ...edit("cable", "F-2", { name: "south" }));
    expect(told(await compare(story, { from: before }))).toEqual([
      "~cable F-10 name: north loop > loop",
      "~cable F-2 name: null > south",
    ]);
  });

  it("come page by page, each record once, and for some kinds alone", async () => {
    const story = await newStory();
    const values = (i: number) => ({ cable_id: "F-1", number: i + 1 });
    await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
    const strands = Array.from({ length: 1500 }, (_, i) => ({ op: "add", kind: "strand", values: values(i) }));
    await story.on("2026-01-06", "record.change_many", { changes: strands });
    await story.on("2026-01-07", ...add("building", { tag: "LIB" }));
    const names: string[] = [];
    let after: InputOf<"history.compare">["after"];
    do {
      const page = await compare(story, { from: { change_set: 1 }, limit: 750, ...(after ? { after } : {}) });
      expect(page.counts).toEqual([
        { kind: "building", added: 1, changed: 0, removed: 0 },
        { kind: "strand", added: 1500, changed: 0, removed: 0 },
      ]);
      names.push(...page.changes.map((one) => one.record));
      after = page.next ?? undefined;
    } while (after);
    expect(names).toEqual(["LIB", ...Array.from({ length: 1500 }, (_, i) => `F-1:${i + 1}`)]);
    expect(told(await compare(story, { from: { change_set: 1 }, kinds: ["building"] }))).toEqual(["+building LIB"]);
  });

  it("are refused the wrong way round, or where there is none", async () => {
    const story = await ayear();
    await refusalOf(compare(story, { from: { change_set: 4 }, to: { change_set: 2 } }), "bad_input");
    await refusalOf(compare(story, { from: { change_set: 99 } }), "not_found");
    await refusalOf(compare(story, { from: { sign_off: "last" } }), "not_found");
  });
});

describe("what an auditor signed", () => {
  it("differs later by exactly what was changed since, the signature itself left out", async () => {
    const story = await ayear();
    await story.on("2026-06-01", "sign_off.make", { by: "I. Quell" });
    const signed = await compare(story, { from: { sign_off: "last" } });
    expect(signed.from.sign_off).toMatchObject({ signed_by: "I. Quell", signed_on: "2026-06-01", intact: true });
    expect([signed.changes, signed.change_sets]).toEqual([[], 0]);
    await story.on("2026-06-02", ...edit("cable", "F-10", { tag: "F-11" }));
    await story.on("2026-06-03", "sign_off.make", { by: "Another" });
    const later = await compare(story, { from: { sign_off: 1 } });
    expect(told(later)).toEqual(["~cable F-11 tag: F-10 > F-11", "+sign_off sign-off of 2026-06-03 by Another"]);
    expect(later.sentence).toContain("what I. Quell signed on 1 Jun 2026");
  });

  it("is the same for two who signed one after the other", async () => {
    const story = await ayear();
    await story.on("2026-06-01", "sign_off.make", { by: "I. Quell" });
    await story.on("2026-06-01", "sign_off.make", { by: "Another" });
    await story.on("2026-06-02", ...edit("cable", "F-10", { tag: "F-11" }));
    for (const sign_off of [1, 2]) {
      const since = await compare(story, { from: { sign_off } });
      expect(since.from.sign_off?.intact).toBe(true);
      expect(told(since)).toContain("~cable F-11 tag: F-10 > F-11");
    }
    expect(told(await compare(story, { from: { sign_off: 2 } }))).toHaveLength(1);
  });

  it("is not this file's when the digest signed is another's", async () => {
    const story = await ayear();
    await story.on("2026-06-01", "sign_off.make", { by: "I. Quell" });
    await story.on("2026-06-02", "record.edit", { kind: "sign_off", id: 1, values: { content_hash: "0".repeat(64) } });
    const since = await compare(story, { from: { sign_off: 1 } });
    expect(since.from.sign_off?.intact).toBe(false);
    expect(since.sentence).toContain("is not the one that was signed");
  });
});

describe("the history of strands", () => {
  it("is that of their glass: entered, landed, given and taken away again, and no other strand's", async () => {
    const story = await newStory();
    await enterCampus((name, input) => story.on("2026-03-01", name, input as object));
    await story.on("2026-03-02", "cord.patch", { from: "LIB/2A/P1:05", to: "LIB/2A/P1:06", tag: "C-1" });
    const given = await story.on("2026-03-03", "circuit.assign", { circuit: "K-088", what: ["F-014:3"] });
    const input = { circuit: "K-088", strands: "F-014:3" };
    // As a correction the assignment is deleted, for it never was.
    const released = await story.on("2026-03-04", "circuit.release", input, { meaning: "correction" });
    const ids = async (of: string) =>
      (await story.run<AnswerOf<"history.list">>("history.list", { of, since: "2026-03-02" })).items.map(
        ({ id }) => id,
      );
    expect(await ids("F-014:3")).toEqual([released, given]);
    expect(await ids("F-014:1-4")).toEqual([released, given]);
    expect(await ids("F-014:5-6")).toEqual([]);
    const all = await story.run<AnswerOf<"history.list">>("history.list", { of: "F-014:3" });
    expect(all.items.map(({ act }) => act)).toEqual([
      "circuit.release",
      "circuit.assign",
      "strand.land",
      "cable.enter",
    ]);
  });
});

describe("the history of a thing", () => {
  it("is that of its parts too: a cable's stops and glass, a panel's ports, and what is joined, labelled or kept there", async () => {
    const story = await newStory();
    await enterCampus((name, input) => story.on("2026-03-01", name, input as object));
    const patched = await story.on("2026-03-02", "cord.patch", {
      from: "LIB/2A/P1:05",
      to: "LIB/2A/P1:06",
      tag: "C-1",
    });
    const coiled = await story.on("2026-03-03", ...edit("stop", "F-014@1", { notes: "coil behind the rack" }));
    const label = await story.on("2026-03-04", "label.write", { subject: "F-014", space: "MH-03" });
    const seen = await story.on("2026-03-05", "label.sight", { subject: "F-014", space: "MH-03", state: "present" });
    const unlabelled = await story.on("2026-03-06", "record.remove", { kind: "label", ids: [1] });
    const other = await story.on("2026-03-07", ...edit("cable", "F-021", { name: "other" }));
    const touched = async (of: string) =>
      (await story.run<AnswerOf<"history.list">>("history.list", { of, since: "2026-03-02" })).items.map(
        ({ id }) => id,
      );
    expect(await touched("F-014")).toEqual([unlabelled, seen, label, coiled]);
    expect(await touched("F-021")).toEqual([other]);
    expect(await touched("LIB/2A/P1")).toEqual([patched]);
    expect(await touched("LIB/2A/P1:05")).toEqual([patched]);
    // A room holds things that stand for themselves.
    expect(await touched("LIB/2A")).toEqual([]);
  });
});

describe("the history of a selection", () => {
  it("lists what touched any of its records, a kind, or says certain words", async () => {
    const story = await ayear();
    const ids = async (input: object) =>
      (await story.run<AnswerOf<"history.list">>("history.list", input)).items.map(({ id }) => id);
    const party = { kind: "party", id: "CITY" };
    expect(await ids({ records: [party, { kind: "cable", id: 2 }] })).toEqual([6, 3, 1]);
    expect(await ids({ kind: "party" })).toEqual([1]);
    expect(await ids({ kind: "cable", since: "2026-03-01", author: "ben" })).toEqual([5]);
    expect(await ids({ text: "delete CABLE" })).toEqual([6]);
    expect(await ids({ text: "100%" })).toEqual([]);
  });
});
