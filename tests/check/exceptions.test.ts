import { describe, expect, it } from "vitest";
import { exported } from "../exchange/support.ts";
import { type CheckedPlant, campus, checkedPlant, give } from "./campus.ts";

const RULE = "truth.tray_over";
const KEY = "splice tray MH-03/CL-1/T1";

/** A tray with more splices than it takes. */
async function overfull(): Promise<CheckedPlant> {
  const plant = await campus();
  await plant.edit("tray", "MH-03/CL-1/T1", { capacity: 5 });
  return plant;
}

/** `T1` is called `T9`, and another tray `T1` is as full. */
async function namesakes(plant: CheckedPlant): Promise<void> {
  await plant.edit("tray", "MH-03/CL-1/T1", { tag: "T9" });
  await another(plant, "T1");
}

async function another(plant: CheckedPlant, tag: string): Promise<void> {
  await plant.add("tray", { closure_id: "MH-03/CL-1", tag, capacity: 5 });
  for (let n = 7; n <= 12; n++) {
    await plant.run("splice.range", {
      from: `F-014:${n}#1`,
      to: `F-021:${n}`,
      tray: `MH-03/CL-1/${tag}`,
      first_place: n - 6,
    });
  }
}

async function openedFurther(): Promise<CheckedPlant> {
  const plant = await overfull();
  await plant.run("cable.open", { cable: "F-014", stop: "F-014@2", closure: "MH-03/CL-1", cut: "7-12" });
  return plant;
}

const accept = (plant: CheckedPlant, more: Readonly<Record<string, unknown>> = {}) =>
  plant.run("exception.accept", { rule: RULE, key: KEY, reason: "Two lie stacked; measured and fine.", ...more });

