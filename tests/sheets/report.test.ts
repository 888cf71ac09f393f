/** The consistency report on paper: nothing of it is lost, and it says what it rests on. */
import { beforeAll, describe, expect, it } from "vitest";
import { type CheckAnswer, SEVERITIES } from "../../core/check/finding.ts";
import { newCampus } from "../journeys/support/campus.ts";
import type { TestPlant } from "../support/plant.ts";
import { printedBack } from "./case-plant.ts";

let plant: TestPlant;
let report: CheckAnswer;
beforeAll(async () => {
  plant = await newCampus();
  const [first] = (await plant.run<CheckAnswer>("check.run", {})).findings.filter(
    ({ severity }) => severity === "error",
  );
  await plant.run("exception.accept", {
    ...{ rule: first?.rule, key: first?.key, reason: "Seen by day, to be mended", review_on: "2030-05-01" },
  });
  report = await plant.run<CheckAnswer>("check.run", {});
});
const squeezed = (text: string): string => text.replace(/[\s`]+/g, "");

describe("a consistency report on paper", () => {
  it("has every open finding with its reason and source, the most severe first", async () => {
    const text = squeezed((await printedBack(plant, "paper.report", {})).text);
    const open = report.findings.filter(({ exception }) => !exception?.holds);
    expect(new Set(open.map(({ severity }) => severity)).size).toBeGreaterThan(2);
    let from = 0;
    for (const severity of SEVERITIES) {
      const own = open.filter((finding) => finding.severity === severity);
      for (const { sentence, rule } of own) {
        const found = text.indexOf(squeezed(sentence), from);
        expect([severity, sentence, found >= 0]).toEqual([severity, sentence, true]);
        const { why, source } = report.rules.find(({ name }) => name === rule) as CheckAnswer["rules"][number];
        for (const words of [why, source]) expect(text).toContain(squeezed(words));
      }
      if (own[0]) from = text.indexOf(squeezed(own[0].sentence), from);
    }
  });

  it("says the reason of a rule once, above all its findings", async () => {
    const text = squeezed((await printedBack(plant, "paper.report", {})).text);
    const open = report.findings.filter(({ exception }) => !exception?.holds);
    const many = report.rules.filter(({ name }) => open.filter(({ rule }) => rule === name).length > 1);
    expect(many.length).toBeGreaterThan(0);
    for (const { why } of many) expect([why, text.split(squeezed(why)).length - 1]).toEqual([why, 1]);
  });

  it("lists what was accepted with reason, name and day to look again, apart from what is open", async () => {
    const text = squeezed((await printedBack(plant, "paper.report", {})).text);
    const [accepted] = report.findings.filter(({ exception }) => exception?.holds);
    const head = text.indexOf("Accepted(1)");
    expect(head).toBeGreaterThan(0);
    for (const words of [accepted?.sentence ?? "", "Seen by day, to be mended", "Test Person", "1 May 2030"])
      expect(text.indexOf(squeezed(words), head)).toBeGreaterThan(head);
    expect(text.slice(0, head)).not.toContain(squeezed(accepted?.sentence ?? "nothing"));
  });

  it("states the whole content hash, the version of the rules, and each policy, set or not", async () => {
    const text = squeezed((await printedBack(plant, "paper.report", {})).text);
    expect(report.content_hash).toMatch(/^[0-9a-f]{32,}$/);
    for (const words of [report.content_hash, report.rules_version, ...Object.keys(report.policies)])
      expect(text).toContain(squeezed(words));
    expect(Object.values(report.policies)).toContain(null);
    expect(text).toContain("notset:therulesthatneeditareoff");
  });

  it("says of a part that it is one, with the verdict on that part", async () => {
    const { text } = await printedBack(plant, "paper.report", { severities: ["advice"] });
    const flat = text.replace(/\s+/g, " ");
    expect(flat).toContain("the severity advice");
    expect(flat).toContain("Verdict on this part");
    expect(flat).not.toContain("Errors: two records");
  });

  it("is the same from the same record on the same day, byte for byte", async () => {
    const [one, other] = [await plant.run("paper.report", {}), await plant.run("paper.report", {})];
    expect(other).toEqual(one);
  });
});
