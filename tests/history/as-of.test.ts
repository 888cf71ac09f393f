/** The plant as it stood on a day, held against copies that were taken on that day. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { enterCampus } from "../journeys/support/campus.ts";
import { refusalOf } from "../store/on-file.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { contents } from "./contents.ts";
import { add, edit, newStory, remove, type Story } from "./story.ts";

type Picture = AnswerOf<"history.as_of">;
const correction = { meaning: "correction" } as const;

/** The picture of a day, opened. */
async function pictured(story: Story, day: string, knowledge: "known" | "recorded") {
  const path = join(story.folder, `${day}-${knowledge}.strandbook`);
  const made = await story.run<Picture>("history.as_of", { day, knowledge, path });
  return { made, plant: await newPlant({ path }) };
}
const tagsOf = async (plant: TestPlant, kind: string): Promise<unknown[]> =>
  ((await contents(plant))[kind] ?? []).map((row) => (row as { tag: unknown }).tag);
const cable = async (plant: TestPlant, id: number) =>
  ((await contents(plant)).cable ?? []).find((row) => (row as { id: number }).id === id);

describe("the plant as it was recorded on a day", () => {
  it("is record by record what a copy of that day holds, and the plant it is made from isn't touched", async () => {
    const story = await newStory();
    await enterCampus((name, input) => story.on("2026-03-01", name, input as object));
    const copy = join(story.folder, "copy.strandbook");
    await story.application.file.saveCopy(copy);
    await story.on("2026-03-05", ...edit("cable", "F-014", { tag: "F-114" }));
    await story.on("2026-03-05", ...edit("cable", "F-021", { tag: "F-014" }));
    await story.on("2026-03-06", "record.remove", { kind: "cable", ids: ["F-033"], along: true });
    await story.on("2026-03-07", ...add("building", { tag: "NEW" }), correction);
    await story.run("history.undo");
    const before = readFileSync(story.path);
    const { made, plant } = await pictured(story, "2026-03-04", "recorded");
    expect(made).toMatchObject({ later: 5, summary: expect.stringContaining("recorded at the end of 4 Mar 2026") });
    expect(await contents(plant)).toEqual(await contents(await newPlant({ path: copy })));
    expect(readFileSync(story.path).equals(before)).toBe(true);
  });

  it("says so when it is opened, is never written, and is traced and checked as any plant", async () => {
    const story = await newStory();
    await enterCampus((name, input) => story.on("2026-03-01", name, input as object));
    await story.on("2026-03-05", "cord.unplug", { cords: ["C-1310"] });
    const { plant } = await pictured(story, "2026-03-04", "recorded");
    const words = expect.stringContaining("The plant as it was recorded at the end of 4 Mar 2026");
    expect(await plant.run("plant.status")).toMatchObject({ read_only: words });
    await refusalOf(plant.run("history.undo"), "read_only");
    const trace = (at: TestPlant) => at.run<AnswerOf<"trace.walk">>("trace.walk", { what: "LIB/2A/P1:13" });
    const passes = JSON.stringify(await trace(plant)).includes("C-1310");
    expect([passes, JSON.stringify(await trace(story)).includes("C-1310")]).toEqual([true, false]);
    expect(await plant.run("check.run")).toHaveProperty("findings");
  });
});