describe("a finding that is accepted", () => {
  it("stays listed with reason, name and day, and no longer counts", async () => {
    const plant = await overfull();
    expect(await plant.check()).toMatchObject({ counts: { warning: 1 }, accepted: 0 });
    await accept(plant);
    const report = await plant.check();
    expect(report).toMatchObject({
      counts: { warning: 0 },
      accepted: 1,
      sentence: "Nothing is found. 1 finding accepted.",
    });
    expect(report.findings).toMatchObject([
      {
        key: KEY,
        exception: {
          reason: "Two lie stacked; measured and fine.",
          accepted_by: "Test Person",
          accepted_on: "2026-05-01",
          holds: true,
          review_due: false,
        },
      },
    ]);
  });

  it("lets a report pass that failed by it", async () => {
    const plant = await campus();
    await plant.edit("strand", "F-014:2", { condition: "broken" });
    expect(await plant.check()).toMatchObject({ passes: false, counts: { error: 1 } });
    const [finding] = await plant.found("truth.broken_in_service");
    await plant.run("exception.accept", { rule: finding?.rule, key: finding?.key, reason: "Still carries light." });
    expect(await plant.check()).toMatchObject({ passes: true, counts: { error: 0 } });
  });

  it("is back with its old reason beside it when its facts change", async () => {
    const plant = await overfull();
    await accept(plant);
    await plant.edit("tray", "MH-03/CL-1/T1", { capacity: 4 });
    const report = await plant.check();
    expect(report).toMatchObject({ counts: { warning: 1 }, accepted: 0 });
    expect(report.findings[0]?.exception).toMatchObject({
      holds: false,
      reason: "Two lie stacked; measured and fine.",
    });
  });

  it("holds again when the facts are as they were, and after being accepted anew", async () => {
    const plant = await overfull();
    await accept(plant);
    await plant.edit("tray", "MH-03/CL-1/T1", { capacity: 4 });
    await accept(plant, { reason: "Looked again." });
    expect((await plant.check()).findings[0]?.exception).toMatchObject({ holds: true, reason: "Looked again." });
    expect(await plant.id("select count(*) as id from exception")).toBe(1);
  });

  it("stays with its record when that is called otherwise, lapsed, with its old reason beside it", async () => {
    const plant = await overfull();
    await accept(plant);
    await plant.edit("tray", "MH-03/CL-1/T1", { tag: "T9" });
    expect(await plant.check()).toMatchObject({
      counts: { warning: 1 },
      findings: [
        {
          key: "splice tray MH-03/CL-1/T9",
          exception: { holds: false, reason: "Two lie stacked; measured and fine." },
        },
      ],
    });
    await plant.edit("tray", "MH-03/CL-1/T9", { tag: "T1" });
    expect((await plant.check()).findings[0]?.exception?.holds).toBe(true);
  });

  it("never covers another record that takes the name", async () => {
    const plant = await openedFurther();
    await accept(plant);
    await namesakes(plant);
    expect(await plant.found(RULE)).toMatchObject([
      { key: KEY, exception: null },
      { key: "splice tray MH-03/CL-1/T9", exception: { reason: "Two lie stacked; measured and fine.", holds: false } },
    ]);
  });

  it("and both may be accepted, and withdrawn, each by its own name", async () => {
    const plant = await openedFurther();
    await accept(plant);
    await namesakes(plant);
    await accept(plant, { reason: "The new one." });
    await accept(plant, { key: "splice tray MH-03/CL-1/T9", reason: "The old one." });
    const reasons = async () => (await plant.found(RULE)).map(({ exception }) => exception?.holds && exception.reason);
    expect(await reasons()).toEqual(["The new one.", "The old one."]);
    await plant.run("exception.withdraw", { rule: RULE, key: KEY });
    expect(await reasons()).toEqual([undefined, "The old one."]);
  });

  it("holds in a plant that was brought in from files, until the name is another's there", async () => {
    const plant = await openedFurther();
    await accept(plant);
    const other = await checkedPlant();
    await other.run("exchange.import", { folder: await exported(plant) });
    expect(await other.found(RULE)).toMatchObject([{ key: KEY, exception: { holds: true } }]);
    await namesakes(other);
    expect((await other.check()).accepted).toBe(0);
  });

  it("holds there no longer where very many records are renamed at once and the name is another's then", async () => {
    const plant = await openedFurther();
    await another(plant, "T8");
    const added = Array.from({ length: 1200 }, (_, n) => ({ closure_id: "MH-03/CL-1", tag: `S${n}`, capacity: 5 }));
    await plant.run("record.change_many", { changes: added.map((values) => ({ op: "add", kind: "tray", values })) });
    await accept(plant);
    const other = await checkedPlant();
    await other.run("exchange.import", { folder: await exported(plant) });
    expect((await other.check()).accepted).toBe(1);
    const trays = await other.store.read((reader) =>
      reader.rows<{ id: number; tag: string }>("select id, tag from tray where tag in ('T1', 'T8') or tag like 'S%'"),
    );
    const renamed: Readonly<Record<string, string>> = { T1: "T9", T8: "T1" };
    const changes = trays.map(({ id, tag }) => {
      const values = { tag: renamed[tag] ?? `${tag}-old` };
      return { op: "edit", kind: "tray", id, values };
    });
    await other.run("record.change_many", { changes });
    expect((await other.check()).accepted).toBe(0);
  });

  it("lapses when it is about another record of the same kind, though the count is the same", async () => {
    const plant = await campus();
    const id = await give(plant, "K-1", "F-014:3");
    const aside = { rule: "truth.assigned_aside", key: "circuit K-1" };
    await plant.run("exception.accept", { ...aside, reason: "Kept for repair." });
    expect((await plant.check()).accepted).toBe(1);
    await plant.edit("assignment", id, { section_id: await plant.section("F-014:4") });
    expect((await plant.check()).accepted).toBe(0);
  });

  it("is due to be looked at again from its day on", async () => {
    const plant = await overfull();
    await accept(plant, { review_on: "2026-06-01" });
    expect((await plant.check()).findings[0]?.exception?.review_due).toBe(false);
    await plant.close();
    const later = await checkedPlant(plant.path, "2026-06-01");
    expect((await later.check()).findings[0]?.exception).toMatchObject({ review_due: true, holds: true });
  });

  it("counts again when that is withdrawn or undone", async () => {
    const plant = await overfull();
    await accept(plant);
    await plant.run("exception.withdraw", { rule: RULE, key: KEY });
    expect((await plant.check()).counts.warning).toBe(1);
    await plant.run("history.undo");
    expect((await plant.check()).counts.warning).toBe(0);
  });

  it.each([
    ["is not found", { key: "splice tray MH-03/CL-1/T2" }, "not_found"],
    ["was seen with other facts", { facts_digest: "0".repeat(32) }, "stale"],
    ["is to be looked at again today", { review_on: "2026-05-01" }, "bad_input"],
    ["has no reason", { reason: "  " }, "bad_input"],
  ])("is refused when it %s", async (_, more, code) => {
    const plant = await overfull();
    const reply = await plant.call("exception.accept", { rule: RULE, key: KEY, reason: "Because.", ...more });
    expect(reply).toMatchObject({ ok: false, error: { code } });
    expect((await plant.check()).accepted).toBe(0);
  });
});

