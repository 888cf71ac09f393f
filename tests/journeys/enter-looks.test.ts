/** Every view of the clerk and the auditor: axe finds nothing in either theme, nothing scrolls sideways at either size. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { newSoundCampus } from "./support/campus.ts";
import { intoTable, keys } from "./support/grid.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES, ZOOMED } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newSoundCampus();
});
afterAll(() => plant.close());

type Look = readonly [name: string, address: string, ready: string, ...more: ((window: OpenWindow) => Promise<void>)[]];

const LOOKS: readonly Look[] = [
  ["a table", "#/enter?kind=splice", "[data-row='0'] .swatch"],
  [
    "a table while a cell is edited, with its list open",
    "#/enter?kind=cable",
    "[data-row='0'] .tag",
    async ({ page }) => {
      await intoTable(page);
      await keys(page, "ArrowRight", "ArrowRight", "F2");
      await page.getByRole("option").first().waitFor();
    },
  ],
  [
    "a table with a refused cell, filters open",
    "#/enter?kind=space&where=kind%3Dentrance room",
    "[data-row='0'] .tag",
    async ({ page }) => {
      await intoTable(page);
      await keys(page, "Control+Home");
      await page.keyboard.press("End");
      await page.keyboard.type("gone");
      await keys(page, "Enter");
      await page.getByText("Kept as typed").waitFor();
    },
  ],
  ["a table of findings", "#/enter?kind=section&where=strand_id%3D71", ".grid-line"],
  ["an empty table", "#/enter?kind=firestop", "[data-row='0']"],
  ["the acts", "#/acts", ".acts-list a"],
  ["an act", "#/acts?do=cable.enter&tag=F-300", ".rehearsed"],
  ["a record", "#/record?kind=cable&id=3&tag=F-033", ".field-row"],
  ["the report", "#/check", "[data-finding]"],
  ["one rule's findings", "#/check?by=truth.joined_twice", "[data-finding]"],
  ["reading a folder", "#/import", ".path-choice"],
  ["the history", "#/history", ".history tr a"],
];

let opened: OpenWindow;
beforeAll(async () => {
  opened = await openWindow(plant, { telling: true });
});
afterAll(() => opened.close());

describe.each(["laptop", "wide"] as const)("on a %s screen", (size) => {
  beforeAll(() => opened.page.setViewportSize(SIZES[size]));

  for (const [name, address, ready, prepare] of LOOKS)
    it(`${name} is whole and fits, in either theme`, async () => {
      const { page } = opened;
      await ask(page, address);
      await page.locator(ready).first().waitFor();
      await prepare?.(opened);
      for (const theme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme: theme });
        expect(await overflow(page)).toEqual({ x: 0, y: 0 });
        // One size is enough for what doesn't depend on it.
        if (size === "laptop") expect(await axeFindings(page, { coloursOnly: theme === "dark" }), theme).toEqual([]);
      }
      await keys(page, "Escape");
    });

  it("complains of nothing", () => expect(opened.complaints).toEqual([]));
});

/** The same pages, nothing of them opened. */
const PLAIN = LOOKS.map(([name, address, ready]) => [name, address, ready] as const);

