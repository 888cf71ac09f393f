import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { refusalOf } from "./on-file.ts";

const add = async (plant: TestPlant, kind: string, values: Record<string, unknown>): Promise<number> =>
  (await plant.run<AnswerOf<"record.add">>("record.add", { kind, values })).answer.id;

async function smallPlant() {
  const plant = await newPlant();
  const lib = await add(plant, "building", { tag: "LIB", name: "Library" });
  const room = await add(plant, "space", { tag: "101", building_id: "LIB" });
  const city = await add(plant, "party", { tag: "CITY" });
  for (const tag of ["F-10", "F-2", "f-1"]) await add(plant, "cable", { tag, owner_id: tag === "F-2" ? "CITY" : null });
  return { plant, lib, room, city };
}

type Window = AnswerOf<"record.window">;
const window = (plant: TestPlant, input: object) => plant.run<Window>("record.window", input);
const addresses = (answer: Window) => answer.rows.map((row) => row.address);

describe("a table", () => {
  it("stands in natural order of tags, with addresses and the names of what is referred to", async () => {
    const { plant, city } = await smallPlant();
    const answer = await window(plant, { kind: "cable", columns: ["tag", "owner_id"] });
    expect(answer).toMatchObject({ total: 3, offset: 0, revision: 6 });
    expect(addresses(answer)).toEqual(["f-1", "F-2", "F-10"]);
    expect(answer.rows[1]).toMatchObject({ values: { tag: "F-2", owner_id: city }, shown: { owner_id: "CITY" } });
  });

  it("gives any stretch of it", async () => {
    const { plant } = await smallPlant();
    expect(addresses(await window(plant, { kind: "cable", offset: 1, limit: 1 }))).toEqual(["F-2"]);
    expect(addresses(await window(plant, { kind: "cable", offset: 7, limit: 10 }))).toEqual([]);
  });

  it("puts strands by cable and number, and sections by strand", async () => {
    const { plant } = await smallPlant();
    const rows = [
      ["F-10", 2],
      ["F-2", 10],
      ["F-2", 9],
      ["F-10", 1],
    ] as const;
    for (const [cable_id, number] of rows) {
      await add(plant, "strand", { cable_id, number });
      await add(plant, "section", { strand_id: `${cable_id}:${number}`, ordinal: 1 });
    }
    const order = ["F-2:9", "F-2:10", "F-10:1", "F-10:2"];
    expect(addresses(await window(plant, { kind: "strand" }))).toEqual(order);
    expect(addresses(await window(plant, { kind: "section" }))).toEqual(order.map((strand) => `${strand}#1`));
    const down = await window(plant, {
      kind: "strand",
      sort: [{ field: "cable_id", descending: true }, { field: "number" }],
    });
    expect(addresses(down)).toEqual(["F-10:1", "F-10:2", "F-2:9", "F-2:10"]);
  });

  it("puts ports by the address of what they are on", async () => {
    const { plant } = await smallPlant();
    await add(plant, "panel", { tag: "B", space_id: "LIB/101" });
    await add(plant, "panel", { tag: "A", space_id: "LIB/101" });
    await add(plant, "device", { tag: "core-1", space_id: "LIB/101" });
    for (const [field, owner, tag] of [
      ["device_id", "LIB/101/core-1", "1"],
      ["panel_id", "LIB/101/B", "1"],
      ["panel_id", "LIB/101/A", "10"],
      ["panel_id", "LIB/101/A", "9"],
    ] as const)
      await add(plant, "port", { tag, [field]: owner });
    expect(addresses(await window(plant, { kind: "port" }))).toEqual([
      "LIB/101/A:9",
      "LIB/101/A:10",
      "LIB/101/B:1",
      "LIB/101/core-1:1",
    ]);
  });

  it("sorts what is not known last, either way", async () => {
    const { plant } = await smallPlant();
    const tags = async (descending: boolean) =>
      addresses(await window(plant, { kind: "cable", sort: [{ field: "owner_id", descending }] }));
    expect((await tags(false))[0]).toBe("F-2");
    expect((await tags(true))[0]).toBe("F-2");
  });

  it.each([
    [{ field: "tag", test: "is", value: "F-2" }, ["F-2"]],
    [{ field: "tag", test: "is_not", value: "F-2" }, ["f-1", "F-10"]],
    [{ field: "tag", test: "contains", value: "-1" }, ["f-1", "F-10"]],
    [{ field: "tag", test: "starts", value: "f-1" }, ["f-1", "F-10"]],
    [{ field: "tag", test: "at_least", value: "F-2" }, ["F-2", "F-10"]],
    [{ field: "tag", test: "at_most", value: "F-2" }, ["f-1", "F-2"]],
    [{ field: "owner_id", test: "empty" }, ["f-1", "F-10"]],
    [{ field: "owner_id", test: "filled" }, ["F-2"]],
    [{ field: "owner_id", test: "is", value: "CITY" }, ["F-2"]],
    [{ field: "owner_id", test: "is_not", value: "CITY" }, ["f-1", "F-10"]],
    [{ field: "owner_id", test: "contains", value: "it" }, ["F-2"]],
    [{ field: "life", test: "contains", value: "place" }, ["f-1", "F-2", "F-10"]],
    [{ field: "life", test: "is", value: "planned" }, []],
    [{ field: "name", test: "contains", value: "%" }, []],
  ])("keeps what passes %j", async (filter, tags) => {
    const { plant } = await smallPlant();
    expect(addresses(await window(plant, { kind: "cable", filters: [filter] }))).toEqual(tags);
  });

  it("keeps what holds every word of a text, in its own fields or the names of what it is in", async () => {
    const { plant } = await smallPlant();
    await add(plant, "space", { tag: "202", building_id: "LIB", name: "Reading room" });
    expect(addresses(await window(plant, { kind: "space", text: "lib read" }))).toEqual(["LIB/202"]);
    expect(addresses(await window(plant, { kind: "space", text: "lib" }))).toEqual(["LIB/101", "LIB/202"]);
  });

  it("shows a change at once, its own and that of a record it is sorted by", async () => {
    const { plant } = await smallPlant();
    await add(plant, "strand", { cable_id: "F-2", number: 1 });
    await add(plant, "strand", { cable_id: "F-10", number: 1 });
    expect(addresses(await window(plant, { kind: "strand" }))).toEqual(["F-2:1", "F-10:1"]);
    await plant.run("record.edit", { kind: "cable", id: "F-2", values: { tag: "F-20" } });
    expect(addresses(await window(plant, { kind: "strand" }))).toEqual(["F-10:1", "F-20:1"]);
    await add(plant, "strand", { cable_id: "F-10", number: 2 });
    expect(addresses(await window(plant, { kind: "strand" }))).toEqual(["F-10:1", "F-10:2", "F-20:1"]);
  });

  it("says where a record stands in it", async () => {
    const { plant } = await smallPlant();
    const at = (input: object) => plant.run("record.find_row", { kind: "cable", ...input });
    expect(await at({ id: "F-10" })).toEqual({ offset: 2 });
    expect(await at({ id: "F-10", sort: [{ field: "tag", descending: true }] })).toEqual({ offset: 0 });
    expect(await at({ id: "F-10", filters: [{ field: "tag", test: "is", value: "F-2" }] })).toEqual({ offset: null });
  });

  it("filters by what a record names, and by any of several values", async () => {
    const { plant } = await smallPlant();
    const list = async (...filters: object[]) => addresses(await window(plant, { kind: "strand", filters }));
    await add(plant, "strand", { cable_id: "F-2", number: 1 });
    await add(plant, "strand", { cable_id: "F-10", number: 1, condition: "broken" });
    await add(plant, "strand", { cable_id: "F-10", number: 2, condition: "good" });
    await plant.run("record.edit", { kind: "cable", id: "F-10", values: { name: "North ring" } });
    expect(await list({ field: "cable_id.name", test: "contains", value: "north" })).toEqual(["F-10:1", "F-10:2"]);
    expect(await list({ field: "cable_id.name", test: "empty" })).toEqual(["F-2:1"]);
    const good = { field: "condition", test: "is", value: "good" };
    const broken = { ...good, value: "broken" };
    expect(await list({ ...good, or: [broken] })).toEqual(["F-10:1", "F-10:2"]);
    expect(await list({ ...good, or: [broken] }, { field: "number", test: "is", value: 1 })).toEqual(["F-10:1"]);
    expect(await list({ field: "cable_id", test: "is", value: "F-2", or: [broken] })).toEqual(["F-2:1", "F-10:1"]);
    // Another name of the cable: what is filtered by it follows at once.
    await plant.run("record.edit", { kind: "cable", id: "F-2", values: { name: "North spur" } });
    expect(await list({ field: "cable_id.name", test: "starts", value: "North" })).toHaveLength(3);
    for (const field of ["cable_id.wire", "number.name", "cable_id.", ".name"])
      await refusalOf(window(plant, { kind: "strand", filters: [{ field, test: "empty" }] }), "bad_input");
  });

  it("gives records by their ids, and says which of them it leaves out", async () => {
    const { plant } = await smallPlant();
    const { rows } = await plant.run<AnswerOf<"record.window">>("record.window", { kind: "cable" });
    const ids = rows.map(({ id }) => id).reverse();
    const chosen = (input: object) =>
      plant.run<AnswerOf<"record.chosen">>("record.chosen", { kind: "cable", ids: [...ids, 9999], ...input });
    const all = await chosen({});
    expect(all.rows.map(({ id }) => id)).toEqual(ids);
    expect(all.outside).toEqual([]);
    const some = await chosen({ filters: [{ field: "tag", test: "is", value: "F-2" }] });
    expect(some.rows).toEqual(all.rows);
    const kept = rows.find(({ address }) => address === "F-2")?.id;
    expect(some.outside).toEqual(ids.filter((id) => id !== kept));
  });

  it("refuses a field that the kind doesn't have", async () => {
    const { plant } = await smallPlant();
    await refusalOf(window(plant, { kind: "cable", sort: [{ field: "id; DROP TABLE cable" }] }), "bad_input");
    await refusalOf(window(plant, { kind: "cable", columns: ["rev"] }), "bad_input");
    await refusalOf(window(plant, { kind: "cable", filters: [{ field: "colour", test: "empty" }] }), "bad_input");
    await refusalOf(window(plant, { kind: "wire" }), "bad_input");
    await refusalOf(window(plant, { kind: "cable", filters: [{ field: "name", test: "contains" }] }), "bad_input");
  });

  it("lists the values of a field with counts", async () => {
    const { plant, city } = await smallPlant();
    expect(await plant.run("record.values", { kind: "cable", field: "owner_id" })).toEqual({
      values: [
        { value: null, shown: null, count: 2 },
        { value: city, shown: "CITY", count: 1 },
      ],
      more: false,
    });
    expect(await plant.run("record.values", { kind: "cable", field: "tag", limit: 2 })).toMatchObject({ more: true });
  });
});

