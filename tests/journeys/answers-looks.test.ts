/** Pages of light, loss and what breaks: readable by everybody, in both themes and at both sizes. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { enterCampus } from "./support/campus.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES, ZOOMED } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newPlant();
  await enterCampus((name, input) => plant.run(name, input));
});

const PAGES: Readonly<Record<string, { readonly address: string; readonly shows: string }>> = {
  limits: { address: "#/limits", shows: ".limits tbody tr" },
  "impact, empty": { address: "#/impact", shows: ".teach" },
  "impact of a duct bank": { address: "#/impact?of=DB-6", shows: ".impact-circuits tbody tr" },
  "impact of a cable": { address: "#/impact?of=F-033", shows: ".impact-stretch" },
  "impact, refused": { address: "#/impact?of=F-021 1..2", shows: ".refused" },
  "ways into each building": { address: "#/ways", shows: ".ways-table tbody tr" },
  "ways into one": { address: "#/ways?of=KLN", shows: ".way" },
  diverse: { address: "#/diverse", shows: ".diverse-ledger" },
  "pathway, empty": { address: "#/pathway", shows: ".teach" },
  "a pathway": { address: "#/pathway?of=DB-2", shows: ".bank-pipes tbody tr" },
  "fitness, empty": { address: "#/fitness", shows: ".teach" },
  "fitness of a cable": { address: "#/fitness?of=F-033", shows: ".fitness-matrix tbody tr" },
  "fitness, refused": { address: "#/fitness?of=F-999", shows: ".refused" },
  "would it fit": { address: "#/fit?type=LT-OS2&ways=DB-5 %2B DB-6", shows: ".fit-order" },
  "limits, none fits": { address: "#/limits?named=nosuchglass", shows: ".limits-none" },
};

describe.each(["light", "dark"] as const)("each page in the %s theme", (theme) => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant, { theme });
  });
  afterAll(() => open?.close());

  it.each(Object.keys(PAGES))("%s: axe finds nothing, and it doesn't scroll sideways", async (name) => {
    const { address, shows } = PAGES[name] as { address: string; shows: string };
    await ask(open.page, address);
    await open.page.locator(shows).first().waitFor();
    expect(await axeFindings(open.page)).toEqual([]);
    for (const size of Object.values(SIZES)) {
      await open.page.setViewportSize(size);
      expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
    }
    await open.page.setViewportSize(SIZES.laptop);
    expect(open.complaints.filter((words) => !/status of 40[04]/.test(words))).toEqual([]);
  });
});

const WORKING = [
  "limits",
  "impact of a duct bank",
  "ways into each building",
  "ways into one",
  "a pathway",
  "fitness of a cable",
  "would it fit",
];

describe("letters at twice their size", () => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant, { letters: "200%" });
  });
  afterAll(() => open?.close());

  it.each(WORKING)("%s can still be read and used", async (name) => {
    const { address, shows } = PAGES[name] as { address: string; shows: string };
    await ask(open.page, address);
    await open.page.locator(shows).first().waitFor();
    expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
    const { height, width } = SIZES.laptop;
    for (const part of [".question h1", ".answer", ".foot", shows]) {
      if (part === shows) await open.page.locator(part).first().scrollIntoViewIfNeeded();
      const box = await open.page.locator(part).first().boundingBox();
      expect(box, part).not.toBeNull();
      expect(box?.y ?? height, part).toBeLessThan(height);
      if (part !== shows) expect((box?.x ?? 0) + (box?.width ?? 0), part).toBeLessThanOrEqual(width);
    }
  });
});

describe("the whole window at 200 %", () => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant);
    await open.page.setViewportSize(ZOOMED);
  });
  afterAll(() => open?.close());

  it.each(WORKING)("%s scrolls downward only, and all of it can be reached", async (name) => {
    const { address, shows } = PAGES[name] as { address: string; shows: string };
    await ask(open.page, address);
    const shown = open.page.locator(shows).first();
    await shown.waitFor();
    expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
    for (const part of [shown, open.page.locator(".leaf").first(), open.page.locator(".question h1")]) {
      await part.scrollIntoViewIfNeeded();
      const box = await part.boundingBox();
      expect(box?.y ?? ZOOMED.height).toBeLessThan(ZOOMED.height);
    }
    expect(await axeFindings(open.page)).toEqual([]);
  });
});

describe("on paper", () => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant);
    await open.page.emulateMedia({ media: "print" });
    // Low, so that what is scrolled on screen would be cut.
    await open.page.setViewportSize({ width: 1280, height: 560 });
  });
  afterAll(() => open?.close());

  it.each(["limits", "impact of a duct bank", "fitness of a cable"])("%s is printed whole", async (name) => {
    const { address, shows } = PAGES[name] as { address: string; shows: string };
    await ask(open.page, address);
    await open.page.locator(shows).first().waitFor();
    const cut = await open.page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>(".page-body, .half-drawing, .half-ledger")]
        .filter((part) => part.scrollHeight > part.clientHeight + 1 && getComputedStyle(part).overflowY !== "visible")
        .map((part) => part.className),
    );
    expect(cut).toEqual([]);
  });
});
