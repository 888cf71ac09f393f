/** The blanks of a question that bring a list of their own: Escape closes each and leaves what stood in it. */
import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

const BLANKS: readonly (readonly [address: string, blank: RegExp])[] = [
  ["#/enter?kind=cable", /tag and place/],
  ["#/history", /anyone/],
  ["#/check", /every rule/],
  ["#/impact", /Choose|choose another/],
  ["#/labels", /sheet|mm/i],
];

describe("Escape in a blank, with letters that fit nothing", () => {
  for (const [address, blank] of BLANKS)
    it(`leaves ${address} as it was`, async () => {
      const { page } = journey;
      await ask(page, address);
      const button = page
        .locator("button.blank")
        .filter({ has: page.locator("svg") })
        .and(page.getByRole("button", { name: blank }))
        .first();
      const before = await button.getAttribute("aria-label");
      await button.press("q");
      const pop = page.getByRole("dialog", { name: "Fill the blank" });
      await pop.getByRole("combobox").waitFor();
      await page.keyboard.type("qq");
      await page.keyboard.press("Escape");
      await pop.waitFor({ state: "detached" });
      expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(before);
      expect(new URL(page.url()).hash).toBe(address);
    });
});

describe("the kinds of record", () => {
  it.each([
    ["duct", "conduits"],
    ["enclosure", "closures"],
  ])("are found by another word for them: %s is %s", async (typed, kind) => {
    const { page } = journey;
    await ask(page, "#/fields?kind=cable");
    await page.getByRole("button", { name: /cables: choose another/ }).press(typed.slice(0, 1));
    const pop = page.getByRole("dialog", { name: "Fill the blank" });
    await pop.getByRole("combobox").waitFor();
    await page.keyboard.type(typed.slice(1));
    await pop.getByRole("option", { name: kind }).waitFor();
    await page.keyboard.press("Escape");
    await pop.waitFor({ state: "detached" });
  });
});