describe("a record's page", () => {
  it("has its fields in words, what it rests on, what rests on it, its labels and its history", async () => {
    const { plant, lib, room, city } = await smallPlant();
    await plant.run("record.edit", { kind: "space", id: "LIB/101", values: { reach_m: 4.5, life_from: "2026-04-03" } });
    await add(plant, "label", { subject_kind: "space", subject_id: "LIB/101", text: "Mind the step" });
    await plant.run("record.edit", { kind: "building", id: lib, values: { owner_id: city } });
    const page = await plant.run<AnswerOf<"record.page">>("record.page", { kind: "space", id: "LIB/101" });
    expect(page).toMatchObject({ kind: "space", id: room, address: "LIB/101" });
    const field = (name: string) => page.fields.find((one) => one.field === name);
    expect(field("reach_m")).toEqual({ field: "reach_m", value: 4.5, shown: "4.5 m", ref: null });
    expect(field("life_from")).toMatchObject({ shown: "3 Apr 2026" });
    expect(field("building_id")).toMatchObject({ shown: "LIB", ref: { kind: "building", id: lib, tag: "LIB" } });
    expect(field("notes")).toMatchObject({ value: null, shown: null });
    expect(page.rests_on).toEqual([{ kind: "building", id: lib, tag: "LIB", field: "building_id", label: "building" }]);
    expect(page.labels.map((label) => label.values.text)).toEqual(["Mind the step"]);
    expect(page.resting).toMatchObject([{ kind: "label", field: "subject_id", count: 1, goes: true }]);
    expect(page.history.map((item) => [item.summary, item.change.op])).toEqual([
      ["Change space LIB/101: reach, since", "update"],
      ["Add space 101", "insert"],
    ]);
    expect(page.history[0]?.change.fields).toEqual([
      { field: "reach_m", label: "reach", before: null, after: "4.5 m" },
      { field: "life_from", label: "since", before: null, after: "3 Apr 2026" },
    ]);
    const party = await plant.run<AnswerOf<"record.page">>("record.page", { kind: "party", id: "CITY" });
    expect(party.resting).toMatchObject([
      { kind: "building", field: "owner_id", label: "owner", count: 1, goes: false, first: [{ tag: "LIB" }] },
      { kind: "cable", field: "owner_id", count: 1, goes: false, first: [{ tag: "F-2" }] },
    ]);
  });

  it("says what became of a record that is no longer there", async () => {
    const { plant } = await smallPlant();
    await plant.run("record.remove", { kind: "cable", ids: ["F-2"] });
    const failure = await refusalOf(plant.run("record.page", { kind: "cable", id: 2 }), "not_found");
    expect(failure.message).toBe("cable 2 is not on record: Delete cable F-2 (Test Person).");
    expect(failure.problems[0]?.record).toBe("F-2");
  });
});

