/** What a way of free strands would lose, and which ways come last. */
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { PlannedWay } from "../../core/free-pair/plan.ts";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { Written } from "../../core/store/written.ts";
import { type CheckedPlant, campus } from "../check/campus.ts";

type Input = Readonly<Record<string, unknown>>;
const ask = (plant: CheckedPlant, more: Input = {}) =>
  plant.run<FreePairAnswer>("free_pair.find", { from: "LIB", to: "SCI", strands: 2, ...more });
const loss = (plant: CheckedPlant, worst: string) =>
  plant.run<LossAnswer>("light.loss", { what: "F-014:3", as: "channel", worst, wavelength_nm: 1310 });

describe("the loss of a way that needs no joint", () => {
  it("is that of its strand as a channel, with typical values and with limits", async () => {
    const plant = await campus();
    const [way] = (await ask(plant, { application: "10gbase-lr" })).ways;
    const [typical, limit] = [await loss(plant, "typical"), await loss(plant, "limit")];
    expect(typical.loss_db).toBeGreaterThan(1);
    expect(way?.loss?.wavelengths).toMatchObject([
      { wavelength_nm: 1310, loss_db: typical.loss_db, worst_loss_db: limit.loss_db, complete: true },
    ]);
    expect(way?.loss?.terms.map(({ words, source }) => [words, source])).toEqual(
      limit.terms.map(({ words, source }) => [words, source]),
    );
    expect(way?.loss?.application).toMatchObject({
      application: "10GBASE-LR",
      runs: "yes",
      runs_at_worst: "yes",
      limit_db: 6.2,
      margin_db: Math.round((6.2 - (limit.loss_db as number)) * 10_000) / 10_000,
    });
  });

  it("holds the least a receiver needs against the least it can lose, not against what joints are allowed", async () => {
    const plant = await campus();
    const least = (value: number) => ({
      tag: "application.GPON B+.single_mode.least_db",
      value,
      unit: "dB",
      reason: "a test",
    });
    const id = await plant.add("limit_value", least(0.5));
    const verdict = async () => (await ask(plant, { application: "GPON B+" })).ways[0]?.loss;
    const short = await verdict();
    // What is allowed for its joints is more than that, and may not be there.
    expect(short?.wavelengths[0]?.loss_db).toBeGreaterThan(0.5);
    expect(short?.application).toMatchObject({
      runs: "no",
      reasons: [expect.stringMatching(/may lose no more than .* less than the 0.5 dB/)],
    });
    await plant.edit("limit_value", id, { value: 0 });
    expect((await verdict())?.application).toMatchObject({ runs: "yes", reasons: [] });
  });

  it("is of the strand that loses most of all that are asked for, and not of the first few", async () => {
    const plant = await campus();
    const six = await ask(plant, { strands: 6 });
    const last = six.ways[0]?.stretches[0]?.strands[5];
    expect(last).toBeDefined();
    await plant.add("measurement", {
      tag: "M-LAST",
      method: "source_meter",
      wavelength_nm: 1310,
      loss_db: 9,
      measured_on: "2024-01-01",
      subject_kind: "section",
      subject_id: last?.sections[0]?.tag,
    });
    const [way] = (await ask(plant, { strands: 6 })).ways;
    expect(way?.loss).toMatchObject({ reckoned: 6, strand: { tag: last?.sections[0]?.tag } });
    expect(way?.loss?.wavelengths[0]?.worst_loss_db).toBe(9);
  });

  it("says why an application won't run, and refuses one that has no limits", async () => {
    const plant = await campus();
    const [way] = (await ask(plant, { application: "10GBASE-SR" })).ways;
    expect(way?.loss?.application).toMatchObject({
      runs: "no",
      runs_at_worst: "no",
      reasons: ["it isn't made for such glass (OS2)"],
    });
    expect(
      await plant.call("free_pair.find", { from: "LIB", to: "SCI", strands: 2, application: "carrier pigeon" }),
    ).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "application", record: "carrier pigeon" }] },
    });
  });
});

/** F-090 from the hole to a building of its own, its near end bare: F-014:13-18 are cut there and spliced, 17 and 18 apart. */
async function beyond(plant: CheckedPlant): Promise<void> {
  const { add, run } = plant;
  await add("building", { tag: "GYM" });
  await add("space", { tag: "1", building_id: "GYM", kind: "telecom_room" });
  await add("pathway", { tag: "DB-9", from_space_id: "MH-03", to_space_id: "GYM/1", kind: "duct_bank", length_m: 300 });
  await run("cable.enter", {
    tag: "F-090",
    type: "LT-24",
    stops: [{ space: "MH-03", way: { pathway: "DB-9" } }, { space: "GYM/1" }],
  });
  await run("panel.enter", { tag: "G", space: "GYM/1", ports: [{ numbers: "01..12", connector: "lc_duplex" }] });
  await run("strand.land", { strands: "F-090:1-24", ports: "GYM/1/G:01-12", method: "pigtail" });
  await run("strand.land", { strands: "F-014:13-18#2", ports: "SCI/B01/P:07-09", method: "pigtail" });
}

