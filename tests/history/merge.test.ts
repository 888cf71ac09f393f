/** An office copy and one that went to the field, brought together record by record. */
import { createHash } from "node:crypto";
import { copyFileSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { Gateway } from "../../core/store/gateway.ts";
import { machineClock } from "../../host/clock.ts";
import { enterCampus } from "../journeys/support/campus.ts";
import { refusalOf } from "../store/on-file.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { contents } from "./contents.ts";
import { compare, merge, parted, run, said, threeCables } from "./parted.ts";
import { add, edit, remove } from "./story.ts";

describe("what only the other file changed", () => {
  it("is taken: records added, changed and deleted, as one change that is undone as one", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, edit("cable", "F-3", { notes: "office" }));
    await run(field, edit("cable", "F-1", { name: "found otherwise" }), "Ben");
    await run(field, remove("cable", "F-2"), "Ben");
    await run(field, add("building", { tag: "NEW" }), "Cem");
    await run(field, add("space", { tag: "1", building_id: "NEW", kind: "telecom_room" }), "Cem");
    const before = await contents(office);
    const compared = await compare(office, field);
    expect(compared).toMatchObject({ open: 0, conflicts: [], hindrances: [], ancestor: { change_set: 3 } });
    expect(compared.there).toEqual([
      { author: "Ben", change_sets: 2 },
      { author: "Cem", change_sets: 2 },
    ]);
    expect(await contents(office)).toEqual(before);
    const written = await merge(office, field);
    expect(written.summary).toBe("Merge field.strandbook: what Ben, Cem entered there");
    expect(written.counts).toEqual(compared.would?.counts);
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-3"]);
    expect(await said(office, "cable", "name")).toEqual(["found otherwise", "F-3 as laid"]);
    expect(await said(office, "cable", "notes")).toEqual([null, "office"]);
    expect(await said(office, "space", "tag")).toEqual(["1"]);
    await office.run("history.undo");
    expect(await contents(office)).toEqual(before);
  });

  it("keeps new records of both apart where they took the same ids, with what hangs on them", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("building", { tag: "HERE" }));
    await run(office, add("space", { tag: "1", building_id: "HERE", kind: "telecom_room" }));
    await run(field, add("building", { tag: "THERE" }));
    await run(field, add("space", { tag: "1", building_id: "THERE", kind: "telecom_room" }));
    await run(field, ["panel.enter", { tag: "P", space: "THERE/1", ports: [{ numbers: "1..4", connector: "lc" }] }]);
    await merge(office, field);
    const found = await office.run<AnswerOf<"address.find">>("address.find", { text: "THERE/1/P", kinds: ["panel"] });
    expect(found.hits.map(({ ref }) => ref.tag)).toEqual(["THERE/1/P"]);
    expect(await said(office, "space", "building_id")).toEqual([1, 2]);
    expect(await said(office, "port", "tag")).toEqual(["1", "2", "3", "4"]);
  });

  it("is nothing when the other file is a copy, and nothing the second time", async () => {
    const { office, field } = await parted((plant) => enterCampus((name, input) => plant.run(name, input)));
    expect((await merge(office, field)).change_set).toBeNull();
    await run(field, ["cord.patch", { from: "KLN/0E/P1:15", to: "KLN/0E/P2:03", tag: "C-9", length_m: 2 }]);
    await run(field, [
      "splice.range",
      { from: "F-014:1-4", to: "F-021:1-4", tray: "MH-03/CL-3/T2", even_if_taken: true },
    ]);
    await run(field, edit("cable", "F-040", { name: "observatory" }));
    expect((await merge(office, field)).change_set).not.toBeNull();
    const once = await contents(office);
    const again = await compare(office, field);
    expect([again.would?.counts, again.open, again.there]).toEqual([[], 0, []]);
    expect((await merge(office, field)).change_set).toBeNull();
    expect(await contents(office)).toEqual(once);
    // And the office's copy brings the field nothing new but what it has.
    expect((await merge(field, office)).change_set).toBeNull();
  });
});

