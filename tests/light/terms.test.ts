import { describe, expect, it } from "vitest";
import { slip } from "../support/slip.ts";
import { cable, cord, kindsOf, loss, lossOf, module, optic, splice, termsOf } from "./made-line.ts";

const SM = { wavelength_nm: 1310 };

describe("glass", () => {
  it("loses its length times the attenuation of its class, with the limit's source", async () => {
    const { answer } = await lossOf([cable(2000, "g652d")], SM);
    expect(termsOf(answer, "glass")).toMatchObject([
      { loss_db: 0.8, basis: "limit", lacks: null, record: { kind: "section" } },
    ]);
    expect(answer.terms.find(({ kind }) => kind === "glass")?.source).toMatch(
      /^0\.4 dB\/km: ITU-T G\.652.*\(second-hand\)$/,
    );
  });
  it("is longer than its sheath by the cable's excess", async () => {
    const { line, answer } = await lossOf([cable(1000, "g652d", { type: { excess_ratio: 0.02 } })], SM);
    expect(line.length_m).toBe(1020);
    expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: 0.408 }]);
  });
  it("takes a table's excess where the cable has none, and says so", async () => {
    const { line, answer } = await lossOf([cable(1000, "g652d", { type: { excess_ratio: undefined } })], SM);
    expect(line).toMatchObject({ length_m: 1028, length_complete: true });
    expect(termsOf(answer, "glass")[0]?.source).toMatch(
      /glass taken as 2\.8 % longer than its sheath: Overlength factors.*weak/,
    );
  });
  it("takes usual values where they are asked for", async () => {
    const { answer } = await lossOf([cable(1000, "g652d")], { ...SM, worst: "typical" });
    expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: 0.35, basis: "typical" }]);
  });
  it("loses at least what glass does before it is cabled, and nothing for sure where no least is on record", async () => {
    const least = async (fibre: string, wavelength_nm: number, own = {}) =>
      termsOf((await lossOf([cable(1000, fibre)], { wavelength_nm, worst: "typical" }, own)).answer, "glass")[0]
        ?.least_db;
    expect(await least("om4", 850)).toBe(2.5);
    expect(await least("om1", 1300)).toBe(0.7);
    expect(await least("os2", 1310)).toBe(0.31);
    expect(await least("os1", 1383)).toBe(0);
    // A usual value of the plant's own below it says that there is less.
    expect(await least("om4", 850, { "attenuation.typical.om4.850": 2.3 })).toBe(2.3);
  });
  it("says limit where a usual value was asked for and none is on record", async () => {
    const { answer } = await lossOf([cable(1000, "g655")], { wavelength_nm: 1550, worst: "typical" });
    expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: 0.35, basis: "limit" }]);
  });
  it("takes the edition's family where families differ", async () => {
    const at = { wavelength_nm: 850 };
    const tia = await lossOf([cable(1000, "om3")], { ...at, edition: "tia_568_3_d" });
    expect(termsOf(tia.answer, "glass")).toMatchObject([{ loss_db: 3 }]);
    const iso = await lossOf([cable(1000, "om3")], { ...at, edition: "iso_14763_3_2015" });
    expect(termsOf(iso.answer, "glass")).toMatchObject([{ loss_db: 3.5 }]);
  });
  it("of a cable made for indoors has TIA's value for indoors", async () => {
    const { answer } = await lossOf([cable(1000, "os2", { type: { environment: "indoor" } })], SM);
    expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: 1 }]);
  });
  it("uses the plant's own value, and rests on its record", async () => {
    const { answer } = await lossOf([cable(1000, "g652d")], SM, { "attenuation.g652d.1310": 0.33 });
    expect(termsOf(answer, "glass")).toMatchObject([
      { loss_db: 0.33, rests_on: [{ kind: "limit_value", tag: "attenuation.g652d.1310" }] },
    ]);
  });
});

