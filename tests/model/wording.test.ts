import { describe, expect, it } from "vitest";
import { KINDS, type KindName } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { shownDay, shownValue } from "../../core/model/wording.ts";

const shown = (kind: KindName, name: string, value: unknown): string | null => {
  const field = (KINDS[kind].fields as Readonly<Record<string, Field>>)[name];
  if (!field) throw new Error(`${kind} has no ${name}`);
  return shownValue(field, value, (id) => `record ${id}`);
};

describe("values as people read them", () => {
  it.each([
    ["cable", "name", "Main ring", "Main ring"],
    ["cable", "name", null, null],
    ["space", "reach_m", 4.5, "4.5 m"],
    ["splice", "loss_ab_db", -0.03, "-0.03 dB"],
    ["measurement", "wavelength_nm", 1310, "1310 nm"],
    ["building", "latitude", 52.01, "52.01°"],
    ["strand", "number", 25, "25"],
    ["cable", "installed_on", "2026-04-03", "3 Apr 2026"],
    ["cable", "life", "in_place", "in place"],
    ["space", "hazards", "gas confined", "gas, confined space"],
    ["space", "building_id", 3, "record 3"],
    ["label", "subject_kind", "module_join", "join in a module"],
    ["label", "subject_id", 9, "record 9"],
    ["cable_type", "unit_colours", '["blue","orange"]', "blue, orange"],
    ["pathway", "geometry", "[[1,2],[3,4]]", "2 points"],
    ["cable", "mark_breaks", '[{"at_mark":9999,"jumps_to":0}]', "9999 → 0"],
    [
      "cable",
      "differs",
      '{"armour":"metallic","strand_colours":["red","blue"]}',
      "armour: metallic; strand colours: red, blue",
    ],
    ["plant", "tag_patterns", '{"cable":["F-###"]}', "cable: F-###"],
  ] as const)("%s.%s %j is %j", (kind, name, value, words) => {
    expect(shown(kind, name, value)).toBe(words);
  });
  it("long lists say how many more", () => {
    const names = Array.from({ length: 15 }, (_, i) => `c${i}`);
    expect(shown("cable_type", "unit_colours", JSON.stringify(names))).toMatch(/c11 and 3 more$/);
  });
  it("have no leading zero in days", () => {
    expect(shownDay("2026-12-01")).toBe("1 Dec 2026");
  });
});