describe("what both files changed", () => {
  it("is not a conflict where they agree or speak of other fields", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, edit("cable", "F-1", { name: "north", notes: "here" }));
    await run(field, edit("cable", "F-1", { name: "north", tag: "F-10" }));
    await run(office, remove("cable", "F-2"));
    await run(field, remove("cable", "F-2"));
    expect((await compare(office, field)).conflicts).toEqual([]);
    await merge(office, field);
    expect((await contents(office)).cable?.[0]).toMatchObject({ tag: "F-10", name: "north", notes: "here" });
  });

  it("is shown with both values, written only when chosen, and then as chosen", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, edit("cable", "F-1", { name: "north" }));
    await run(field, edit("cable", "F-1", { name: "south" }));
    await run(office, edit("cable", "F-2", { notes: "a" }));
    await run(field, edit("cable", "F-2", { notes: "b" }));
    const compared = await compare(office, field, { choices: [{ key: "cable 2 notes", take: "ours" }] });
    expect(compared.open).toBe(1);
    expect(compared.conflicts).toMatchObject([
      { key: "cable 1 name", record: "F-1", before: "F-1 as laid", ours: "north", theirs: "south", take: null },
      { key: "cable 2 notes", ours: "a", theirs: "b", take: "ours" },
    ]);
    const before = await contents(office);
    const refused = await refusalOf(merge(office, field), "not_possible");
    expect(refused.problems).toContainEqual({ record: "F-1", field: "name", reason: "is north here and south there" });
    expect(await contents(office)).toEqual(before);
    await refusalOf(merge(office, field, { choices: [{ key: "cable 3 name", take: "theirs" }] }), "not_found");
    await merge(office, field, { choices: [{ key: "cable 1 name", take: "theirs" }], rest: "ours" });
    expect(await said(office, "cable", "name")).toEqual(["south", "F-2 as laid", "F-3 as laid"]);
    expect((await contents(office)).cable?.[1]).toMatchObject({ notes: "a" });
  });

  it("may be deleted by one and changed by the other", async () => {
    const enter = async () => {
      const both = await parted(threeCables);
      await run(both.office, remove("cable", "F-1"));
      await run(both.field, edit("cable", "F-1", { name: "still there" }));
      await run(both.field, remove("cable", "F-2"));
      await run(both.office, edit("cable", "F-2", { name: "kept" }));
      return both;
    };
    const first = await enter();
    expect((await compare(first.office, first.field)).conflicts).toMatchObject([
      { key: "cable 1", why: "deleted_here", record: "F-1" },
      { key: "cable 2", why: "deleted_there", record: "F-2" },
    ]);
    expect((await merge(first.office, first.field, { rest: "ours" })).counts).toEqual([]);
    const second = await enter();
    await merge(second.office, second.field, { rest: "theirs" });
    expect(await said(second.office, "cable", "tag")).toEqual(["F-1", "F-3"]);
    expect(await said(second.office, "cable", "name")).toEqual(["still there", "F-3 as laid"]);
  });

  it("may be entered by both: what one doesn't know the other tells, what they say otherwise is a conflict", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("building", { tag: "NEW", name: "New hall" }));
    await run(field, add("building", { tag: "OTHER" }));
    await run(field, add("building", { tag: "NEW", name: "The new hall", notes: "by the gate" }));
    const compared = await compare(office, field);
    expect(compared.conflicts.filter(({ offered }) => !offered)).toMatchObject([
      { key: "building 1 name", why: "both_added", record: "NEW", ours: "New hall", theirs: "The new hall" },
    ]);
    await merge(office, field, { rest: "ours" });
    expect(await said(office, "building", "tag")).toEqual(["NEW", "OTHER"]);
    expect((await contents(office)).building?.[0]).toMatchObject({ name: "New hall", notes: "by the gate" });
  });
});