describe("adding, editing and deleting", () => {
  it("refuses an address that is not on record with the field and the nearest tags", async () => {
    const { plant } = await smallPlant();
    const failure = await refusalOf(add(plant, "space", { tag: "7", building_id: "LIP" }), "not_found");
    expect(failure.problems).toEqual([
      {
        record: "new space 7",
        field: "building",
        reason: expect.stringMatching(/^is LIP, which is not on record.*LIB/),
      },
    ]);
  });

  it("finds the subject of a label by its address", async () => {
    const { plant, lib } = await smallPlant();
    const id = await add(plant, "label", { subject_kind: "building", subject_id: "LIB", text: "x" });
    await plant.run("record.edit", { kind: "label", id, values: { subject_id: "LIB" } });
    const [row] = (await window(plant, { kind: "label" })).rows;
    expect(row).toMatchObject({ values: { subject_id: lib }, shown: { subject_id: "LIB" } });
  });

  it("refuses to delete what others rest on, and takes them along when told, as one act", async () => {
    const { plant } = await smallPlant();
    for (let number = 1; number <= 3; number++) {
      await add(plant, "strand", { cable_id: "F-10", number });
      await add(plant, "section", { strand_id: `F-10:${number}`, ordinal: 1 });
    }
    await add(plant, "visit", { tag: "V-1", made_on: "2026-01-02", cable_id: "F-10" });
    await add(plant, "label", { subject_kind: "section", subject_id: "F-10:2#1", text: "x" });
    const failure = await refusalOf(plant.run("record.remove", { kind: "cable", ids: ["F-10"] }), "rests_on");
    expect(failure.problems.map((problem) => problem.reason)).toEqual([
      "3 strands rest on it: F-10:1, F-10:2, F-10:3",
      "1 visit names it as cable: V-1",
    ]);
    const before = (await plant.run<AnswerOf<"plant.summary">>("plant.summary")).counts;
    const written = await plant.run<AnswerOf<"record.remove">>("record.remove", {
      kind: "cable",
      ids: ["F-10"],
      along: true,
    });
    expect(written.summary).toBe("Delete cable F-10 and 7 records that rest on it");
    expect(written.notices).toEqual(["The field cable of 1 visit is emptied: V-1."]);
    expect(written.counts).toEqual([
      { kind: "cable", added: 0, changed: 0, deleted: 1 },
      { kind: "strand", added: 0, changed: 0, deleted: 3 },
      { kind: "section", added: 0, changed: 0, deleted: 3 },
      { kind: "label", added: 0, changed: 0, deleted: 1 },
      { kind: "visit", added: 0, changed: 1, deleted: 0 },
    ]);
    await plant.run("history.undo");
    expect((await plant.run<AnswerOf<"plant.summary">>("plant.summary")).counts).toEqual(before);
    expect((await window(plant, { kind: "visit" })).rows[0]?.shown).toEqual({ cable_id: "F-10" });
  });

  it("takes along what must have it, and empties the mention where it need not", async () => {
    const { plant } = await smallPlant();
    for (const number of [1, 2]) {
      await add(plant, "strand", { cable_id: "F-10", number });
      await add(plant, "section", { strand_id: `F-10:${number}`, ordinal: 1 });
    }
    await add(plant, "closure", { tag: "CL-1", space_id: "LIB/101" });
    await add(plant, "tray", { tag: "T1", closure_id: "LIB/101/CL-1" });
    const ends = { a_section_id: "F-10:1#1", a_side: "B", b_section_id: "F-10:2#1", b_side: "A" };
    await add(plant, "splice", { ...ends, tray_id: "LIB/101/CL-1/T1" });
    const tray = await plant.rehearse<AnswerOf<"record.remove">>("record.remove", {
      kind: "tray",
      ids: ["LIB/101/CL-1/T1"],
      along: true,
    });
    expect(tray.counts).toEqual([
      { kind: "tray", added: 0, changed: 0, deleted: 1 },
      { kind: "splice", added: 0, changed: 1, deleted: 0 },
    ]);
    const section = await plant.run<AnswerOf<"record.remove">>("record.remove", {
      kind: "section",
      ids: ["F-10:1#1"],
      along: true,
    });
    expect(section.counts.map((count) => [count.kind, count.deleted])).toEqual([
      ["section", 1],
      ["splice", 1],
    ]);
    expect(section.changes.map((change) => change.record).sort()).toEqual([
      "F-10:1#1",
      "splice F-10:1 to F-10:2 in LIB/101/CL-1/T1",
    ]);
  });

  it("refuses to edit or delete what was changed since it was read", async () => {
    const { plant } = await smallPlant();
    await plant.run("record.edit", { kind: "cable", id: "F-2", rev: 5, values: { name: "one" } });
    const edit = plant.run("record.edit", { kind: "cable", id: "F-2", rev: 5, values: { name: "two" } });
    expect((await refusalOf(edit, "stale")).details).toMatchObject({
      stale: [{ seen: { name: null }, current: { name: "one" } }],
    });
    await refusalOf(plant.run("record.remove", { kind: "cable", ids: ["F-10", "F-2"], revs: [4, 5] }), "stale");
    await refusalOf(plant.run("record.remove", { kind: "cable", ids: ["F-10", "F-2"], revs: [4] }), "bad_input");
    await plant.run("record.remove", { kind: "cable", ids: ["F-10", "F-2"], revs: [4, 7] });
  });

  it("changes many at once or nothing, naming each row that can't be", async () => {
    const { plant } = await smallPlant();
    const changes = [
      { op: "edit", kind: "cable", id: "F-2", values: { name: "two" } },
      { op: "add", kind: "space", values: { tag: "9", building_id: "LIP" } },
      { op: "edit", kind: "cable", id: "F-99", values: { name: "none" } },
    ];
    const failure = await refusalOf(plant.run("record.change_many", { changes }), "not_found");
    expect(failure.problems.map((problem) => [problem.row, problem.field])).toEqual([
      [2, "building"],
      [3, "cable"],
    ]);
    expect((await window(plant, { kind: "cable", filters: [{ field: "name", test: "filled" }] })).total).toBe(0);
    const good = [
      { op: "edit", kind: "cable", id: "F-2", values: { name: "two" } },
      { op: "edit", kind: "cable", id: "F-10", values: { name: "ten" } },
      { op: "add", kind: "space", values: { tag: "9", building_id: "LIB" } },
      { op: "remove", kind: "cable", id: "f-1" },
    ];
    const written = await plant.run<AnswerOf<"record.change_many">>("record.change_many", { changes: good });
    expect(written.summary).toBe("Add 1 space, change 2 cables, delete 1 cable");
    expect(written.answer.ids).toHaveLength(4);
  });

  it("refuses a value that breaks its field's rule with the row", async () => {
    const { plant } = await smallPlant();
    const changes = [
      { op: "add", kind: "strand", values: { cable_id: "F-2", number: 1 } },
      { op: "add", kind: "strand", values: { cable_id: "F-2", number: 0 } },
    ];
    const failure = await refusalOf(plant.run("record.change_many", { changes }), "bad_input");
    expect(failure.problems).toEqual([
      { row: 2, record: "new strand 0", field: "number", reason: "is 0: must be a whole number from 1 to 100000" },
    ]);
  });
});
