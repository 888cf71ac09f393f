/** From "someone cut the duct between these holes" to a plan: the way, its cables, one cable's ways, and what if more is gone. */
import { describe, expect, it } from "vitest";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { line } from "../repair/line.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, partedTags, SENTENCES, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(line);

describe("a way that is cut", () => {
  it("lists its cables by what is at stake, and each leads to its own plans, cut at the same place", async () => {
    const answer = await journey.plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"], metres: 40 });
    await ask(journey.page, "#/mend?of=W-2&metres=40");
    await journey.page.locator(".mend-plans tbody tr").first().waitFor();
    const told = (await journey.page.locator(".mend-plans tbody tr").allInnerTexts()).map(flat);
    for (const [index, { cable, plans }] of answer.cuts.entries()) {
      expect(told[index]).toContain(cable.tag);
      expect(told[index]).toContain(flat(plans[0]?.sentence ?? "none"));
    }
    await journey.looks();
    await journey.page.locator(".mend-plans").getByRole("link", { name: "F-100", exact: true }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".mend-line").waitFor();
    expect(flat(await shown(journey.page.locator(".mend-drawing")))).toContain("40.0 m from the first");
  });

  it("is asked about by two holes alone, by whoever knows neither duct nor cable, and becomes a job of all", async () => {
    const { page, plant } = journey;
    const between = ["H-1", "H-2"] as const;
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { between, metres: 40 });
    await ask(page, "#/mend?after=H-1&until=H-2&metres=40");
    await page.locator(".mend-plans tbody tr").first().waitFor();
    expect(await page.locator(".mend-plans tbody tr").count()).toBe(answer.cuts.length);
    expect(flat(await shown(page.locator(".mend-plans tbody tr").first()))).toContain("40.0 m from H-1");
    await page.getByRole("link", { name: "Make one job of all" }).click();
    expect(await page.getByLabel("or all between").inputValue()).toBe("H-1, H-2");
    await page.getByRole("button", { name: /^Plan the job, / }).waitFor();
  });

  it("is asked about from the page of the way", async () => {
    await ask(journey.page, "#/pathway?of=W-2");
    await journey.page.locator('a[href*="#/mend?of=W-2"]').first().waitFor();
  });
});

describe("a cable cut somewhere between two holes", () => {
  it("has what a way rests on told once, where the ways stand side by side", async () => {
    const { plans } = await journey.plant.run<MendWhole>("mend.plans", { cable: "F-100", after: "H-1", metres: 40 });
    const words = plans.slice(0, 4).flatMap(({ to_prove }) => to_prove);
    expect(words.length).toBeGreaterThan(0);
    await ask(journey.page, "#/mend?of=F-100&after=H-1&metres=40");
    const rows = journey.page.locator(".mend-plans tbody tr");
    await rows.first().waitFor();
    // Those after the fourth don't stand side by side.
    const ways = (await rows.allInnerTexts()).slice(0, 4).map(flat).join("|");
    const beside = flat(await shown(journey.page.locator(".mend-beside")));
    for (const one of words) {
      expect(ways).not.toContain(flat(one));
      expect(beside).toContain(flat(one));
    }
    expect(ways).toMatch(/\d+ things? to be proved first/);
  });

  it("has its drawing and its ways in the width there is", async () => {
    await ask(journey.page, "#/mend?of=F-100&after=H-1&metres=40");
    await journey.page.locator(".mend-line svg").waitFor();
    for (const part of await journey.page.locator(".mend-ledger, .mend-drawing").all())
      expect(await part.evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)).toBe(0);
  });

  it("is told without a tag that is parted, wherever a line ends", async () => {
    const { page } = journey;
    await ask(page, "#/mend?of=F-100&after=H-1&until=H-2");
    await page.locator(".mend-plans tbody tr").first().waitFor();
    const parted = new Set<string>();
    for (let width = 1000; width <= 1280; width += 8) {
      await page.setViewportSize({ width, height: 800 });
      for (const tag of await partedTags(page, SENTENCES)) parted.add(`${tag} at ${width}`);
    }
    expect([...parted]).toEqual([]);
  });

  it("is asked about by those two, with the keyboard alone, and shows what finding the break would allow", async () => {
    const answer = await journey.plant.run<MendWhole>("mend.plans", { cable: "F-100", between: ["H-1", "H-2"] });
    await ask(journey.page, "#/mend?of=F-100");
    // Whoever goes to look first has the cautions before any answer.
    await journey.page.locator(".caution-line", { hasText: "two independent signs" }).waitFor();
    await journey.page.getByRole("link", { name: "between H-1 and H-2" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".mend-narrowed").waitFor();
    expect(await journey.page.locator(".mend-plans tbody tr").count()).toBe(answer.plans.length);
    const told = (await journey.page.locator(".mend-narrowed tbody tr").allInnerTexts()).map(flat);
    for (const [index, { words }] of answer.narrowed.entries()) expect(told[index]).toContain(words);
    expect(await journey.page.getByRole("slider").count()).toBe(0);
    await journey.looks();
    await journey.page.getByRole("link", { name: "if cut there" }).nth(1).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByText(/80\.0.m from the first/).waitFor();
  });

  it("becomes a job that gives up what lies between them", async () => {
    await ask(journey.page, "#/mend?of=F-100&after=H-1&until=H-2");
    await journey.page.getByRole("link", { name: "Choose way 1" }).click();
    await journey.page.getByText("somewhere between").first().waitFor();
    const between = journey.page.getByLabel("somewhere between");
    expect(await between.inputValue()).toBe("F-100@2, F-100@3");
    await journey.looks();
  });
});

