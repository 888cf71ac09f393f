/** Two copies that were merged once and are compared again: what was settled is settled, what is new is asked or taken. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newFolder, newPlant } from "../support/plant.ts";
import { contents } from "./contents.ts";
import { compare, merge, parted, run, said, threeCables } from "./parted.ts";
import { add, edit, remove } from "./story.ts";

const name = (tag: string, text: string) => edit("cable", tag, { name: text });

/** One name of a cable, said otherwise here and there. */
async function twoNames() {
  const both = await parted(threeCables);
  await run(both.office, name("F-1", "north"));
  await run(both.field, name("F-1", "south"));
  return both;
}

describe("a conflict that was settled", () => {
  it("by what stands here isn't asked again, though nothing else came of the merge: that is a change of its own", async () => {
    const { office, field } = await twoNames();
    const before = await contents(office);
    const written = await merge(office, field, { rest: "ours" });
    expect([written.change_set, written.counts]).toEqual([3 + 2, []]);
    expect(await contents(office)).toEqual(before);
    const again = await compare(office, field);
    expect([again.conflicts, again.open, again.would?.counts]).toEqual([[], 0, []]);
    expect(again.merged_before).toMatchObject({ change_set: written.change_set, summary: written.summary });
    expect((await merge(office, field)).change_set).toBeNull();
  });

  it("by what stands there isn't asked again when it is changed here later", async () => {
    const { office, field } = await twoNames();
    await merge(office, field, { rest: "theirs" });
    await run(office, name("F-1", "south-west"));
    const again = await compare(office, field);
    expect([again.conflicts, again.would?.counts]).toEqual([[], []]);
  });

  it("is asked again once they say something else, and only that", async () => {
    const { office, field } = await twoNames();
    await run(office, edit("cable", "F-2", { notes: "a" }));
    await run(field, edit("cable", "F-2", { notes: "b" }));
    await merge(office, field, { rest: "ours" });
    await run(field, name("F-1", "far south"));
    const again = await compare(office, field);
    expect(again.conflicts).toMatchObject([
      { key: "cable 1 name", why: "both_changed", before: "south", ours: "north", theirs: "far south" },
    ]);
    expect(again.there).toEqual([{ author: "Fay", change_sets: 1 }]);
  });

  it("is asked again once the merge is undone, and no more once that is redone", async () => {
    const { office, field } = await twoNames();
    await run(field, edit("cable", "F-2", { notes: "b" }));
    await merge(office, field, { rest: "ours" });
    await office.run("history.undo");
    expect((await compare(office, field)).conflicts).toMatchObject([{ key: "cable 1 name", before: "F-1 as laid" }]);
    await office.run("history.redo");
    expect((await compare(office, field)).conflicts).toEqual([]);
  });

  it("is undone as one though no record was changed", async () => {
    const { office, field } = await twoNames();
    const { change_set } = await merge(office, field, { rest: "ours" });
    await office.run("history.undo", { change_set });
    expect((await compare(office, field)).open).toBe(1);
  });

  it("holds for a copy of that file too, as long as it went on from what was seen", async () => {
    const { office, field } = await twoNames();
    const early = join(newFolder(), "early.strandbook");
    await field.application.file.saveCopy(early);
    await run(field, edit("cable", "F-2", { notes: "b" }));
    await merge(office, field, { rest: "ours" });
    const late = join(newFolder(), "late.strandbook");
    await field.application.file.saveCopy(late);
    expect((await compare(office, await newPlant({ path: late }))).open).toBe(0);
    expect((await compare(office, await newPlant({ path: early }))).open).toBe(1);
  });

  it("doesn't hold for a copy that went another way before, though it has as many changes", async () => {
    const { office, field } = await twoNames();
    const path = join(newFolder(), "other.strandbook");
    await field.application.file.saveCopy(path);
    const other = await newPlant({ path });
    for (const plant of [field, other]) await run(plant, edit("cable", "F-2", { notes: plant.path }));
    await merge(office, field, { rest: "ours" });
    const { merged_before, conflicts } = await compare(office, other);
    expect([merged_before, conflicts.map(({ key }) => key)]).toEqual([null, ["cable 1 name", "cable 2 notes"]]);
  });

  it("may be a deletion here of what they changed: asked again when they change it again", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, remove("cable", "F-1"));
    await run(field, name("F-1", "still there"));
    await merge(office, field, { rest: "ours" });
    expect((await compare(office, field)).conflicts).toEqual([]);
    await run(field, name("F-1", "and still there"));
    expect((await compare(office, field)).conflicts).toMatchObject([{ key: "cable 1", why: "deleted_here" }]);
    await merge(office, field, { rest: "theirs" });
    expect(await said(office, "cable", "name")).toEqual(["and still there", "F-2 as laid", "F-3 as laid"]);
  });
});

