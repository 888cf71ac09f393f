import { describe, expect, it } from "vitest";
import { factWords, isSaid } from "../../core/check/fact-words.ts";
import type { CheckAnswer } from "../../core/check/finding.ts";
import { RULES } from "../../core/check/rules.ts";
import { campus } from "./campus.ts";
import { FIXTURES } from "./fixtures/all.ts";

/** Names of the rules that say more than that something is not known, or could be better. */
const serious = ({ findings }: CheckAnswer): string[] => [
  ...new Set(findings.filter(({ severity }) => !["gap", "advice"].includes(severity)).map(({ rule }) => rule)),
];

describe("the campus of these tests", () => {
  it("has nothing to be found", async () => {
    const plant = await campus();
    expect((await plant.check()).findings.map(({ sentence }) => sentence)).toEqual([]);
  });
});

describe("every rule", () => {
  it("has a plant in which it fires and one in which it doesn't", () => {
    expect([...new Set(FIXTURES.map(({ rule }) => rule))].toSorted()).toEqual(RULES.map(({ name }) => name).toSorted());
  });
});

describe.each(FIXTURES)("$rule", ({ rule, fires, make, says, silent, spare }) => {
  it(`fires, and nothing else: ${fires}`, async () => {
    const plant = await campus();
    await make(plant);
    const report = await plant.check();
    const own = report.findings.filter((finding) => finding.rule === rule);
    expect(own.map(({ sentence }) => sentence)).toEqual(says);
    const { severity } = RULES.find(({ name }) => name === rule) as (typeof RULES)[number];
    expect(serious(report)).toEqual(severity === "gap" || severity === "advice" ? [] : [rule]);
    expect(report.passes).toBe(severity !== "hazard" && severity !== "error");
    expect(new Set(own.map(({ key }) => key)).size).toBe(own.length);
    for (const { records, count, facts } of own) {
      const names = Object.entries(facts).flatMap(([name, value]) =>
        name === "found" ? (value as object[]).flatMap(Object.keys) : [name],
      );
      expect(
        names.filter((one) => !isSaid(one)),
        "facts without words",
      ).toEqual([]);
      expect(factWords(facts), "facts said as keys").not.toMatch(/[a-z]_[a-z]/);
      expect(records.length).toBeGreaterThan(0);
      expect(count).toBeGreaterThan(0);
    }
  });

  it(`says nothing: ${silent}`, async () => {
    const plant = await campus();
    await spare(plant);
    const report = await plant.check();
    expect(report.findings.filter((finding) => finding.rule === rule)).toEqual([]);
    expect(serious(report)).toEqual([]);
  });
});