describe("the plant as it stood on a day, by all that is known now", () => {
  it("keeps a correction made later, and takes back work done later", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1", name: "nroth" }));
    await story.on("2026-03-01", ...edit("cable", "F-1", { notes: "cut over" }));
    await story.on("2026-03-02", ...edit("cable", "F-1", { name: "north" }), correction);
    await story.on("2026-03-03", ...add("cable", { tag: "F-2" }));
    await story.on("2026-03-04", ...add("cable", { tag: "F-0" }), correction);
    const { made, plant } = await pictured(story, "2026-02-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1", "F-0"]);
    expect(await cable(plant, 1)).toMatchObject({ name: "north", notes: null });
    expect(made).toMatchObject({ later: 2, summary: expect.stringContaining("every correction known") });
    const recorded = await pictured(story, "2026-02-01", "recorded");
    expect(await cable(recorded.plant, 1)).toMatchObject({ name: "nroth", notes: null });
    expect(await tagsOf(recorded.plant, "cable")).toEqual(["F-1"]);
  });

  it("goes by the day of the work, and says how many changes name none", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
    await story.on("2026-03-01", ...add("cable", { tag: "F-2" }), { day: "2026-01-20" });
    await story.on("2026-03-01", ...add("cable", { tag: "F-3" }), { day: "2026-02-20" });
    await story.on("2026-03-01", ...edit("cable", "F-1", { name: "north" }), { ...correction, day: "2026-02-20" });
    const { made, plant } = await pictured(story, "2026-02-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1", "F-2"]);
    expect(await cable(plant, 1)).toMatchObject({ name: null });
    expect(made.notices).toEqual([expect.stringContaining("1 change says no day of the work")]);
  });

  it("names what it leaves out once, where a record's own name begins with what it is", async () => {
    const story = await newStory();
    const said = { day: "2026-01-05" };
    await story.on("2026-01-05", ...add("space", { tag: "MH-1", kind: "maintenance_hole" }), correction);
    await story.on("2026-01-05", ...add("space", { tag: "MH-2", kind: "maintenance_hole" }), correction);
    const ends = { units: [{ kind: "tube", repeats: 1, strands: 12 }], stops: [{ space: "MH-1" }, { space: "MH-2" }] };
    await story.on("2026-01-05", "cable.enter", { tag: "F-1", ...ends }, correction);
    await story.on("2026-01-05", ...add("circuit", { tag: "K-1" }), said);
    await story.on("2026-01-05", "circuit.assign", { circuit: "K-1", what: ["F-1:1"], from_on: "2018-01-01" }, said);
    const { made } = await pictured(story, "2020-01-01", "known");
    expect(made.notices?.join()).toContain("1 Jan 2020 or a day before: assignment K-1 on F-1:1.");
  });

  it("says which records are left out although a day of their own lies by then, and the file says so too", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1", installed_on: "2009-05-04" }), { day: "2026-01-05" });
    await story.on("2026-01-05", ...add("cable", { tag: "F-2", installed_on: "2024-05-04" }), { day: "2026-01-05" });
    await story.on("2026-01-05", ...add("cable", { tag: "F-3", installed_on: "2009-05-04" }), correction);
    const { made, plant } = await pictured(story, "2020-01-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-3"]);
    expect(made.notices).toEqual([
      expect.stringMatching(/^1 record is left out although it tells of 1 Jan 2020 or a day before: cable F-1\./),
    ]);
    expect(await plant.run("plant.status")).toMatchObject({
      read_only: expect.stringContaining("1 record is left out, for it was entered as later work"),
    });
    const later = await pictured(story, "2026-01-05", "known");
    expect(later.made.notices).toEqual([]);
  });

  it("lets a correction of what later work wrote go with that work", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1", name: "old" }));
    await story.on("2026-03-01", ...edit("cable", "F-1", { name: "nwe" }));
    await story.on("2026-03-02", ...edit("cable", "F-1", { name: "new" }), correction);
    await story.on("2026-03-03", ...add("cable", { tag: "F-2", name: "x" }));
    await story.on("2026-03-04", ...edit("cable", "F-2", { name: "y" }), correction);
    const { plant } = await pictured(story, "2026-02-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1"]);
    expect(await cable(plant, 1)).toMatchObject({ name: "old" });
  });

  it("has again what was taken out later, as it was by what is known now", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1", name: "nroth" }));
    await story.on("2026-02-20", ...edit("cable", "F-1", { name: "north" }), correction);
    await story.on("2026-03-01", ...remove("cable", "F-1"));
    const { plant } = await pictured(story, "2026-02-01", "known");
    expect(await cable(plant, 1)).toMatchObject({ tag: "F-1", name: "north" });
  });

  it("leaves out what a correction hung on later work, empties a mention of it, and says so", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
    await story.on("2026-03-01", ...add("party", { tag: "CITY" }));
    await story.on("2026-03-01", ...add("building", { tag: "NEW" }));
    await story.on("2026-03-02", ...edit("cable", "F-1", { owner_id: "CITY" }), correction);
    await story.on("2026-03-02", ...add("space", { tag: "1", building_id: "NEW", kind: "telecom_room" }), correction);
    const { made, plant } = await pictured(story, "2026-02-01", "known");
    expect(await contents(plant)).toMatchObject({ cable: [{ tag: "F-1", owner_id: null }] });
    expect(Object.keys(await contents(plant))).toEqual(["plant", "cable"]);
    expect(made.notices).toContainEqual(expect.stringContaining("cable F-1 is without its owner, which came later"));
    expect(made.notices).toContainEqual(expect.stringContaining("is left out: it rests on later work"));
  });

  it("keeps what a correction deleted where what stood then refers to it, and says so", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("building", { tag: "OLD" }));
    await story.on("2026-01-05", ...add("space", { tag: "1", building_id: "OLD", kind: "telecom_room" }));
    await story.on("2026-03-01", ...remove("space", "OLD/1"));
    await story.on("2026-03-02", ...remove("building", "OLD"), correction);
    const { made, plant } = await pictured(story, "2026-02-01", "known");
    expect(await tagsOf(plant, "building")).toEqual(["OLD"]);
    expect(made.notices).toContainEqual(expect.stringContaining("building OLD is there although a correction deleted"));
  });

  it("is the plant of today where nothing came later, and marked all the same", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
    const { made, plant } = await pictured(story, "2026-01-05", "known");
    expect(await contents(plant)).toEqual(await contents(story));
    expect([made.later, made.records]).toEqual([0, 0]);
    await refusalOf(plant.run("record.add", { kind: "cable", values: { tag: "F-2" } }), "read_only");
  });

  it("is what was recorded, where every change is work and names no day", async () => {
    const story = await newStory();
    await enterCampus((name, input) => story.on("2026-03-01", name, input as object));
    await story.on("2026-03-05", "record.remove", { kind: "cable", ids: ["F-033"], along: true });
    await story.on("2026-03-06", "cord.unplug", { cords: ["C-1310"] });
    await story.run("history.undo", { change_set: await story.on("2026-03-07", ...add("building", { tag: "N" })) });
    const known = await pictured(story, "2026-03-04", "known");
    const recorded = await pictured(story, "2026-03-04", "recorded");
    expect(await contents(known.plant)).toEqual(await contents(recorded.plant));
  });
});

