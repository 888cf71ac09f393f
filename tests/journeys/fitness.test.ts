/** The engineer asks whether a cable belongs where it lies, and whether one would fit before it is bought. Keyboard only. */

import type { Route } from "playwright";
import { describe, expect, it } from "vitest";
import type { FitnessAnswer, WouldFitAnswer } from "../../core/fitness/answer.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

const told = (input: object = { what: "F-033" }) => journey.plant.run<FitnessAnswer>("fitness.of", input);
const sentence = () => shown(journey.page.locator(".answer"));
const rows = async () => (await journey.page.locator(".verdicts tbody tr").allInnerTexts()).map(flat);

describe("whether a cable belongs where it lies", () => {
  it("is asked from the search", async () => {
    await journey.page.keyboard.press("Control+k");
    await journey.page.keyboard.type("F-033");
    await journey.page
      .getByRole("option", { name: /Does it belong where it lies/ })
      .first()
      .waitFor();
    await ask(journey.page, "#/fitness?of=F-033");
    await journey.page.locator(".fitness-matrix").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toBe(
      "Does F-033 belong where it lies, in every place and way ?",
    );
    expect(await sentence()).toBe((await told()).sentence);
  });

  it("tells every verdict, the worst first, with what to do", async () => {
    const { verdicts } = await told();
    const lines = await rows();
    expect(lines.length).toBe(verdicts.length);
    for (const [index, { fact, remedy }] of verdicts.entries()) {
      expect(lines[index]).toContain(flat(fact.replaceAll("`", "")));
      if (remedy) expect(lines[index]).toContain(flat(remedy.replaceAll("`", "")));
    }
    // Its armour has no bond on record in either building: a person may be hurt.
    expect(lines[0]).toMatch(/^does not fit metal and bonding .*no bond on record/);
  });

  it("draws along the cable where each rule was asked, in words too", async () => {
    const heads = await journey.page.locator(".fitness-matrix thead th").allInnerTexts();
    const row = journey.page.locator(".fitness-matrix tbody tr", { hasText: "metal and bonding" });
    const cells = await row
      .locator("td")
      .evaluateAll((all) => all.map((one) => one.querySelector("button")?.ariaLabel));
    expect(cells[heads.indexOf("FDY/0E")]).toBe("does not fit");
    expect(cells[heads.indexOf("KLN/0E")]).toBe("does not fit");
    expect(cells[heads.indexOf("DB-5/1")]).toBeUndefined();
  });

  it("walks the verdicts with the arrows; the leaf tells rule, source and numbers, after the caution", async () => {
    const { verdicts, caution } = await told();
    const at = verdicts.findIndex(({ figures }) => figures.length > 1);
    const one = verdicts[at];
    if (!one) throw new Error("no verdict with numbers");
    await journey.page.locator('.verdicts tr[tabindex="0"]').focus();
    for (let step = 0; step < at; step++) await journey.page.keyboard.press("ArrowDown");
    await journey.page.locator(`.verdicts tr[aria-selected="true"]:nth-child(${at + 1})`).waitFor();
    const leaf = await shown(journey.page.locator(".leaf"));
    expect(leaf.startsWith(flat(caution))).toBe(true);
    expect(leaf).toContain(flat(one.rule_words));
    expect(leaf).toContain(flat(one.source));
    for (const { words, source } of one.figures) {
      expect(leaf).toContain(flat(words));
      expect(leaf).toContain(flat(source));
    }
    for (const words of one.lacks) expect(leaf).toContain(flat(words.replaceAll("`", "")));
  });

  it("is narrowed to one way by the second blank", async () => {
    await journey.page
      .getByRole("button", { name: "Choose every place and way" })
      .or(journey.page.getByRole("button", { name: "every place and way: choose another" }))
      .first()
      .focus();
    await journey.page.keyboard.type("DB-5");
    await journey.page.getByRole("option", { name: /DB-5/ }).first().waitFor();
    await journey.page.keyboard.press("Enter");
    const part = await told({ what: "F-033", at: "DB-5" });
    await journey.page.waitForFunction(
      (count) => document.querySelectorAll(".verdicts tbody tr").length === count,
      part.verdicts.length,
    );
    expect(part.verdicts.length).toBeLessThan((await told()).verdicts.length);
    expect(await sentence()).toBe(part.sentence);
  });

  it("leads to the cable drawn, and the cable's page leads here", async () => {
    await journey.page.getByRole("link", { name: "See it drawn" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".matrix").waitFor();
    // Its stops and legs tell the worst that was found there.
    const tables = journey.page.locator(".course-table");
    await tables.getByRole("link", { name: "does not fit: metal and bonding" }).first().waitFor();
    const legs = (await tables.last().locator("tbody tr").allInnerTexts()).map(flat);
    expect(legs.length).toBe(3);
    for (const leg of legs) expect(leg).toMatch(/ (fits|(does not fit|wants care|can't tell): [\w ]+)$/);
    await journey.page.getByRole("link", { name: "Does it belong where it lies?" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".fitness-matrix").waitFor();
  });
});

describe("whether a cable would fit before it is bought", () => {
  const wouldFit = (...way: string[]) =>
    journey.plant.run<WouldFitAnswer>("fitness.would_fit", { way, cable_type: "LT-OS2" });

  it("is asked by filling both blanks, the ways one after the other", async () => {
    await ask(journey.page, "#/fit");
    await journey.page.locator(".teach").waitFor();
    await journey.page.getByRole("button", { name: "Choose a data sheet" }).focus();
    await journey.page.keyboard.type("LT-OS2");
    await journey.page
      .getByRole("option", { name: /LT-OS2/ })
      .first()
      .waitFor();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "LT-OS2: choose another" }).waitFor();
    for (const [tag, blank] of [
      ["DB-5", "Choose ways, one after the other"],
      ["DB-6", "DB-5: choose another"],
    ] as const) {
      await journey.page.getByRole("button", { name: blank }).focus();
      await journey.page.keyboard.type(tag);
      await journey.page
        .getByRole("option", { name: new RegExp(tag) })
        .first()
        .waitFor();
      await journey.page.keyboard.press("Enter");
    }
    await journey.page.getByRole("button", { name: "DB-5, DB-6: choose another" }).waitFor();
    await journey.page.locator(".fit-order").waitFor();
    const answer = await wouldFit("DB-5", "DB-6");
    await journey.page.waitForFunction(
      (words) => document.querySelector(".answer")?.textContent?.includes(words),
      "DB-6",
    );
    expect(await sentence()).toBe(flat(answer.sentence));
    expect((await rows()).length).toBe(answer.verdicts.length);
  });

  it("takes an Enter that came before its list, though the focus went on meanwhile", async () => {
    const { page } = journey;
    await ask(page, "#/fit");
    let gone = () => {};
    const goneOn = new Promise<void>((resolve) => {
      gone = resolve;
    });
    const slow = async (route: Route) => {
      await goneOn;
      await route.continue();
    };
    await page.route("**/call", slow);
    await page.getByRole("button", { name: "Choose a data sheet" }).focus();
    await page.keyboard.type("LT-OS2");
    await page.keyboard.press("Enter");
    const next = page.getByRole("button", { name: "Choose ways, one after the other" });
    await next.focus();
    gone();
    await page.getByRole("button", { name: "LT-OS2: choose another" }).waitFor();
    expect(await next.evaluate((button) => button === document.activeElement)).toBe(true);
    await page.unroute("**/call", slow);
    await ask(page, "#/fit?type=LT-OS2&ways=DB-5%20%2B%20DB-6");
  });

  it("tells the length to order part by part, each with its source", async () => {
    const { order } = await wouldFit("DB-5", "DB-6");
    const lines = (await journey.page.locator(".fit-order tbody tr").allInnerTexts()).map(flat);
    expect(lines.length).toBe(order.parts.length + 1);
    for (const [index, { words, source }] of order.parts.entries()) {
      expect(lines[index]).toContain(flat(words));
      expect(lines[index]).toContain(flat(source));
    }
    // How the cable turns in the hand hole is not on record, so the sum is not the whole, and says so.
    expect(order.length_m).toBeNull();
    expect(lines.at(-1)).toMatch(/^at least \d+ m Not on record: the way through it, of HH-12$/);
  });

  it("takes the pipe into account that is named", async () => {
    await ask(journey.page, "#/fit?type=LT-OS2&ways=DB-5/1");
    const { verdicts } = await wouldFit("DB-5/1");
    await journey.page.waitForFunction(
      (count) => document.querySelectorAll(".verdicts tbody tr").length === count,
      verdicts.length,
    );
    expect((await rows()).some((line) => line.includes("fill of the pipe DB-5/1 is"))).toBe(true);
  });
});

describe("lengths", () => {
  it("are told in feet where that is wanted, in sentences and numbers", async () => {
    const run = (name: string, input: object) => journey.plant.run(name, input);
    await run("record.edit", { kind: "pathway", id: "DB-5", values: { depth_m: 0.6 } });
    await run("record.add", {
      kind: "limit_value",
      values: { tag: "depth.least", value: 0.9, unit: "m", source: "Harbour rule", reason: "ours" },
    });
    await ask(journey.page, "#/fitness?of=F-033");
    const row = journey.page.locator(".verdicts tbody tr", { hasText: "is asked" }).first();
    await row.click();
    expect(await shown(row)).toContain("DB-5 lies at 0.6 m; 0.9 m is asked.");
    await journey.page.getByRole("button", { name: "metres" }).click();
    await journey.page.getByRole("button", { name: "feet" }).waitFor();
    // 0.6 / 0.3048 and 0.9 / 0.3048.
    expect(await shown(row)).toContain("DB-5 lies at 2.0 ft; 3.0 ft is asked.");
    expect(await shown(journey.page.locator(".verdict-figures"))).toContain("3.0 ft");
    await journey.page.getByRole("button", { name: "feet" }).click();
  });
});

describe("ways that don't meet", () => {
  it("are refused by name, and the blanks stay to be filled otherwise", async () => {
    await ask(journey.page, "#/fit?type=LT-OS2&ways=DB-2 %2B DB-6");
    await journey.page.locator(".refused").waitFor();
    expect(await shown(journey.page.locator(".refused"))).toContain("DB-6 doesn't begin where DB-2 ends");
    await journey.page.getByRole("button", { name: "DB-2, DB-6: choose another" }).waitFor();
  });
});