describe("what both entered", () => {
  it("stays as it is known here where the other doesn't know it", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("building", { tag: "NEW", notes: "by the gate" }));
    await run(field, add("building", { tag: "NEW" }));
    const { conflicts, open, alike } = await compare(office, field);
    expect(conflicts).toMatchObject([
      { record: "NEW", offered: true, words: "entered in both under one tag; only here: notes", takes: ["both"] },
    ]);
    expect([open, alike]).toEqual([0, 0]);
    expect((await merge(office, field)).change_set).toBeNull();
    expect(await said(office, "building", "notes")).toEqual(["by the gate"]);
  });

  it("names the records that both entered alike", async () => {
    const { office, field } = await parted(threeCables);
    for (const plant of [office, field]) await run(plant, add("building", { tag: "NEW" }));
    const { conflicts, alike, alike_named } = await compare(office, field);
    expect([conflicts, alike, alike_named]).toEqual([[], 1, ["building NEW"]]);
  });

  it("may be two things under one tag, though one of them tells nothing more: both can stay", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("cable", { tag: "F-777", name: "to the gym" }));
    await run(field, add("cable", { tag: "F-777" }));
    const [pair] = (await compare(office, field)).conflicts;
    expect(pair).toMatchObject({ record: "F-777", offered: true });
    await merge(office, field, { choices: [{ key: pair?.key ?? "", take: "both", tag: "F-778" }] });
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-2", "F-3", "F-777", "F-778"]);
  });

  it("counts one for one where a kind has no key: of two alike there and one here, one is new", async () => {
    const { office, field } = await parted(threeCables);
    const label = add("label", { subject_kind: "cable", subject_id: "F-1", text: "F-1", state: "present" });
    await run(office, label);
    await run(field, label);
    await run(field, label);
    const compared = await compare(office, field);
    expect([compared.alike, compared.would?.counts]).toEqual([
      1,
      [{ kind: "label", added: 1, changed: 0, deleted: 0 }],
    ]);
  });
});

describe("what rests on what the other side deleted", () => {
  const enter = async (plant: TestPlant) => {
    await run(plant, add("building", { tag: "OLD" }));
    await run(plant, add("space", { tag: "1", building_id: "OLD", kind: "telecom_room" }));
    await run(plant, add("party", { tag: "CITY" }));
  };
  const room = add("space", { tag: "2", building_id: "OLD", kind: "telecom_room" });

  it("new there, deleted here: the new record is left out, or the deleted one comes back", async () => {
    const make = async () => {
      const both = await parted(enter);
      await run(both.office, remove("space", "OLD/1"));
      await run(both.office, remove("building", "OLD"));
      await run(both.field, room);
      return both;
    };
    const kept = await make();
    expect((await compare(kept.office, kept.field)).conflicts).toMatchObject([
      { key: "their space 2", why: "refers_to_deleted", record: "OLD/2" },
    ]);
    await merge(kept.office, kept.field, { rest: "ours" });
    expect(await said(kept.office, "building", "tag")).toEqual([]);
    const back = await make();
    await merge(back.office, back.field, { choices: [{ key: "their space 2", take: "theirs" }] });
    expect([await said(back.office, "building", "tag"), await said(back.office, "space", "tag")]).toEqual([
      ["OLD"],
      ["2"],
    ]);
  });

  it("new there with a mention of what was deleted here: it comes without the mention", async () => {
    const { office, field } = await parted(enter);
    await run(office, remove("party", "CITY"));
    await run(field, add("cable", { tag: "F-9", owner_id: "CITY" }));
    await merge(office, field, { rest: "ours" });
    expect((await contents(office)).cable).toMatchObject([{ tag: "F-9", owner_id: null }]);
  });

  it("new here, deleted there: what they deleted stays, or what rests on it goes along", async () => {
    const make = async () => {
      const both = await parted(enter);
      await run(both.field, remove("space", "OLD/1"));
      await run(both.field, remove("building", "OLD"));
      await run(both.field, remove("party", "CITY"));
      await run(both.office, room);
      await run(both.office, add("cable", { tag: "F-9", owner_id: "CITY" }));
      return both;
    };
    const kept = await make();
    const { conflicts } = await compare(kept.office, kept.field);
    expect(conflicts.map(({ key, why }) => [key, why])).toEqual([
      ["party 1", "rests_here"],
      ["building 1", "rests_here"],
    ]);
    await merge(kept.office, kept.field, { rest: "ours" });
    expect([await said(kept.office, "building", "tag"), await said(kept.office, "space", "tag")]).toEqual([
      ["OLD"],
      ["2"],
    ]);
    const gone = await make();
    await merge(gone.office, gone.field, { rest: "theirs" });
    expect(Object.keys(await contents(gone.office))).toEqual(["plant", "cable"]);
    expect(await said(gone.office, "cable", "owner_id")).toEqual([null]);
  });
});

