/** What holds for every page, whatever it shows: readable by everybody, in both themes, at both sizes, and enlarged. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TestPlant } from "../../support/plant.ts";
import { axeFindings, overflow, partedTags, SENTENCES } from "./look.ts";
import { ask, type OpenWindow, openWindow, SIZES, ZOOMED } from "./window.ts";

/** Pages by name: the address, and the part that is there once the page is. */
export type Pages = Readonly<Record<string, { readonly address: string; readonly shows: string }>>;

/**
 * Checks of each page.
 *
 * @param working pages that must stay usable with letters at twice their size, and in a window enlarged to 200 %
 * @param plant the plant, once it is there
 * @param expected complaints that a refused question makes
 */
export function everyPage(pages: Pages, working: readonly string[], plant: () => TestPlant, expected = /404/): void {
  describe("every page", () => {
    let open: OpenWindow;
    beforeAll(async () => {
      open = await openWindow(plant(), { telling: true });
    });
    afterAll(() => open?.close());

    it.each(Object.keys(pages))(
      "%s: axe finds nothing in either theme, and it doesn't scroll sideways",
      async (name) => {
        const { address, shows } = pages[name] as { address: string; shows: string };
        await ask(open.page, address);
        await open.page.locator(shows).first().waitFor();
        for (const theme of ["light", "dark"] as const) {
          await open.page.emulateMedia({ colorScheme: theme });
          expect(await axeFindings(open.page, { coloursOnly: theme === "dark" }), theme).toEqual([]);
        }
        for (const size of Object.values(SIZES)) {
          await open.page.setViewportSize(size);
          expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
          expect(await partedTags(open.page, SENTENCES)).toEqual([]);
        }
        await open.page.setViewportSize(SIZES.laptop);
        expect(open.complaints.filter((words) => !expected.test(words))).toEqual([]);
      },
    );

    describe("with the whole window at 200 %", () => {
      beforeAll(() => open.page.setViewportSize(ZOOMED));

      it.each(working)("%s scrolls downward only, and all of it can be reached", async (name) => {
        const { address, shows } = pages[name] as { address: string; shows: string };
        await ask(open.page, address);
        const shown = open.page.locator(shows).first();
        await shown.waitFor();
        expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
        // A page may have no leaf.
        const leaf = open.page.locator(".leaf");
        const parts = [shown, ...((await leaf.count()) > 0 ? [leaf.first()] : []), open.page.locator(".question h1")];
        for (const part of parts) {
          await part.scrollIntoViewIfNeeded();
          const box = await part.boundingBox();
          expect(box?.y ?? ZOOMED.height).toBeLessThan(ZOOMED.height);
        }
        expect(await axeFindings(open.page)).toEqual([]);
      });
    });
  });

  describe("letters at twice their size, in the dark theme from the start", () => {
    let open: OpenWindow;
    beforeAll(async () => {
      open = await openWindow(plant(), { letters: "200%", theme: "dark" });
    });
    afterAll(() => open?.close());

    it.each(working)("%s can still be read and used", async (name) => {
      const { address, shows } = pages[name] as { address: string; shows: string };
      await ask(open.page, address);
      await open.page.locator(shows).first().waitFor();
      expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
      // Question, answer and foot stay on screen, and what is asked about has room left.
      const { height, width } = SIZES.laptop;
      for (const part of [".question h1", ".answer", ".foot", shows]) {
        if (part === shows) await open.page.locator(part).first().scrollIntoViewIfNeeded();
        const box = await open.page.locator(part).first().boundingBox();
        expect(box, part).not.toBeNull();
        expect(box?.x ?? -1, part).toBeGreaterThanOrEqual(0);
        expect(box?.y ?? height, part).toBeLessThan(height);
        if (part !== shows) expect((box?.x ?? 0) + (box?.width ?? 0), part).toBeLessThanOrEqual(width);
      }
    });
  });
}
