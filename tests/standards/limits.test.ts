import { describe, expect, it } from "vitest";
import type { LimitsAnswer } from "../../core/operations/subjects/standards.ts";
import { limitSource, limitsInUse } from "../../core/standards/limits/in-use.ts";
import { PUBLISHED } from "../../core/standards/limits/published.ts";
import { newPlant } from "../support/plant.ts";

const limits = async (...records: Record<string, unknown>[]) => {
  const plant = await newPlant();
  for (const values of records) await plant.run("record.add", { kind: "limit_value", values });
  return plant.store.read((reader) => limitsInUse(reader));
};

describe("published limits", () => {
  it("have one value a tag, a tag a record could bear, a source and a meaning", () => {
    expect(new Set(PUBLISHED.map(({ tag }) => tag)).size).toBe(PUBLISHED.length);
    for (const { tag, value, source, meaning, unit } of PUBLISHED) {
      expect(tag.length, tag).toBeLessThanOrEqual(60);
      expect(Number.isFinite(value) && value >= 0, tag).toBe(true);
      expect(source.length > 5 && meaning.length > 5 && unit.length > 0, tag).toBe(true);
    }
  });
});

describe("wavelengths of applications", () => {
  // From memory of the applications' own texts; the band of 1000BASE-SX is around 850 nm, that of GPON 1490 down, 1310 up.
  it("are rows with a source, both ways where the two differ", async () => {
    const plant = await newPlant();
    const { limits: rows } = await plant.run<LimitsAnswer>("standards.limits", { under: "wavelength.G" });
    expect(
      rows.filter(({ tag }) => tag.startsWith("wavelength.GPON B+")).map(({ tag, value }) => [tag, value]),
    ).toEqual([
      ["wavelength.GPON B+.down", 1490],
      ["wavelength.GPON B+.up", 1310],
    ]);
    for (const { unit, source, how_known } of rows) {
      expect([unit, how_known]).toEqual(["nm", "memory"]);
      expect(source).toMatch(/^From memory of the applications' own texts/);
    }
  });
  it("are there for every application that has limits", () => {
    const named = (head: string, end: RegExp) =>
      new Set(PUBLISHED.flatMap(({ tag }) => (tag.startsWith(head) ? [tag.slice(head.length).replace(end, "")] : [])));
    expect(named("wavelength.", /\.(up|down)$/)).toEqual(
      named("application.", /\.[^.]+\.(loss_db|length_m|least_db)$/),
    );
  });
});

describe("the table of limits", () => {
  it("shows each with its source, and who changed the plant's own and when", async () => {
    const plant = await newPlant();
    const own = { tag: "pair.typical", value: 0.3, source: "Our contract" };
    await plant.run("record.add", { kind: "limit_value", values: own });
    const { limits: shown } = await plant.run<LimitsAnswer>("standards.limits", { under: "pair.typ" });
    expect(shown).toMatchObject([
      {
        tag: "pair.typical",
        value: 0.3,
        own: true,
        published: 0.5,
        changed: { by: "Test Person", at: expect.stringMatching(/^20/), rev: expect.any(Number) },
      },
      { tag: "pair.typical.array", value: 0.75, own: false, changed: null },
    ]);
    expect(shown[0]?.words).toBe("pair.typical, the plant's own: Our contract (the plant's own policy)");
  });
});

describe("a limit in use", () => {
  it("is the published one, with its source and how it is known", async () => {
    const limit = (await limits()).get("pair.limit");
    expect(limit).toMatchObject({ value: 0.75, unit: "dB", own: false, record: null });
    expect(limit && limitSource(limit)).toMatch(/^TIA-568\.3, as an instrument maker's .*, D \(read in the source\)$/);
  });
  it("is the plant's own where it sets a value, with its reason and the published value beside", async () => {
    const own = {
      tag: "pair.limit",
      value: 0.5,
      source: "Our contract",
      how_known: "policy",
      reason: "Polished here.",
    };
    const limit = (await limits(own)).get("pair.limit");
    expect(limit).toMatchObject({ value: 0.5, unit: "dB", own: true, published: 0.75, reason: "Polished here." });
    expect(limit?.record).toMatchObject({ kind: "limit_value", tag: "pair.limit" });
    expect(limit && limitSource(limit)).toBe(
      "pair.limit, the plant's own: Our contract (the plant's own policy); Polished here.",
    );
  });
  it("stays the published one where the plant's record has no value", async () => {
    expect((await limits({ tag: "pair.limit", reason: "?" })).get("pair.limit")).toMatchObject({
      value: 0.75,
      own: false,
    });
  });
  it("is taken from the plant before a nearer published tag", async () => {
    const read = await limits({ tag: "attenuation.om3.850", value: 2.8 });
    expect(read.first("attenuation.om3.850.tia", "attenuation.om3.850")).toMatchObject({ value: 2.8, own: true });
  });
  it("may be one nobody published", async () => {
    const read = await limits({ tag: "application.OURS.om4.loss_db", value: 2 });
    expect(read.under("application.OURS.").map(({ tag }) => tag)).toEqual(["application.OURS.om4.loss_db"]);
    expect(read.get("attenuation.om9.850")).toBeUndefined();
  });
});

describe("a limit below zero", () => {
  it("is refused, added, changed or published, with its field and the reason", async () => {
    const plant = await newPlant();
    const own = { tag: "pair.typical", value: 0.3, unit: "dB", reason: "ours" };
    const refused = (field: string) => ({
      ok: false,
      error: { problems: [{ field, reason: expect.stringMatching(/0/) }] },
    });
    for (const [field, name] of [
      ["value", "value"],
      ["published", "published value"],
    ] as const) {
      expect(await plant.call("record.add", { kind: "limit_value", values: { ...own, [field]: -0.1 } })).toMatchObject(
        refused(name),
      );
    }
    await plant.run("record.add", { kind: "limit_value", values: own });
    const edit = { kind: "limit_value", id: "pair.typical", values: { value: -1 } };
    expect(await plant.call("record.edit", edit)).toMatchObject(refused("value"));
    const { limits: shown } = await plant.run<LimitsAnswer>("standards.limits", { under: "pair.typical" });
    expect(shown[0]).toMatchObject({ value: 0.3, own: true });
  });
});
