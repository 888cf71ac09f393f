/**
 * A cable's sheet on a plant whose numbers are worked by hand. F-033 is marked in feet (one foot is 0.3048 m exactly,
 * NIST SP 811 appendix B), passes HH-11 (opened, 73 to 96 cut there) and HH-12, and ends in FDY and KLN.
 */
import { beforeAll, describe, expect, it } from "vitest";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import { newCampus } from "../journeys/support/campus.ts";
import type { TestPlant } from "../support/plant.ts";

const FOOT = 0.3048;
const metres = (feet: number): number => Math.round(feet * FOOT * 1000) / 1000;

let plant: TestPlant;
let sheet: CableAnswer;

beforeAll(async () => {
  plant = await newCampus();
  sheet = await plant.run<CableAnswer>("cable.show", { cable: "F-033" });
});

describe("the course of a cable with marks in feet", () => {
  it("has its stops in order with the marks as printed", () => {
    expect(sheet.stops.map(({ record, kind, marks }) => [record.tag, kind, marks])).toEqual([
      ["F-033@1", "end", [2084, 2133]],
      ["F-033@2", "opened", [3912, 3978]],
      ["F-033@3", "passing", [4655, 4655]],
      ["F-033@4", "end", [6054, 6087]],
    ]);
  });

  it("measures each leg between the marks that face each other", () => {
    expect(sheet.legs.map(({ length_m }) => length_m)).toEqual([metres(1779), metres(677), metres(1399)]);
    expect(sheet.legs.map(({ length_from }) => length_from)).toEqual(["marks", "marks", "marks"]);
    expect(sheet.legs.map(({ conduit }) => conduit?.tag)).toEqual(["DB-4/1", "DB-5/1", "DB-6/1"]);
  });

  it("places each stop by what lies before it, coils of passed places included", () => {
    const at = sheet.stops.map(({ at_m }) => at_m);
    expect(at).toEqual([0, metres(1779), metres(1779 + 66 + 677), metres(1779 + 66 + 677 + 0 + 1399)]);
  });

  it("finds what is stored at an end up to its tip, and nothing where the two marks are one", () => {
    expect(sheet.stops[0]?.coil_m).toBe(metres(49));
    expect(sheet.stops[3]?.coil_m).toBe(metres(33));
    expect(sheet.stops[2]?.coil_m).toBe(0);
  });

  it("doesn't call all of 66 ft in a hole a coil while the way through it isn't known", () => {
    expect(sheet.stops[1]).toMatchObject({ inside_m: metres(66), coil_m: null });
    expect(sheet.coils_m).toBeNull();
  });
});

describe("the inside of a cable", () => {
  it("has its tubes in order, coloured by TIA-598: tube 8 black, its second strand 86 orange", () => {
    expect(sheet.units).toHaveLength(8);
    expect(sheet.units[7]?.layers.map(({ words }) => words)).toEqual(["tube 8 black"]);
    const strand = sheet.units[7]?.strands[1];
    expect(strand?.number).toBe(86);
    expect(strand?.colours.at(-1)?.words).toBe("strand 2 orange");
  });

  it("tells each half of a cut strand apart: the left bare half is dead, the spliced one is given", () => {
    const strand = sheet.units[6]?.strands[0];
    expect(strand?.strand.tag).toBe("F-033:73");
    expect(strand?.sections.map(({ section, state, from, to }) => [section.tag, state, from, to])).toEqual([
      ["F-033:73#1", "dead", 0, 1],
      ["F-033:73#2", "in_service", 1, 3],
    ]);
    expect(sheet.cut).toBe(24);
    expect(sheet.stops.map(({ cut }) => cut)).toEqual([0, 24, 0, 0]);
  });

  it("says why a strand is not as it should be", () => {
    const strands = sheet.units.flatMap((unit) => unit.strands);
    expect(strands[35]?.sections[0]).toMatchObject({ state: "broken", why: "reads dark from both ends" });
    expect(strands[70]?.sections[0]?.state).toBe("assigned_twice");
    expect(strands[70]?.sections[0]?.circuits.map(({ tag }) => tag)).toEqual(["K-088", "K-140"]);
  });
});

describe("what is said of it", () => {
  it("is one sentence with ends, length and cuts", () => {
    expect(sheet.sentence).toMatch(/^A cable of 96 strands from Foundry to Kiln Hall, /);
    expect(sheet.sentence).toMatch(/72 strands run through; 24 cut at HH-11\.$/);
  });

  it("cautions about metal, which its type has", () => {
    expect(sheet.cautions.join(" ")).toMatch(/lightning/);
    expect(sheet.armoured).toBe(true);
  });

  it("refuses a cable that isn't on record by naming one that comes close", async () => {
    const reply = await plant.call("cable.show", { cable: "F-034" });
    expect(reply.ok).toBe(false);
    if (!reply.ok) expect(reply.error.code).toBe("not_found");
  });
});

describe("a cable without marks", () => {
  it("is measured by its pathways, and says so", async () => {
    const other = await plant.run<CableAnswer>("cable.show", { cable: "F-040" });
    expect(other.legs.map(({ length_m, length_from }) => [length_m, length_from])).toEqual([
      [300, "pathway"],
      [634, "pathway"],
    ]);
    expect(other.stops[1]?.coil_m).toBe(15);
  });
});