describe("two records that bore one tag on that day, by what is known now", () => {
  /** F-1 was renamed in March; in April it was found that F-2 had been called F-1 all along. */
  async function named() {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1", notes: "in the north duct" }));
    await story.on("2026-01-05", ...add("cable", { tag: "F-2" }));
    await story.on("2026-03-01", ...edit("cable", "F-1", { tag: "F-101" }));
    await story.on("2026-04-01", ...edit("cable", "F-2", { tag: "F-1" }), correction);
    return story;
  }
  it("are both shown, the second under a tag that says so, with the reason told and in its notes", async () => {
    const { made, plant } = await pictured(await named(), "2026-02-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1 (also)", "F-1"]);
    expect(made.notices).toContain("Two cables bear the tag F-1; one of them is shown as F-1 (also).");
    expect(await cable(plant, 1)).toMatchObject({
      notes:
        "Shown as F-1 (also): on 1 Feb 2026 it bore the tag F-1, and so did another cable, by what is known now.\nin the north duct",
    });
    expect(await plant.run("check.run")).toHaveProperty("findings");
  });
  it("each get a tag of their own where three did", async () => {
    const story = await named();
    await story.on("2026-04-02", ...add("cable", { tag: "F-1 (also)" }), correction);
    const { plant } = await pictured(story, "2026-02-01", "known");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1 (also 2)", "F-1", "F-1 (also)"]);
  });
  it("are no trouble in the picture of what was recorded then", async () => {
    const { made, plant } = await pictured(await named(), "2026-02-01", "recorded");
    expect(await tagsOf(plant, "cable")).toEqual(["F-1", "F-2"]);
    expect(made.notices).toEqual([]);
  });
});

describe("a picture", () => {
  it("is refused of a day to come, over a file that is there, and leaves nothing behind", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
    await refusalOf(story.run("history.as_of", { day: "2026-01-06" }), "bad_input");
    await refusalOf(story.run("history.as_of", { day: "2026-01-05", path: story.path }), "file");
    const made = await story.run<Picture>("history.as_of", { day: "2026-01-05" });
    expect(made.path).toBe(join(story.folder, "campus-2026-01-05.strandbook"));
    expect((await story.run<Picture>("history.as_of", { day: "2026-01-05" })).path).toContain("campus-2026-01-05-2");
  });
});
