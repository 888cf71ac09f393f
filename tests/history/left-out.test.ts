/** What goes with a record that a merge leaves out is told before anything is written, with the choice that brings it back. */
import { describe, expect, it } from "vitest";
import { contents } from "./contents.ts";
import { compare, merge, parted, run, said, threeCables } from "./parted.ts";
import { add, edit, remove } from "./story.ts";

/** Deleted here: a building. New there: a room in it, a panel in that room, and a label that tells of the room. */
const roomOfOld = async () => {
  const both = await parted(async (plant) => {
    await run(plant, add("building", { tag: "OLD" }));
    await run(plant, add("party", { tag: "CITY" }));
  });
  await run(both.office, remove("building", "OLD"));
  await run(both.field, add("space", { tag: "1", building_id: "OLD", kind: "telecom_room" }));
  await run(both.field, ["panel.enter", { tag: "P", space: "OLD/1", ports: [{ numbers: "1..2", connector: "lc" }] }]);
  return both;
};

describe("what lies in a record that is left out", () => {
  it("is named with it and the reason, by the choice that takes it, also while that is open", async () => {
    const { office, field } = await roomOfOld();
    const { left_out, open } = await compare(office, field);
    expect(open).toBe(1);
    expect(left_out.map(({ key }) => key)).toEqual(Array(left_out.length).fill("their space 1"));
    expect(left_out.map(({ kind, count, named, words }) => [kind, count, named, words])).toEqual([
      ["space", 1, ["OLD/1"], "left out; refers to what was deleted here: building OLD"],
      ["panel", 1, ["OLD/1/P"], "left out; refers to what is left out: space OLD/1"],
      ["port", 2, ["OLD/1/P:1", "OLD/1/P:2"], "left out; refers to what is left out: panel OLD/1/P"],
      [
        "position",
        2,
        ["OLD/1/P:1#1", "OLD/1/P:2#1"],
        "left out; refers to what is left out: port OLD/1/P:1, OLD/1/P:2",
      ],
    ]);
  });

  it("comes along, and nothing is left out, once the choice is what is there", async () => {
    const { office, field } = await roomOfOld();
    const choices = [{ key: "their space 1", take: "theirs" }];
    expect((await compare(office, field, { choices })).left_out).toEqual([]);
    await merge(office, field, { choices });
    expect(await said(office, "port", "tag")).toEqual(["1", "2"]);
  });

  it("is told of a record whose tag another has, and all of it stays under a tag of its own", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, edit("cable", "F-3", { tag: "F-9" }));
    await run(field, add("cable", { tag: "F-9" }));
    await run(field, add("label", { subject_kind: "cable", subject_id: "F-9", text: "F-9" }));
    const key = "their cable 4 same tag";
    expect((await compare(office, field)).left_out).toMatchObject([
      { key, kind: "cable", named: ["F-9"], words: "left out; another record has that tag" },
      { key, kind: "label", count: 1, words: "left out; refers to what is left out: cable F-9" },
    ]);
    const choices = [{ key, take: "both", tag: "F-9B" }];
    expect((await compare(office, field, { choices })).left_out).toEqual([]);
    await merge(office, field, { choices });
    const cable = (await contents(office)).cable as { id: number; tag: string }[];
    expect(await said(office, "label", "subject_id")).toEqual([cable.find(({ tag }) => tag === "F-9B")?.id]);
  });
});

describe("a mention of what isn't there", () => {
  it("is told where the record comes without it, or keeps what it says here", async () => {
    const { office, field } = await parted(async (plant) => {
      await threeCables(plant);
      await run(plant, add("party", { tag: "CITY" }));
    });
    await run(office, remove("party", "CITY"));
    await run(field, edit("cable", "F-1", { owner_id: "CITY", notes: "found" }));
    await run(field, add("cable", { tag: "F-4", owner_id: "CITY" }));
    const { left_out } = await compare(office, field, { rest: "ours" });
    expect(left_out.map(({ key, field: of, named, words }) => [key, of, named, words])).toEqual([
      ["cable 1", "owner_id", ["F-1"], "owner stays as it is here; refers to what was deleted here: party CITY"],
      ["their cable 4", "owner_id", ["F-4"], "taken without owner; refers to what was deleted here: party CITY"],
    ]);
    await merge(office, field, { rest: "ours" });
    expect((await contents(office)).cable).toMatchObject([
      { notes: "found", owner_id: null },
      {},
      {},
      { tag: "F-4", owner_id: null },
    ]);
  });
});
