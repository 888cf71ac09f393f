/** The tour on the demo campus: each step done as its words say, with the keyboard alone; left, and come back to. */
import { describe, expect, it } from "vitest";
import { newSample } from "../support/made.ts";
import { here, intoTable, onRecord, toColumn } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { tabTo, turnTo } from "./support/keyboard.ts";
import { shown } from "./support/look.ts";

const journey = journeyOn(newSample);
const strip = () => journey.page.getByRole("region", { name: "Tour" });
const step = async (which: string) => {
  await strip().getByText(which).waitFor();
};
/** Ctrl K, a tag, and what is asked about it. */
const find = async (typed: string, choice: string) => {
  const { page } = journey;
  await page.keyboard.press("Control+k");
  await page.keyboard.type(typed);
  const wanted = page.getByRole("option", { name: choice }).first();
  await wanted.waitFor();
  for (let n = 0; n < 12 && (await wanted.getAttribute("aria-selected")) !== "true"; n += 1) {
    await page.keyboard.press("ArrowDown");
  }
  await page.keyboard.press("Enter");
};
/** What stands on the page, by Tab; answers how many of them it took. */
const choose = async (words: RegExp) => {
  const tabs = await tabTo(journey.page, words);
  await journey.page.keyboard.press("Enter");
  return tabs;
};
/** The list of questions, where a tab's own have the focus before them. */
const listed = async (tab: string) => {
  await journey.page.locator(".questions-tab:focus", { hasText: tab }).waitFor();
  expect(await shown(journey.page.locator(".tabs [aria-current] b"))).toBe(tab);
};

describe("the tour", () => {
  it("is offered below what this is and what it is tried on", async () => {
    const first = await shown(journey.page.locator(".questions"));
    expect(first).toMatch(/^\s*Strandbook is the record book of a campus fibre plant: .* invented campus to try it on/);
  });

  it("is offered on the list of questions and begins with the keyboard", async () => {
    await choose(/^Take the tour: three minutes/);
    await step("Tour, 1 of 7");
    await journey.looks();
  });

  it("sees that a strand was asked for", async () => {
    const { page } = journey;
    await page.keyboard.press("Control+k");
    await page.keyboard.type("LMP/ER/A:01");
    await page.keyboard.press("Enter");
    await step("Tour, 2 of 7");
  });

  it("sees that somebody walked along it, from a row that F6 comes to", async () => {
    const { page } = journey;
    await page.locator('tr[tabindex="0"]').first().waitFor();
    await turnTo(page, 'tr[tabindex="0"]');
    await page.keyboard.press("ArrowDown");
    await step("Tour, 3 of 7");
  });

  it("is left, and come back to at the same step", async () => {
    const { page } = journey;
    // The strip is the last part of the page but the foot.
    await turnTo(page, '[data-region="tour"] *');
    await choose(/^Leave the tour/);
    await strip().waitFor({ state: "detached" });
    await page.keyboard.press("Alt+1");
    await listed("Find");
    await choose(/^Go on with the tour, 3 of 7/);
    await step("Tour, 3 of 7");
  });

  it("goes on over what feeds a building and a cut", async () => {
    await find("BKR", "What feeds it?");
    await step("Tour, 4 of 7");
    await find("F-006", "How is it mended where it is cut?");
    await step("Tour, 5 of 7");
  });

  const named = async () => (await onRecord(journey.plant, { kind: "cable" }))[0]?.values.name ?? null;
  let before: unknown;

  it("sees that something was entered in a table", async () => {
    const { page } = journey;
    before = await named();
    await page.keyboard.press("Alt+2");
    await listed("Enter");
    expect(await choose(/^Show cables/)).toBe(1);
    await intoTable(page);
    await toColumn(page, "name");
    expect((await here(page))?.text).toBe(before ?? "");
    await page.keyboard.type("Under a new name");
    await page.keyboard.press("Enter");
    await step("Tour, 6 of 7");
    expect(await named()).toBe("Under a new name");
  });

  it("sees that it was taken back", async () => {
    await journey.page.keyboard.press("Control+z");
    await step("Tour, 7 of 7");
    expect(await named()).toBe(before);
  });

  it("ends with the check, and is offered anew", async () => {
    const { page } = journey;
    await page.keyboard.press("Alt+3");
    await listed("Check");
    expect(await choose(/^Does the record of/)).toBe(1);
    await strip().getByText("That was the tour").waitFor();
    await page.locator("[data-finding]").first().waitFor();
    await turnTo(page, '[data-region="tour"] *');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Close");
    await page.keyboard.press("Enter");
    await strip().waitFor({ state: "detached" });
    await expect.poll(async () => (await journey.open.kept()).settings).toMatchObject({ touring: false });
    // From another tab, as its last words say: twice.
    await page.keyboard.press("Alt+1");
    await page.getByRole("heading", { name: /^What feeds/ }).waitFor();
    await page.keyboard.press("Alt+1");
    expect(await shown(page.locator(".tour-offer"))).toContain("Take the tour");
  });
});
