/** Every view of the clerk and the auditor: axe finds nothing in either theme, nothing scrolls sideways at either size. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { enterCampus } from "./support/campus.ts";
import { intoTable, keys } from "./support/grid.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, type WindowOptions } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newPlant();
  await enterCampus((name, input) => plant.run(name, input));
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
  ["reading a folder", "#/import", ".folder-choice"],
  ["the history", "#/history", ".history tr a"],
];

for (const theme of ["light", "dark"] as const)
  for (const size of ["laptop", "wide"] as const) {
    const options: WindowOptions = { theme, size };
    describe(`in ${theme}, ${size}`, () => {
      let window: OpenWindow;
      beforeAll(async () => {
        window = await openWindow(plant, options);
      });
      afterAll(() => window.close());

      for (const [name, address, ready, prepare] of LOOKS)
        it(`${name} is whole and fits`, async () => {
          const { page } = window;
          await ask(page, address);
          await page.locator(ready).first().waitFor();
          await prepare?.(window);
          expect(await overflow(page)).toEqual({ x: 0, y: 0 });
          // One size is enough for what doesn't depend on it.
          if (size === "laptop") expect(await axeFindings(page)).toEqual([]);
          await keys(page, "Escape");
        });

      it("complains of nothing", () => expect(window.complaints).toEqual([]));
    });
  }
