import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { LossAnswer } from "../../core/light/answer.ts";
import { endOf, type MadePlant } from "../glass/made.ts";
import { cable, cord, makeLine, optic, splice } from "../light/made-line.ts";
import { cli } from "./support.ts";

let plant: MadePlant;
let file: string;
beforeAll(async () => {
  const { made } = makeLine([
    optic({ application: "10GBASE-LR", launch_min_dbm: -8, launch_max_dbm: 0.5 }),
    cord(2),
    cable(500, "g652d", { lands: [{ method: "pigtail" }] }),
    splice({ loss_ab_db: 0.05, loss_ba_db: 0.07 }),
    cable(700, "g652d"),
    cord(2),
    optic({ sensitivity_dbm: -14, overload_dbm: 0.5 }),
  ]);
  plant = await made.plant();
  await plant.application.close();
  file = join(plant.folder, "campus.strandbook");
});
afterAll(() => endOf(plant)());

describe("strandbook loss", () => {
  it("answers terms as JSON, each with basis and source", async () => {
    const { code, json } = await cli(["loss", file, "F-2:1", "--wavelength", "1310", "--json"]);
    expect(code).toBe(0);
    const { terms, loss_db, as } = json<LossAnswer>();
    expect([as, loss_db]).toEqual(["channel", 2.3416]);
    expect(terms.map(({ kind, basis }) => `${kind} ${basis}`)).toEqual([
      "cord limit",
      "pair limit",
      "pigtail_splice limit",
      "glass limit",
      "splice measured",
      "glass limit",
      "pair limit",
      "cord limit",
    ]);
    for (const { source } of terms) expect(source.length).toBeGreaterThan(10);
  });
  it("prints the terms, the sum, applications, optics and the acceptance limit", async () => {
    const { code, out } = await cli(["loss", file, "F-2:1", "--wavelength", "1310nm"]);
    expect(code).toBe(0);
    expect(out).toMatch(/mated pair at B\/R2\/P2:01\s+0\.75 dB\s+limit/);
    expect(out).toMatch(/sum at 1310 nm\s+2\.342 dB/);
    expect(out).toMatch(/10GBASE-LR\s+yes\s+yes\s+6\.2 dB\s+\d\.\d+ dB/);
    expect(out.replace(/\s+/g, " ")).toContain("6.2 dB: A ministry order on 10GBASE-L; loss restated (second-hand)");
    expect(out).toMatch(/margin\s+3\.658 dB/);
    expect(out).toMatch(/accepted at 1310 nm up to/);
    expect(out).toMatch(/1200 m of glass at 0\.4 dB\/km\s+0\.48 dB; 0\.4 dB\/km: ITU-T G\.652/);
    expect(out).toMatch(/2 end joints at 0\.5 dB\s+1 dB; An instrument maker's note/);
  });
  it("takes the way, the values, the kind of answer and the edition", async () => {
    const words = ["--direction", "b_to_a", "--worst", "typical", "--as", "link", "--edition", "tia_568_3_d"];
    const { json } = await cli(["loss", file, "F-2:1", ...words, "--reference", "two_cords", "--json"]);
    expect(json<LossAnswer>()).toMatchObject({
      direction: "b_to_a",
      worst: "typical",
      as: "link",
      edition: "tia_568_3_d",
      reference_method: "two_cords",
    });
  });
  it("refuses in words what it can't read", async () => {
    const refused = async (...words: string[]) => {
      const { code, notes } = await cli(["loss", file, ...words]);
      return [code, notes.replace(/\s+/g, " ")];
    };
    expect(await refused("F-404:1")).toEqual([1, expect.stringContaining("F-404")]);
    expect(await refused("F-2:1", "--wavelength", "1234")).toEqual([
      1,
      expect.stringContaining("No glass has a value at 1234 nm"),
    ]);
    expect(await refused("F-2:1", "--wavelength", "-5")).toEqual([1, expect.stringContaining("is below 400 nm")]);
    expect(await refused("F-2:1", "--wavelength", "red")).toEqual([
      2,
      expect.stringContaining("--wavelength is a number"),
    ]);
    expect(await refused("F-2:1", "--application", "NONE")).toEqual([
      1,
      expect.stringContaining('an application "NONE"'),
    ]);
    expect(await refused("F-2:1", "--edition", "mine")).toEqual([
      1,
      expect.stringContaining("must be one of tia_568_c_3"),
    ]);
    expect(await refused("F-2")).toEqual([1, expect.stringContaining("name one of its strands")]);
  });
});
