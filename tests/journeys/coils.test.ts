/** Before anything is cut: which cables coils would not mend, how urgent that is, and what would cure it. Keyboard only. */

import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { axeFindings, flat, overflow, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await newCampus();
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());
// A refused question is told by its status as well.
afterEach(() => expect(open.complaints.filter((words) => !/400|404/.test(words))).toEqual([]));

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

const detail = async (): Promise<string> => flat(await shown(page.locator(".coils-detail")));

describe("the whole plant", () => {
  it("is ranked by what a cut takes down, and the cable pointed at is told stretch by stretch", async () => {
    const answer = await plant.run<CoilsAnswer>("coils.study", {});
    expect(answer.cables.length).toBeGreaterThan(2);
    await ask(page, "#/coils");
    await page.locator(".coils-cables tbody tr").first().waitFor();
    expect(await shown(page.locator(".answer"))).toBe(flat(answer.sentence));
    const rows = (await page.locator(".coils-cables tbody tr").allInnerTexts()).map(flat);
    expect(rows.map((row) => row.split(" ")[0])).toEqual(answer.cables.map(({ cable }) => cable.tag));
    await page.locator('.coils-cables tr[tabindex="0"]').focus();
    await page.keyboard.press("End");
    const last = answer.cables.at(-1);
    await page.locator("#coils-stretches", { hasText: last?.cable.tag ?? "-" }).waitFor();
    const told = await detail();
    for (const { why, cure } of last?.stretches ?? []) {
      expect(told).toContain(flat(why));
      expect(told).toContain(flat(cure));
    }
    for (const { words } of answer.places) expect(told).toContain(words);
    const leaf = flat(await shown(page.locator(".leaf")));
    for (const words of [...answer.cautions, ...answer.assumed]) expect(leaf).toContain(flat(words));
    await looks();
  });
});

describe("one cable", () => {
  it("is drawn with its open stretches in words too, and leads to how such a cut is mended", async () => {
    const answer = await plant.run<CoilsAnswer>("coils.study", { of: "F-033" });
    const [first] = answer.cables[0]?.stretches ?? [];
    await ask(page, "#/coils?of=F-033");
    const drawing = page.locator(".coils-drawing > div > svg");
    await drawing.waitFor();
    expect(await drawing.getAttribute("aria-label")).toContain(`from ${first?.from.words} to ${first?.to.words}`);
    await looks();
    const link = page.getByRole("link", { name: /how mended\? F-033, cut between/ }).first();
    await link.focus();
    await page.keyboard.press("Enter");
    await page.locator(".mend-plans tbody tr").first().waitFor();
    expect(await shown(page.locator(".answer"))).toContain("F-033 is cut between");
  });

  it("with other metres lost is reckoned anew", async () => {
    const answer = await plant.run<CoilsAnswer>("coils.study", { of: "F-033", lost_m: 20 });
    await ask(page, "#/coils?of=F-033&lost=20");
    await page.locator(".coils-cables tbody tr").first().waitFor();
    expect(await shown(page.locator(".answer"))).toBe(flat(answer.sentence));
    expect(flat(await shown(page.locator(".coils-table tbody tr")))).toContain("20.0 m beyond");
  });

  it("that isn't there, and metres that are none, are refused in words", async () => {
    await ask(page, "#/coils?of=F-404");
    await page.getByText(/There is no cable or building F-404/).waitFor();
    await ask(page, "#/coils?of=F-033&lost=much");
    await page.getByText(/must be a number/).waitFor();
  });
});
