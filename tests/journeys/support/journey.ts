/** One journey in one window: the plant and the window opened before it, closed after it, and no complaint in between. */
import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, expect } from "vitest";
import type { TestPlant } from "../../support/plant.ts";
import { axeFindings, overflow, partedTags, SENTENCES } from "./look.ts";
import { type OpenWindow, openWindow, SIZES, type WindowOptions } from "./window.ts";

/** No page complains of anything. */
export const NOTHING = /(?!)/;

export interface Journey<P extends TestPlant = TestPlant> {
  readonly plant: P;
  readonly open: OpenWindow;
  readonly page: Page;
  /** The page as it is now: axe finds nothing in either theme, and it scrolls at neither size, and no tag is parted. */
  looks(): Promise<void>;
}

/**
 * @param make makes the plant
 * @param expected complaints that a refused question makes: it is told by its status as well
 */
export function journeyOn<P extends TestPlant>(
  make: () => Promise<P>,
  expected = /400/,
  options: WindowOptions = {},
): Journey<P> {
  let plant: P;
  let open: OpenWindow | undefined;
  const there = (): OpenWindow => {
    if (!open) throw new Error("The window isn't open yet.");
    return open;
  };
  beforeAll(async () => {
    plant = await make();
    open = await openWindow(plant, options);
  });
  afterAll(() => open?.close());
  afterEach(() => expect(there().complaints.filter((words) => !expected.test(words))).toEqual([]));
  return {
    get plant() {
      return plant;
    },
    get open() {
      return there();
    },
    get page() {
      return there().page;
    },
    async looks() {
      const { page } = there();
      for (const theme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme: theme });
        expect(await axeFindings(page, { coloursOnly: theme === "dark" })).toEqual([]);
      }
      for (const size of Object.values(SIZES)) {
        await page.setViewportSize(size);
        expect(await overflow(page)).toEqual({ x: 0, y: 0 });
        expect(await partedTags(page, SENTENCES)).toEqual([]);
      }
      await page.setViewportSize(SIZES.laptop);
    },
  };
}
