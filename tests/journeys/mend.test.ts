/** From "someone cut the duct between these holes" to a plan: the way, its cables, one cable's ways, and what if more is gone. */
import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { MendSeveralAnswer, MendWhole } from "../../core/repair/answer.ts";
import { line } from "../repair/line.ts";
import type { TestPlant } from "../support/plant.ts";
import { axeFindings, flat, overflow, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await line();
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());
afterEach(() => expect(open.complaints.filter((words) => !words.includes("400"))).toEqual([]));

const looks = async (): Promise<void> => {
  for (const theme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme: theme });
    expect(await axeFindings(page)).toEqual([]);
  }
  for (const size of Object.values(SIZES)) {
    await page.setViewportSize(size);
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
  }
  await page.setViewportSize(SIZES.laptop);
};

describe("a way that is cut", () => {
  it("lists its cables by what is at stake, and each leads to its own plans, cut at the same place", async () => {
    const answer = await plant.run<MendSeveralAnswer>("mend.several", { of: ["W-2"], metres: 40 });
    await ask(page, "#/mend?of=W-2&metres=40");
    await page.locator(".mend-plans tbody tr").first().waitFor();
    const told = (await page.locator(".mend-plans tbody tr").allInnerTexts()).map(flat);
    for (const [index, { cable, plans }] of answer.cuts.entries()) {
      expect(told[index]).toContain(cable.tag);
      expect(told[index]).toContain(flat(plans[0]?.sentence ?? "none"));
    }
    await looks();
    await page.getByRole("link", { name: "F-100", exact: true }).last().focus();
    await page.keyboard.press("Enter");
    await page.locator(".mend-line").waitFor();
    expect(flat(await shown(page.locator(".mend-drawing")))).toContain("40.0 m from the first");
  });

  it("is asked about from the page of the way", async () => {
    await ask(page, "#/pathway?of=W-2");
    await page.locator('a[href*="#/mend?of=W-2"]').first().waitFor();
  });
});

describe("the plans of one cable", () => {
  it("stand side by side, with hours, stock, losses and what comes first", async () => {
    const answer = await plant.run<MendWhole>("mend.plans", { cable: "F-100", mark: 1200 });
    await ask(page, "#/mend?of=F-100&mark=1200");
    await page.locator(".mend-beside").waitFor();
    const beside = flat(await shown(page.locator(".mend-beside")));
    for (const { sentence, hours } of answer.plans.slice(0, 3)) {
      expect(beside).toContain(flat(sentence));
      expect(beside).toContain(String(hours.hours));
    }
    expect(beside).toContain(flat(answer.temporary.plan?.sentence ?? "no temporary plan"));
    expect(flat(await shown(page.locator(".mend-units li").first()))).toContain("tube 2 orange, strands 13 to 24: K-2");
    expect(await page.locator(".mend-losses tbody tr").count()).toBe(2);
    await looks();
  });

  it("follow the slider of metres destroyed, by arrow keys, which keeps its focus", async () => {
    await ask(page, "#/mend?of=F-100&mark=1200");
    const slider = page.getByRole("slider", { name: "What if more is destroyed?" });
    await slider.focus();
    for (let at = 0; at < 6; at += 1) await page.keyboard.press("ArrowRight");
    await page.waitForURL(/lost=5/);
    await page.getByText(/5\.0.m and 5\.0.m/).waitFor();
    expect(await slider.evaluate((one) => one === document.activeElement)).toBe(true);
    const answer = await plant.run<MendWhole>("mend.plans", {
      cable: "F-100",
      mark: 1200,
      lost_left_m: 5,
      lost_right_m: 5,
    });
    expect(flat(await shown(page.locator(".mend-plans tbody tr").first()))).toContain(
      flat(answer.plans[0]?.sentence ?? ""),
    );
  });

  it("tell what still shines where some strands are dark", async () => {
    await ask(page, "#/mend?of=F-100&mark=1200&dark=OR");
    await page.getByText(/Strands 1-12 still shine/).waitFor();
    expect(flat(await shown(page.locator(".mend-beside")))).toContain("takes down what still shines");
    await looks();
  });
});