describe("a report that is signed", () => {
  it("keeps the hash, the rules' version and what was found", async () => {
    const plant = await overfull();
    const before = await plant.check();
    const signed = await plant.run("sign_off.make", { by: "An Auditor" });
    expect(signed).toMatchObject({
      notices: [],
      answer: {
        signed_by: "An Auditor",
        signed_on: "2026-05-01",
        content_hash: before.content_hash,
        rules_version: before.rules_version,
        findings: 1,
        passes: true,
      },
    });
  });

  it("says what is new since", async () => {
    const plant = await overfull();
    expect((await plant.check()).new_since).toBe(null);
    await plant.run("sign_off.make", { by: "An Auditor" });
    expect((await plant.check()).new_since).toEqual({ signed_on: "2026-05-01", signed_by: "An Auditor", count: 0 });
    await plant.edit("strand", "F-014:2", { condition: "broken" });
    const report = await plant.check();
    expect(report.new_since?.count).toBe(1);
    expect(report.findings.map(({ rule, is_new }) => [rule, is_new])).toEqual([
      ["truth.broken_in_service", true],
      [RULE, false],
    ]);
  });

  it("counts as new what was accepted when it was signed and no longer is", async () => {
    const plant = await overfull();
    await accept(plant);
    await plant.run("sign_off.make", { by: "An Auditor" });
    expect((await plant.check()).new_since?.count).toBe(0);
    await plant.edit("tray", "MH-03/CL-1/T1", { capacity: 4 });
    const report = await plant.check();
    expect(report.new_since?.count).toBe(1);
    expect(report.findings.map(({ rule, is_new }) => [rule, is_new])).toEqual([[RULE, true]]);
    // Signed as it stands, open, it is known.
    await plant.run("sign_off.make", { by: "An Auditor" });
    expect((await plant.check()).new_since?.count).toBe(0);
  });

  it("counts as new a finding that more has joined, and not one with less in it", async () => {
    const plant = await campus();
    const write = (port: string) =>
      plant.run("label.write", { subject: `LIB/101/A:${port}`, text: "99", printed_on: "2026-03-01" });
    for (const port of ["01", "02"]) await write(port);
    await plant.run("sign_off.make", { by: "An Auditor" });
    await write("03");
    expect((await plant.check({ rules: ["labels.contradicts"] })).findings).toMatchObject([{ count: 3, is_new: true }]);
    await plant.run("history.undo");
    expect((await plant.check()).new_since?.count).toBe(0);
    await plant.run("sign_off.make", { by: "An Auditor" });
    await plant.run("label.relabel", { subject: "LIB/101/A:02", text: "02" });
    expect((await plant.check({ rules: ["labels.contradicts"] })).findings.map(({ is_new }) => is_new)).not.toContain(
      true,
    );
  });

  it("counts as new what another record has that took the name of one that was there", async () => {
    const plant = await openedFurther();
    await plant.run("sign_off.make", { by: "An Auditor" });
    await namesakes(plant);
    expect((await plant.found(RULE)).map(({ key, is_new }) => [key, is_new])).toEqual([
      [KEY, true],
      ["splice tray MH-03/CL-1/T9", true],
    ]);
  });

  it("compares with the last of several", async () => {
    const plant = await overfull();
    await plant.run("sign_off.make", { by: "An Auditor" });
    await plant.edit("strand", "F-014:2", { condition: "broken" });
    const notices = await plant.run("sign_off.make", { by: "Another" });
    expect(notices).toMatchObject({ notices: ["A hazard or an error is still open."] });
    expect((await plant.check()).new_since).toMatchObject({ signed_by: "Another", count: 0 });
  });
});
