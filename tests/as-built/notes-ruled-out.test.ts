/** Crews' lines that the record rules out: kept as told or refused, each with its reason, and never passed over. */
import { describe, expect, it } from "vitest";
import type { NotesRehearsal } from "../../core/as-built/notes/rehearse.ts";
import type { TestPlant } from "../support/plant.ts";
import { sheetPlant } from "./plant.ts";

const notes = (plant: TestPlant, text: string, more: object = {}): Promise<NotesRehearsal> =>
  plant.run<NotesRehearsal>("notes.rehearse", { text, ...more });

describe("strands that are said to run through a place", () => {
  const at = async (text: string, place: string) => (await notes(await sheetPlant(), text, { at: place })).lines[0];

  it("are kept as told where their cable doesn't come there on record: it is no line that says nothing new", async () => {
    expect(await at("F-014 GR express", "MH-07")).toMatchObject({
      fate: "told",
      problems: [{ reason: "says F-014:25-36 runs through; F-014 doesn't stop in MH-07 on record" }],
    });
  });

  it("are kept as told where their cable ends there", async () => {
    expect(await at("F-014 GR express", "LIB/101")).toMatchObject({
      fate: "told",
      problems: [{ reason: "says F-014:25-36 runs through; F-014 ends in LIB/101 on record" }],
    });
  });
});

describe("a line of which the record rules out every reading", () => {
  it("is refused with the reason of each, and can be kept as told", async () => {
    const plant = await sheetPlant();
    await plant.run("cable.enter", {
      tag: "F-050",
      mark_unit: "m",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [
        { space: "LIB/101", mark_out: 100 },
        { space: "MH-03", mark_in: 200, mark_out: 210 },
        { space: "SCI/B01", mark_in: 400 },
      ],
    });
    const text = "F-050 IN 900 OUT 910 MH-07";
    const { lines: read, open } = await notes(plant, text);
    expect(open).toBe(0);
    expect(read[0]).toMatchObject({
      fate: "refused",
      ways: [],
      words: "No way to read it fits the record",
      problems: [
        {
          record: expect.stringContaining("between LIB/101 and MH-03"),
          reason: expect.stringMatching(/^can't be: .*marks/),
        },
        {
          record: expect.stringContaining("between MH-03 and SCI/B01"),
          reason: expect.stringMatching(/^can't be: .*marks/),
        },
      ],
    });
    expect((await notes(plant, text, { tell: [1] })).lines[0]?.fate).toBe("told");
  });
});