describe("the loss of a way that needs splices", () => {
  it("holds a splice for the joint, and says so", async () => {
    const plant = await campus();
    await beyond(plant);
    const [way] = (await ask(plant, { from: "SCI", to: "GYM", application: "10GBASE-LR" })).ways;
    expect([way?.splices, way?.cords]).toEqual([2, 0]);
    const made = way?.loss?.terms.filter(({ words }) => words.startsWith("splice to be made"));
    expect(made).toMatchObject([{ words: "splice to be made in MH-03", loss_db: 0.3, basis: "limit" }]);
    const sum = way?.loss?.terms.reduce((total, { loss_db }) => total + (loss_db ?? 0), 0);
    expect(way?.loss?.wavelengths[0]?.worst_loss_db).toBeCloseTo(sum as number, 9);
  });
});

describe("strands kept for repair", () => {
  it("are offered last, and only where nothing else is left", async () => {
    const plant = await campus();
    await plant.add("limit_value", { tag: "repair.keep_strands", value: 20 });
    const strands = ({ ways }: FreePairAnswer) =>
      ways.map(({ kept_for_repair, stretches }) => [
        kept_for_repair,
        ...(stretches[0]?.strands.map(({ sections }) => sections[0]?.tag) ?? []),
      ]);
    expect(strands(await ask(plant))).toEqual([[0, "F-014:3", "F-014:4"]]);
    const four = await ask(plant, { strands: 4 });
    expect(strands(four)).toEqual([[2, "F-014:3", "F-014:4", "F-014:5", "F-014:6"]]);
    expect(four.sentence).toContain("It takes strands that are kept for repair.");
  });
});

describe("a way that is planned", () => {
  const input = { from: "SCI", to: "GYM", strands: 2, circuit: "K-9", job: "J-9", application: "10GBASE-LR" };

  it("holds its glass for a planned circuit, and lists its joints as planned records and steps of a job", async () => {
    const plant = await campus();
    await beyond(plant);
    const { answer } = await plant.run<Written<PlannedWay>>("free_pair.plan", input);
    expect(answer).toMatchObject({ circuit: { tag: "K-9" }, job: { tag: "J-9" }, sections: 4, splices: 2, cords: 0 });
    expect(answer?.work[0]).toMatch(/^At MH-03 splice F-014:1[3-8]#2 to F-090:1$/);
    const read = (sql: string) => plant.store.read((reader) => reader.rows<Input>(sql));
    expect(await read("select tag, state, strands, application from circuit where tag = 'K-9'")).toEqual([
      { tag: "K-9", state: "planned", strands: 2, application: "10GBASE-LR" },
    ]);
    expect(await read("select life, count(*) as n from splice group by life order by life")).toEqual([
      { life: "in_place", n: 6 },
      { life: "planned", n: 2 },
    ]);
    expect(
      await read(
        "select role, count(*) as n from assignment a join circuit c on c.id = a.circuit_id where c.tag = 'K-9' group by role",
      ),
    ).toEqual([
      { role: "receive", n: 2 },
      { role: "transmit", n: 2 },
    ]);
    expect(await read("select count(*) as n from job_step")).toEqual([{ n: 3 }]);
    // What is promised is no longer free.
    const [next] = (await ask(plant, { from: "SCI", to: "GYM" })).ways;
    expect(next?.stretches[0]?.strands[0]?.sections[0]?.tag).not.toBe(
      answer?.way.stretches[0]?.strands[0]?.sections[0]?.tag,
    );
  });

  it("is gone again when it is undone", async () => {
    const plant = await campus();
    await beyond(plant);
    const before = await ask(plant, { from: "SCI", to: "GYM" });
    await plant.run("free_pair.plan", input);
    await plant.run("history.undo", {});
    expect(await ask(plant, { from: "SCI", to: "GYM" })).toEqual(before);
    expect(await plant.call("record.show", { kind: "circuit", id: "K-9" })).toMatchObject({ ok: false });
  });

  it("is refused where a circuit has that number, and where there is no such way", async () => {
    const plant = await campus();
    await beyond(plant);
    expect(await plant.call("free_pair.plan", { ...input, circuit: "K-1" })).toMatchObject({ ok: false });
    expect(await plant.call("free_pair.plan", { ...input, way: 9 })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "way", record: "9" }] },
    });
  });
});