describe("letters at twice their size", () => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant, { letters: "200%", theme: "dark" });
  });
  afterAll(() => open.close());

  it.each(PLAIN)("%s can still be read and used", async (_, address, ready) => {
    const { page } = open;
    await ask(page, address);
    await page.locator(ready).first().waitFor();
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    const { width, height } = SIZES.laptop;
    for (const part of [".question h1", ".answer, .act-help", ready]) {
      const shown = page.locator(part).first();
      if (part === ready) await shown.scrollIntoViewIfNeeded();
      const box = await shown.boundingBox();
      expect(box, part).not.toBeNull();
      expect(box?.y ?? height, part).toBeLessThan(height);
      expect(box?.x ?? width, part).toBeLessThan(width);
    }
  });

  it("rows are as tall as their letters need", async () => {
    const { page } = open;
    await ask(page, "#/enter?kind=cable");
    const first = await page.locator("[data-row='0']").boundingBox();
    const second = await page.locator("[data-row='1']").boundingBox();
    expect((second?.y ?? 0) - (first?.y ?? 0)).toBeCloseTo(first?.height ?? 0, 0);
    const words = await page.locator("[data-row='0'] .tag").first().boundingBox();
    expect(words?.height ?? 0).toBeGreaterThan(28);
    expect(words?.height ?? 0).toBeLessThanOrEqual(first?.height ?? 0);
  });

  it("a finding longer than its table is wide is read whole where the focus or the pointer is", async () => {
    const { page } = open;
    await ask(page, "#/enter?kind=section&where=strand_id%3D71");
    const line = page.locator(".grid-line").first();
    const cut = () => line.locator(".line-words").evaluate((words) => words.scrollWidth > words.clientWidth + 1);
    await line.waitFor();
    expect(await cut()).toBe(true);
    await line.hover();
    expect(await cut()).toBe(false);
    await page.mouse.move(2, 2);
    expect(await cut()).toBe(true);
    await line.getByRole("link", { name: "Open in Check" }).focus();
    expect(await cut()).toBe(false);
  });

  it("a finding doesn't open over the row under it while a block of cells is drawn", async () => {
    const { page } = open;
    const size = page.viewportSize();
    if (!size) throw new Error("it has no size");
    await page.setViewportSize({ ...size, height: 2 * size.height });
    await ask(page, "#/enter?kind=section&where=strand_id%3D71");
    const row = page.locator("[data-row='0']:has(.grid-line)");
    await row.waitFor();
    // As long as the pointer is on the line it is open.
    await page.mouse.move(2, 2);
    await page.waitForFunction(() => !document.querySelector(".grid-line:hover"));
    const [cell, line, under] = await Promise.all([
      row.locator("[data-column='0']").boundingBox(),
      row.locator(".grid-line").last().boundingBox(),
      page.locator("[data-row='1'] [data-column='0']").boundingBox(),
    ]);
    if (!cell || !line || !under) throw new Error("they aren't seen");
    await page.mouse.move(cell.x + 20, cell.y + 8);
    await page.mouse.down();
    await page.mouse.move(cell.x + 20, line.y + line.height / 2);
    await page.mouse.move(cell.x + 20, under.y + 8);
    await page.mouse.up();
    await expect.poll(() => page.locator("[data-column='0'][aria-selected='true']").count()).toBe(2);
    await page.setViewportSize(size);
  });

  it("rows follow when letters change while they are seen", async () => {
    const { page } = open;
    await ask(page, "#/enter?kind=cable");
    const second = page.locator("[data-row='1']");
    const first = page.locator("[data-row='0']");
    await page.evaluate(() => document.documentElement.style.setProperty("font-size", "150%"));
    const gap = async () => ((await second.boundingBox())?.y ?? 0) - ((await first.boundingBox())?.y ?? 0);
    await expect.poll(gap).toBeCloseTo(42, 0);
    await page.evaluate(() => document.documentElement.style.setProperty("font-size", "200%"));
    await expect.poll(gap).toBeCloseTo(56, 0);
  });
});

describe("the whole window at 200 %", () => {
  beforeAll(() => opened.page.setViewportSize(ZOOMED));

  it.each(PLAIN)("%s scrolls downward only, and all of it can be reached", async (_, address, ready) => {
    const { page } = opened;
    await ask(page, address);
    const shown = page.locator(ready).first();
    await shown.waitFor();
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    const wider = await page.locator(".main").evaluate((main) => main.scrollWidth - main.clientWidth);
    expect(wider).toBe(0);
    for (const part of [shown, page.locator(".question h1")]) {
      await part.scrollIntoViewIfNeeded();
      const box = await part.boundingBox();
      expect(box?.y ?? ZOOMED.height).toBeLessThan(ZOOMED.height);
    }
    expect(await axeFindings(page)).toEqual([]);
  });
});

describe("on paper", () => {
  beforeAll(() => opened.page.setViewportSize(SIZES.laptop));

  it("a table is printed whole, with its colours, though only a window of it is on screen", async () => {
    const { page } = opened;
    await ask(page, "#/enter?kind=strand");
    await page.locator("[data-row='0']").waitFor();
    await page.evaluate(() => {
      window.print = () => document.body.setAttribute("data-printed", "");
    });
    await keys(page, "Control+p");
    await page.locator("[data-printed]").waitFor();
    await page.emulateMedia({ media: "print" });
    const total = Number((await page.locator(".grid").getAttribute("aria-rowcount")) ?? 0) - 3;
    expect(total).toBeGreaterThan(100);
    expect(await page.locator(".paper tbody tr").count()).toBe(total);
    expect(await page.locator(".paper tbody tr").last().locator(".swatch").count()).toBeGreaterThan(0);
    expect(await page.locator(".paper").isVisible()).toBe(true);
    expect(await page.locator(".grid").isVisible()).toBe(false);
    await page.emulateMedia({ media: "screen" });
    expect(await page.locator(".paper").isVisible()).toBe(false);
    await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
    await page.locator(".paper").waitFor({ state: "detached" });
  });
});
