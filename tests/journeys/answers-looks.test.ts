/** Pages of light, loss and what breaks: readable by everybody, in both themes and at both sizes. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { everyPage, type Pages } from "./support/every-page.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newCampus();
});

const PAGES: Pages = {
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

const WORKING = [
  "limits",
  "impact of a duct bank",
  "ways into each building",
  "ways into one",
  "a pathway",
  "fitness of a cable",
  "would it fit",
];

everyPage(PAGES, WORKING, () => plant, /status of 40[04]/);

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