describe("what a record is about", () => {
  const enter = async (plant: TestPlant) => {
    await run(plant, add("party", { tag: "CITY" }));
    await run(plant, add("building", { tag: "OLD" }));
    await run(plant, add("label", { subject_kind: "party", subject_id: "CITY", text: "x" }));
  };
  const about = async (plant: TestPlant) =>
    ((await contents(plant)).label as { subject_kind: string; subject_id: number }[]).map((row) => [
      row.subject_kind,
      row.subject_id,
    ]);
  // The building and the party have the same number: only the kind differs.
  const move = { op: "edit", kind: "label", id: 1, values: { subject_kind: "building", subject_id: "OLD" } };

  it("is taken whole, or not at all where it was deleted here", async () => {
    const { office, field } = await parted(enter);
    await run(field, ["record.change_many", { changes: [move] }]);
    await run(office, remove("building", "OLD"));
    expect((await compare(office, field)).conflicts).toMatchObject([{ key: "label 1", why: "refers_to_deleted" }]);
    await merge(office, field, { rest: "ours" });
    expect(await about(office)).toEqual([["party", 1]]);
    await office.run("history.undo");
    await merge(office, field, { rest: "theirs" });
    expect([await about(office), await said(office, "building", "tag")]).toEqual([[["building", 1]], ["OLD"]]);
  });

  it("may be a record that is new there, of another number here", async () => {
    const { office, field } = await parted(enter);
    await run(office, add("cable", { tag: "F-1" }));
    await run(field, add("cable", { tag: "F-2" }));
    const values = { subject_kind: "cable", subject_id: "F-2" };
    await run(field, ["record.change_many", { changes: [{ op: "edit", kind: "label", id: 1, values }] }]);
    await merge(office, field);
    expect(await about(office)).toEqual([["cable", 2]]);
  });
});

describe("a photo that was taken in the field", () => {
  it("comes with its content, byte for byte", async () => {
    const { office, field } = await parted(threeCables);
    const bytes = Uint8Array.from({ length: 70_000 }, (_, i) => (i * 7) & 255);
    const content_hash = createHash("sha256").update(bytes).digest("hex");
    const values = { subject_kind: "cable", subject_id: 1, name: "hole.jpg", content_hash };
    await new Gateway(field.store, machineClock).stream("fixture", "Keep a photo", { author: "Ben" }, async (bulk) => {
      await bulk.addContent(content_hash, bytes);
      await bulk.insertMany("attachment", [{ id: 1, values }]);
    });
    await merge(office, field);
    const kept = await office.store.read((reader) => reader.rows<{ bytes: Uint8Array }>("SELECT bytes FROM content"));
    expect(kept.map((one) => createHash("sha256").update(one.bytes).digest("hex"))).toEqual([content_hash]);
    expect(await said(office, "attachment", "name")).toEqual(["hole.jpg"]);
  });
});

describe("a merge", () => {
  it("is refused of another plant, of itself, of a picture of the past, and of what was changed since it was compared", async () => {
    const { office, field } = await parted(threeCables);
    const stranger = await newPlant();
    await threeCables(stranger);
    const other = await refusalOf(compare(office, stranger), "not_possible");
    expect(other.message).toContain("campus.strandbook is the record of another plant");
    await refusalOf(compare(office, office), "not_possible");
    await refusalOf(office.run("merge.compare", { file: join(office.folder, "none.strandbook") }), "file");
    const picture = await office.run<AnswerOf<"history.as_of">>("history.as_of", { day: "2020-01-01" });
    expect((await refusalOf(office.run("merge.compare", { file: picture.path }), "not_possible")).message).toContain(
      "past",
    );
    await run(field, edit("cable", "F-1", { name: "x" }));
    const { seen } = await compare(office, field);
    await run(field, edit("cable", "F-1", { name: "y" }));
    await refusalOf(office.run("merge.apply", { file: field.path, seen }), "stale");
    await merge(office, field);
    expect((await contents(office)).cable?.[0]).toMatchObject({ name: "y" });
  });

  it("leaves the other file byte for byte as it was", async () => {
    const { office, field } = await parted(threeCables);
    await run(field, edit("cable", "F-1", { name: "x" }));
    await field.close();
    const kept = join(office.folder, "kept");
    copyFileSync(field.path, kept);
    await office.run("merge.apply", { file: field.path });
    expect(readFileSync(field.path).equals(readFileSync(kept))).toBe(true);
  });
});
