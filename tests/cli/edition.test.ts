import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant } from "../support/plant.ts";
import { cli } from "./support.ts";

/** A plant's file that nobody has open. */
async function aFile(): Promise<string> {
  const plant = await newPlant();
  await plant.application.close();
  return join(plant.folder, "campus.strandbook");
}

const inUse = async (file: string) =>
  (await cli(["edition", file, "--json"])).json<AnswerOf<"standards.limits">["acceptance"]>();

describe("strandbook edition", () => {
  it("tells the one in use and those to choose from", async () => {
    const { code, out } = await cli(["edition", await aFile()]);
    expect(code).toBe(0);
    expect(out).toMatch(/accepted by\s+TIA-568\.3-E\n/);
    expect(out).toMatch(/iso_14763_3_2015\s+ISO\/IEC 14763-3:2014, corrected 2015/);
  });

  it("chooses one with its reason, which undo takes back", async () => {
    const file = await aFile();
    const said = await cli(["edition", file, "TIA_568_3_D", "--reason", "the contract names it"]);
    expect([said.code, said.notes]).toEqual([0, ""]);
    expect(await inUse(file)).toMatchObject({ edition: "tia_568_3_d", own: true, reason: "the contract names it" });
    expect((await cli(["edition", file, "tia_568_c_3", "--reason", "an older wing"])).code).toBe(0);
    expect(await inUse(file)).toMatchObject({ edition: "tia_568_c_3", reason: "an older wing" });
    await cli(["undo", file]);
    expect(await inUse(file)).toMatchObject({ edition: "tia_568_3_d", reason: "the contract names it" });
    expect((await cli(["edition", file, "--take-back"])).code).toBe(0);
    expect(await inUse(file)).toMatchObject({ edition: "tia_568_3_e", own: false, record: null });
  });

  it("refuses one without a reason, one that is not on the list, and taking back what was never chosen", async () => {
    const file = await aFile();
    const refused = async (...words: string[]) => {
      const { code, notes } = await cli(["edition", file, ...words]);
      return [code, notes];
    };
    expect(await refused("tia_568_3_d")).toEqual([2, expect.stringContaining("--reason is missing")]);
    expect(await refused("ours", "--reason", "x")).toEqual([2, expect.stringContaining('No edition is called "ours"')]);
    expect(await refused("--take-back")).toEqual([2, expect.stringContaining("nothing to take back")]);
    expect(await inUse(file)).toMatchObject({ own: false, record: null });
  });
});