describe("what is not known", () => {
  it("is listed and never nothing: a leg without length", async () => {
    const { answer, line } = await lossOf([cable(undefined, "g652d")], SM);
    expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: null, basis: "unknown", source: "not on record" }]);
    expect(answer.complete).toBe(false);
    expect(answer.unknown).toEqual([expect.stringMatching(/^glass F-0:1 of unknown length of G\.652\.D: .+/)]);
    expect(line).toMatchObject({ length_m: null, length_complete: false });
  });
  it("is a class that nobody recorded", async () => {
    const { answer } = await lossOf([cable(500)], SM);
    expect(answer.unknown).toEqual(["glass F-0:1 500 m: the class of its fibre is not on record"]);
    expect(answer.complete).toBe(false);
  });
  it("is an attenuation at a wavelength the class has none for", async () => {
    const { answer } = await lossOf([cable(500, "g652d")], { wavelength_nm: 850 });
    expect(answer.unknown).toEqual(["glass F-0:1 500 m of G.652.D: no attenuation of G.652.D at 850 nm is on record"]);
  });
  it("is a limit that makes no sense", async () => {
    const { plant, what } = await lossOf([cable(500, "g652d")], SM, { "attenuation.g652d.1310": 1 });
    slip(plant, "attenuation.g652d.1310", -1);
    const answer = await loss(plant, what, SM);
    expect(answer.unknown).toEqual([expect.stringContaining("the limit attenuation.g652d.1310 is -1")]);
    expect(answer.terms.every(({ loss_db }) => loss_db === null || loss_db >= 0)).toBe(true);
  });
  it("is glass whose own attenuation is 0, usual or at most: the line can't be told, and nothing passes for it", async () => {
    const own = { "attenuation.g652d.1310": 0, "attenuation.typical.g652d.1310": 0 };
    for (const worst of ["limit", "typical"]) {
      const { answer, line } = await lossOf([cable(500, "g652d")], { ...SM, worst, application: "10GBASE-LR" }, own);
      expect(termsOf(answer, "glass")).toMatchObject([{ loss_db: null, basis: "unknown" }]);
      expect(answer.unknown).toEqual([
        expect.stringMatching(/: the limit attenuation\.(typical\.)?g652d\.1310 is 0, and no glass is without loss$/),
      ]);
      expect(line.applications[0]).toMatchObject({ runs: "cannot_tell", runs_at_worst: "cannot_tell" });
      expect(line.acceptance[0]).toMatchObject({ limit_db: null, complete: false });
    }
  });
  it("is the length of a cord", async () => {
    const { answer } = await lossOf([optic(), cord(), cable(500, "g652d")], { ...SM, as: "channel" });
    expect(termsOf(answer, "cord")).toMatchObject([
      { loss_db: null, lacks: "the length of the cord is not on record" },
    ]);
  });
  it("is the loss of a module that none is on record for", async () => {
    const { answer } = await lossOf([optic(), cord(1), module(), cord(1), optic()], SM);
    expect(termsOf(answer, "module")).toMatchObject([
      { loss_db: null, lacks: "the loss of this join is not on record" },
    ]);
  });
});

describe("splices", () => {
  const spliced = (more: object, asked: object = {}) =>
    lossOf([cable(100, "g652d"), splice(more as never), cable(100, "g652d")], { ...SM, ...asked });
  const one = async (more: object, asked: object = {}) => termsOf((await spliced(more, asked)).answer, "splice")[0];

  it("count the signed mean of both ways [K-OSP: -0.08 and +0.28 are 0.10; 0.15 and -0.03 are 0.06]", async () => {
    const both = { loss_basis: "both_ways" };
    expect(await one({ loss_ab_db: -0.08, loss_ba_db: 0.28, ...both })).toMatchObject({
      loss_db: 0.1,
      basis: "measured",
    });
    expect(await one({ loss_ab_db: 0.15, loss_ba_db: -0.03, ...both })).toMatchObject({
      loss_db: 0.06,
      basis: "measured",
    });
  });
  it("count the one way that is known, and a splicer's estimate as typical", async () => {
    expect(await one({ loss_ba_db: 0.07, loss_basis: "one_way" })).toMatchObject({ loss_db: 0.07, basis: "measured" });
    expect(await one({ loss_ab_db: 0.02, loss_basis: "estimate" })).toMatchObject({ loss_db: 0.02, basis: "typical" });
  });
  it("are not believed where one way shows a gain: the limit stands in", async () => {
    const term = await one({ loss_ab_db: -0.12, loss_basis: "one_way" });
    expect(term).toMatchObject({ loss_db: 0.3, basis: "limit" });
    expect(term?.source).toMatch(/-0\.12 dB was read one way only: a gain is a step of backscatter/);
  });
  it("are not believed where the mean is a gain", async () => {
    expect(await one({ loss_ab_db: -0.3, loss_ba_db: 0.1 })).toMatchObject({ loss_db: 0.3, basis: "limit" });
  });
  it("are limits or usual values else, mechanical ones their own", async () => {
    expect(await one({})).toMatchObject({ loss_db: 0.3, basis: "limit" });
    expect(await one({}, { worst: "typical" })).toMatchObject({ loss_db: 0.15, basis: "typical" });
    expect(await one({ method: "mechanical" }, { worst: "typical" })).toMatchObject({ loss_db: 0.3, basis: "typical" });
  });
});