describe("a rename that was settled by both", () => {
  it("isn't asked again, and what they change of that cable later goes to the one that was renamed", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("cable", { tag: "F-9", name: "laid by us" }));
    await run(field, edit("cable", "F-3", { tag: "F-9" }));
    await merge(office, field, { choices: [{ key: "cable 3 same tag", take: "both", tag: "F-9B" }] });
    const again = await compare(office, field);
    expect([again.conflicts, again.would?.counts]).toEqual([[], []]);
    await run(field, name("F-9", "theirs"));
    expect((await compare(office, field)).conflicts).toEqual([]);
    await merge(office, field);
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-2", "F-9B", "F-9"]);
    expect(await said(office, "cable", "name")).toEqual(["F-1 as laid", "F-2 as laid", "theirs", "laid by us"]);
  });

  it("holds of a cable that both entered, whatever becomes of it here and there", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("cable", { tag: "F-9", name: "ours" }));
    await run(field, add("cable", { tag: "F-9", name: "theirs" }));
    await merge(office, field, { choices: [{ key: "cable 4 same tag", take: "both", tag: "F-9B" }] });
    await run(office, edit("cable", "F-9B", { tag: "F-10", notes: "looked at" }));
    await run(field, name("F-9", "theirs, measured"));
    await run(field, add("label", { subject_kind: "cable", subject_id: "F-9", text: "F-9" }));
    expect((await compare(office, field)).conflicts).toEqual([]);
    await merge(office, field);
    expect((await contents(office)).cable?.slice(3)).toMatchObject([
      { tag: "F-9", name: "ours" },
      { tag: "F-10", name: "theirs, measured", notes: "looked at" },
    ]);
    expect((await contents(office)).label).toMatchObject([{ subject_kind: "cable", subject_id: 5 }]);
  });
});

describe("a record that a merge took", () => {
  const taken = async () => {
    const both = await parted(threeCables);
    // Numbers of new records differ here and there.
    await run(both.office, add("building", { tag: "HERE" }));
    await run(both.field, add("building", { tag: "NEW" }));
    await merge(both.office, both.field);
    return both;
  };

  it("and that was deleted here since doesn't come back by itself", async () => {
    const { office, field } = await taken();
    await run(office, remove("building", "NEW"));
    expect((await merge(office, field)).change_set).toBeNull();
    expect(await said(office, "building", "tag")).toEqual(["HERE"]);
  });

  it("and that was deleted here since is asked about when they change it, or enter something in it", async () => {
    const changed = await taken();
    await run(changed.office, remove("building", "NEW"));
    await run(changed.field, edit("building", "NEW", { name: "New hall" }));
    expect((await compare(changed.office, changed.field)).conflicts).toMatchObject([
      { key: "their building 1", why: "deleted_here", record: "NEW" },
    ]);
    await merge(changed.office, changed.field, { rest: "theirs" });
    expect(await said(changed.office, "building", "name")).toEqual([null, "New hall"]);
    const built = await taken();
    await run(built.office, remove("building", "NEW"));
    await run(built.field, add("space", { tag: "1", building_id: "NEW", kind: "telecom_room" }));
    expect((await compare(built.office, built.field)).conflicts).toMatchObject([
      { key: "their space 1", why: "refers_to_deleted", record: "NEW/1" },
    ]);
    await merge(built.office, built.field, { rest: "theirs" });
    expect([await said(built.office, "building", "tag"), await said(built.office, "space", "building_id")]).toEqual([
      ["HERE", "NEW"],
      [2],
    ]);
  });

  it("and that was renamed here since is still theirs: neither entered twice nor asked", async () => {
    const { office, field } = await taken();
    await run(office, edit("building", "NEW", { tag: "HALL" }));
    await run(field, add("space", { tag: "1", building_id: "NEW", kind: "telecom_room" }));
    await merge(office, field);
    expect([await said(office, "building", "tag"), await said(office, "space", "building_id")]).toEqual([
      ["HERE", "HALL"],
      [2],
    ]);
  });

  it("goes when they delete it, and is asked about where it was changed here since", async () => {
    const gone = await taken();
    await run(gone.field, remove("building", "NEW"));
    await merge(gone.office, gone.field);
    expect(await said(gone.office, "building", "tag")).toEqual(["HERE"]);
    const kept = await taken();
    await run(kept.office, edit("building", "NEW", { name: "New hall" }));
    await run(kept.field, remove("building", "NEW"));
    expect((await compare(kept.office, kept.field)).conflicts).toMatchObject([
      { key: "building 2", why: "deleted_there", record: "NEW" },
    ]);
  });
});

describe("a record that a merge left out", () => {
  it("stays left out until something new there refers to it: then it is asked again", async () => {
    const { office, field } = await parted(async (plant) => {
      await run(plant, add("building", { tag: "OLD" }));
    });
    await run(office, remove("building", "OLD"));
    await run(field, add("space", { tag: "1", building_id: "OLD", kind: "telecom_room" }));
    await merge(office, field, { rest: "ours" });
    expect((await compare(office, field)).conflicts).toEqual([]);
    await run(field, ["panel.enter", { tag: "P", space: "OLD/1", ports: [{ numbers: "1..2", connector: "lc" }] }]);
    const again = await compare(office, field);
    expect(again.conflicts.map(({ key }) => key)).toContain("their space 1");
    await merge(office, field, { rest: "theirs" });
    expect([await said(office, "building", "tag"), await said(office, "panel", "tag")]).toEqual([["OLD"], ["P"]]);
  });
});
