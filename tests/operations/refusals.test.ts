/** Refusals name the record as people do, what may be meant, and everything that is wrong at once. */
import { beforeAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeAll(async () => {
  plant = await newPlant();
  await plant.run("record.add", { kind: "building", values: { tag: "LIB" } });
  await plant.run("record.add", { kind: "space", values: { tag: "101", building_id: "LIB", kind: "equipment_room" } });
  await plant.run("record.add", { kind: "panel", values: { tag: "A", space_id: "LIB/101" } });
  await plant.run("record.add", { kind: "cable", values: { tag: "F-001" } });
  await plant.run("record.add", { kind: "strand", values: { cable_id: "F-001", number: 1 } });
});

async function refused(name: string, input: unknown) {
  const reply = await plant.call(name, input);
  if (reply.ok) throw new Error("was not refused");
  return reply.error;
}

describe("a refusal", () => {
  it("names a record by its address", async () => {
    const error = await refused("record.edit", { kind: "panel", id: 1, values: { life: "gone" } });
    expect(error.message).toMatch(/^Panel LIB\/101\/A: life is “gone”: must be one of/);
  });

  it("of a field that isn't there names the one that may be meant", async () => {
    const error = await refused("record.edit", { kind: "panel", id: 1, values: { space: "LIB/101" } });
    expect(error.problems).toEqual([
      { record: "panel LIB/101/A", field: "space", reason: "is not a field of a panel; perhaps space_id" },
    ]);
    const other = await refused("record.add", { kind: "panel", values: { tag: "B", shade: "green" } });
    expect(other.problems[0]?.reason).toBe("is not a field of a panel");
  });

  it("of a name that is too long doesn't repeat all of it", async () => {
    const { message } = await refused("record.add", { kind: "building", values: { tag: "x".repeat(400) } });
    expect(message).toBe(`New building ${"x".repeat(60)}: tag is longer than 60 characters.`);
  });

  it("of a record of another kind says what it is", async () => {
    expect((await refused("feeds.of", { what: "F-001" })).message).toBe("F-001 is a cable, not a building or space.");
    const error = await refused("record.edit", { kind: "panel", id: 1, values: { space_id: "F-001" } });
    expect(error.problems[0]?.reason).toBe("is F-001, which is a cable: must be a space");
  });

  it("of a rule that isn't there names the nearest", async () => {
    const accept = (rule: string) => refused("exception.accept", { rule, key: "x", reason: "because" });
    expect((await accept("truth.rinng")).message).toBe("No rule is named truth.rinng; nearest is truth.ring.");
    expect((await accept("nope")).message).toBe("No rule is named nope.");
    expect((await accept("truth.ring")).message).toBe("truth.ring finds nothing named x.");
  });

  it("of many changes tells what is wrong with each, found or not, by row", async () => {
    const error = await refused("record.change_many", {
      changes: [
        { op: "edit", kind: "panel", id: "LIB/101/A", values: { life: "gone" } },
        { op: "edit", kind: "cable", id: "F-999", values: { life: "gone" } },
        { op: "add", kind: "strand", values: { cable_id: "F-001", number: 0 } },
        { op: "edit", kind: "panel", id: "LIB/101/A", values: { space_id: "NOWHERE" } },
      ],
    });
    expect(error.problems.map(({ row, record, field }) => [row, record, field])).toEqual([
      [1, "panel LIB/101/A", "life"],
      [2, "F-999", "cable"],
      [3, "new strand 0", "number"],
      [4, "LIB/101/A", "space"],
    ]);
  });

  it("of many changes tells of every kind of trouble at once, and changes nothing", async () => {
    const before = await plant.run("record.window", { kind: "panel", limit: 50 });
    const error = await refused("record.change_many", {
      changes: [
        { op: "edit", kind: "panel", id: "LIB/101/A", values: { life: "gone" } },
        { op: "edit", kind: "panel", id: "LIB/101/A", values: { notes: "could be written" } },
        { op: "edit", kind: "panel", id: 999_999, values: { notes: "nobody" } },
        { op: "add", kind: "strand", values: { cable_id: "F-001", number: 1 } },
        { op: "add", kind: "strand", values: { cable_id: 999_999, number: 2000 } },
        { op: "add", kind: "strand", values: { cable_id: "F-999", number: 1 } },
        { op: "edit", kind: "cable", id: "F-001", rev: 0, values: { notes: "seen long ago" } },
        { op: "remove", kind: "building", id: "LIB" },
      ],
    });
    expect(error.problems.map(({ row, field, reason }) => [row, field, reason])).toEqual([
      [1, "life", expect.stringContaining("must be one of")],
      [3, undefined, expect.stringContaining("is not on record")],
      [4, "number", "is 1: taken by F-001:1"],
      [5, "cable", "is cable 999999, which is not on record"],
      [6, "cable", expect.stringContaining("F-999")],
      [7, undefined, expect.stringContaining("was changed since you read it")],
      [8, undefined, "1 space rests on it: LIB/101"],
    ]);
    expect(error.message).toContain("And 6 more.");
    expect(await plant.run("record.window", { kind: "panel", limit: 50 })).toEqual(before);
  });
});

describe("many changes", () => {
  it.each([
    { op: "remove", kind: "panel", id: "LIB/101/A" },
    { op: "edit", kind: "panel", id: "LIB/101/A", values: { notes: "B" } },
  ])("that come to a record an earlier row deletes are refused by row", async (again) => {
    const changes = [{ op: "remove", kind: "panel", id: 1 }, again];
    expect((await refused("record.change_many", { changes })).problems).toEqual([
      { row: 2, record: "LIB/101/A", reason: "is deleted by row 1 already" },
    ]);
  });

  it("that set one field to two values are refused by row; other fields of one record are one change", async () => {
    const edit = (values: object) => ({ op: "edit", kind: "panel", id: "LIB/101/A", values });
    const changes = [edit({ notes: "B" }), edit({ rack: "R9" }), edit({ notes: "C" })];
    expect((await refused("record.change_many", { changes })).problems).toEqual([
      { row: 3, record: "LIB/101/A", field: "notes", reason: "is set otherwise by row 1" },
    ]);
    expect(await plant.rehearse("record.change_many", { changes: changes.slice(0, 2) })).toMatchObject({
      summary: "Change 1 panel",
    });
  });
});

describe("finding", () => {
  it.each(["\u0000", " \u0007\t"])("nothing but control characters finds nothing", async (text) => {
    expect(await plant.run("address.find", { text })).toEqual({ hits: [], more: false });
  });
  it("passes over control characters that came along", async () => {
    const { hits } = await plant.run<{ hits: { ref: { tag: string } }[] }>("address.find", { text: "F-001\u0000\r\n" });
    expect(hits.map(({ ref }) => ref.tag)).toContain("F-001");
  });
});