describe("mated pairs", () => {
  it("of a channel are those at its ports; the plugs in equipment are none", async () => {
    const { answer } = await lossOf([optic(), cord(3), cable(100, "g652d"), cord(2), optic()], SM);
    expect(answer.as).toBe("channel");
    expect(kindsOf(answer)).toBe("cord pair glass pair cord");
    expect(termsOf(answer, "pair")).toMatchObject([{ loss_db: 0.75, basis: "limit" }, { loss_db: 0.75 }]);
  });
  it("of a link by one cord are both end joints, by two the near one, by three none", async () => {
    const parts = [optic(), cord(3), cable(100, "om3"), cord(2), cable(50, "om3"), cord(2), optic()];
    const of = async (reference_method: string) =>
      kindsOf((await lossOf(parts, { wavelength_nm: 850, as: "link", reference_method })).answer);
    expect(await of("one_cord")).toBe("end_pair glass pair cord pair glass end_pair");
    expect(await of("two_cords")).toBe("end_pair glass pair cord pair glass");
    expect(await of("three_cords")).toBe("glass pair cord pair glass");
  });
  it("at the ends of a link have the edition's limit for a test cord", async () => {
    const of = async (fibre: string, edition: string) => {
      const at = fibre === "om3" ? 850 : 1310;
      return termsOf((await lossOf([cable(10, fibre)], { wavelength_nm: at, edition })).answer, "end_pair")[0]?.loss_db;
    };
    // [K-FLUKE-D, K-FLUKE-E, K-FLUKE-14763]
    expect([await of("om3", "tia_568_3_d"), await of("g652d", "tia_568_3_d")]).toEqual([0.3, 0.5]);
    expect([await of("om3", "tia_568_3_e"), await of("g652d", "tia_568_3_e")]).toEqual([0.5, 0.5]);
    expect([await of("om3", "iso_14763_3_2015"), await of("g652d", "iso_14763_3_2015")]).toEqual([0.5, 0.75]);
  });
  it("of a port that waits for its cord are counted in a channel, and said", async () => {
    const { answer, line } = await lossOf([optic(), cord(3), cable(100, "g652d")], { ...SM, as: "channel" });
    expect(kindsOf(answer)).toBe("cord pair glass pair");
    expect(line.assumptions).toContain(
      "No cord is on record in front of B/END/P3:01: its pair is counted, its glass isn't.",
    );
  });
  it("have the loss measured for a connector on the strand itself", async () => {
    const lands = [{ method: "direct", loss_db: 0.2, loss_basis: "one_way" }, { method: "direct" }] as const;
    const { answer } = await lossOf([optic(), cord(1), cable(100, "g652d", { lands }), cord(1), optic()], SM);
    expect(termsOf(answer, "pair")).toMatchObject([
      { loss_db: 0.2, basis: "measured" },
      { loss_db: 0.75, basis: "limit" },
    ]);
  });
});

describe("terminations", () => {
  const landed = async (first: object, last: object = {}) =>
    (await lossOf([optic(), cord(1), cable(100, "g652d", { lands: [first, last] as never }), cord(1), optic()], SM))
      .answer;

  it("by pigtail are a pair and a splice, in the order of the light", async () => {
    const answer = await landed({ method: "pigtail", loss_db: 0.04, loss_basis: "both_ways" }, { method: "pigtail" });
    expect(kindsOf(answer)).toBe("cord pair pigtail_splice glass pigtail_splice pair cord");
    expect(termsOf(answer, "pigtail_splice")).toMatchObject([
      { loss_db: 0.04, basis: "measured", record: { kind: "termination" } },
      { loss_db: 0.3, basis: "limit" },
    ]);
  });
  it("by splice-on and pre-polished connectors are a pair and a splice", async () => {
    const answer = await landed({ method: "splice_on" }, { method: "pre_polished" });
    expect(kindsOf(answer)).toBe("cord pair connector_splice glass connector_splice pair cord");
  });
  it("by a furcation kit add no joint, and the value says whose word that is", async () => {
    const answer = await landed({ method: "furcation" }, { method: "direct" });
    expect(termsOf(answer, "furcation")).toMatchObject([
      { loss_db: 0, basis: "limit", source: "Common practice, no source" },
    ]);
  });
  it("that nobody recorded are one pair, and that is said", async () => {
    const { line } = await lossOf([cable(100, "g652d")], SM);
    expect(line.assumptions).toContain(
      "How B/R0/P0:01 is terminated is not on record: one pair is counted, no splice.",
    );
  });
});

describe("modules", () => {
  it("count their own loss and the pairs at their ports", async () => {
    const { answer } = await lossOf([optic(), cord(1), module(0.4), cable(100, "g652d"), cord(1), optic()], SM);
    expect(kindsOf(answer)).toBe("cord pair module pair glass pair cord");
    expect(termsOf(answer, "module")).toMatchObject([
      { loss_db: 0.4, basis: "typical", record: { kind: "module_join" } },
    ]);
  });
  it("that pass another band stop the light", async () => {
    const { answer } = await lossOf(
      [optic(), cord(1), module(0.4, "filter", { band: "1530-1565" }), cord(1), optic()],
      {
        ...SM,
        as: "channel",
      },
    );
    expect(termsOf(answer, "module")).toMatchObject([
      { loss_db: null, lacks: "it passes 1530-1565 nm, and not 1310 nm" },
    ]);
  });
});