describe("a cable cut somewhere between places with others between them", () => {
  it("has ways that hold wherever it is, no job, and leads by the keyboard to those of each leg", async () => {
    const { page, plant } = journey;
    const answer = await plant.run<MendWhole>("mend.plans", { cable: "F-100", between: ["H-1", "SCI/B01"] });
    await ask(page, "#/mend?of=F-100&after=H-1&until=SCI/B01");
    await page.getByRole("heading", { name: "In which leg is it cut? Look at H-2" }).waitFor();
    expect(await page.locator(".mend-plans tbody tr").count()).toBe(answer.plans.length);
    expect(await page.getByRole("link", { name: /^Choose/ }).count()).toBe(0);
    await journey.looks();
    await page.getByRole("link", { name: "between H-2 and SCI/B01" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("link", { name: "Choose way 1" }).waitFor();
    expect(flat(await shown(page.locator(".mend-drawing")))).toContain("Given up all 100.0 m between them");
  });
});

describe("the plans of one cable", () => {
  it("stand side by side, with hours, stock, losses and what comes first", async () => {
    const answer = await journey.plant.run<MendWhole>("mend.plans", { cable: "F-100", mark: 1200 });
    await ask(journey.page, "#/mend?of=F-100&mark=1200");
    await journey.page.locator(".mend-beside").waitFor();
    const beside = flat(await shown(journey.page.locator(".mend-beside")));
    for (const { sentence, hours } of answer.plans.slice(0, 3)) {
      expect(beside).toContain(flat(sentence));
      expect(beside).toContain(String(hours.hours));
    }
    expect(beside).toContain(flat(answer.temporary.plan?.sentence ?? "no temporary plan"));
    // Which way a column is stays in sight at the end of the page.
    await journey.page.locator(".mend-beside tbody tr").last().scrollIntoViewIfNeeded();
    await journey.page.locator(".mend-ledger").evaluate((ledger) => {
      const last = ledger.querySelector(".mend-beside tbody tr:last-child");
      ledger.scrollTop += (last?.getBoundingClientRect().top ?? 0) - ledger.getBoundingClientRect().top - 60;
    });
    const top = (selector: string) => journey.page.locator(selector).evaluate((one) => one.getBoundingClientRect().top);
    expect(await top(".mend-beside thead th:nth-child(2)")).toBeCloseTo(await top(".mend-ledger"), 0);
    expect(flat(await shown(journey.page.locator(".mend-units li").first()))).toContain(
      "tube 2 orange, strands 13 to 24: K-2",
    );
    expect(await journey.page.locator(".mend-losses tbody tr").count()).toBe(2);
    await journey.looks();
  });

  it("follow the slider of metres destroyed, by arrow keys, which keeps its focus", async () => {
    await ask(journey.page, "#/mend?of=F-100&mark=1200");
    const slider = journey.page.getByRole("slider", { name: "What if more is destroyed?" });
    await slider.focus();
    for (let at = 0; at < 6; at += 1) await journey.page.keyboard.press("ArrowRight");
    await journey.page.waitForURL(/lost=5/);
    await journey.page.getByText(/5\.0.m and 5\.0.m/).waitFor();
    expect(await slider.evaluate((one) => one === document.activeElement)).toBe(true);
    const answer = await journey.plant.run<MendWhole>("mend.plans", {
      cable: "F-100",
      mark: 1200,
      lost_left_m: 5,
      lost_right_m: 5,
    });
    expect(flat(await shown(journey.page.locator(".mend-plans tbody tr").first()))).toContain(
      flat(answer.plans[0]?.sentence ?? ""),
    );
  });

  it("tell what still shines where some strands are dark", async () => {
    await ask(journey.page, "#/mend?of=F-100&mark=1200&dark=OR");
    await journey.page.getByText(/Strands 1-12 still shine/).waitFor();
    expect(flat(await shown(journey.page.locator(".mend-beside")))).toContain("takes down what still shines");
    await journey.looks();
  });
});

describe("a way in which another's cable is cut with ours", () => {
  it("has whom to call above the cables of ours, and what one job takes below them", async () => {
    const { plant, page } = journey;
    await plant.run("record.add", {
      kind: "party",
      values: { tag: "ISLES", name: "Outer Isles Exchange", role: "carrier", contact_night: "harbour watch" },
    });
    await plant.run("record.edit", { kind: "cable", id: "F-101", values: { owner_id: "ISLES" } });
    const { one_job, together } = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"] });
    await ask(page, "#/mend?of=W-2");
    const ledger = flat(await shown(page.locator(".mend-ledger")));
    expect(ledger).toMatch(
      /Not ours to mend: call first .* F-101 Outer Isles Exchange, ISLES not on record harbour watch/,
    );
    expect(await page.locator(".mend-plans tbody tr").count()).toBe(1);
    expect(ledger).toContain(flat(together[0]?.way.sentence ?? "none"));
    expect(ledger.indexOf("Not ours")).toBeLessThan(ledger.indexOf("F-100"));
    expect(await page.locator(".mend-turns tbody tr").count()).toBe(one_job.turns.length);
    await journey.looks();
  });

  it("offers no way for that cable, only whom to call", async () => {
    await ask(journey.page, "#/mend?of=F-101&after=H-1&until=H-2");
    await journey.page.getByText("Not ours to mend: call first").waitFor();
    expect(await journey.page.getByRole("link", { name: /^Choose way/ }).count()).toBe(0);
    expect(await journey.page.locator(".mend-plans").count()).toBe(0);
    await journey.looks();
  });
});
