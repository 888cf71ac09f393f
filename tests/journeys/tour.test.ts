/** The tour on the demo campus: done as it says, with the keyboard alone; left, and come back to. */
import { describe, expect, it } from "vitest";
import { newSample } from "../support/made.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newSample);
const strip = () => journey.page.getByRole("region", { name: "Tour" });
const step = async (which: string) => {
  await strip().getByText(which).waitFor();
};
const find = async (typed: string, choice?: string) => {
  const { page } = journey;
  await page.keyboard.press("Control+k");
  await page.keyboard.type(typed);
  if (choice === undefined) {
    await page.getByRole("option").first().waitFor();
  } else {
    const wanted = page.getByRole("option", { name: choice });
    await wanted.first().waitFor();
    for (let n = 0; n < 12 && (await wanted.first().getAttribute("aria-selected")) !== "true"; n += 1) {
      await page.keyboard.press("ArrowDown");
    }
  }
  await page.keyboard.press("Enter");
};

describe("the tour", () => {
  it("is offered on the list of questions and begins with the keyboard", async () => {
    await journey.page.getByRole("button", { name: "Take the tour: three minutes" }).focus();
    await journey.page.keyboard.press("Enter");
    await step("Tour, 1 of 7");
    await journey.looks();
  });
  it("sees that a strand was asked for, and that somebody walked along it", async () => {
    const { page } = journey;
    await find("LMP/ER/A:01");
    await step("Tour, 2 of 7");
    await page.locator('tr[tabindex="0"]').first().waitFor();
    await page.locator('tr[tabindex="0"]').first().focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    await step("Tour, 3 of 7");
  });
  it("is left and come back to at the same step", async () => {
    const { page } = journey;
    await strip().getByRole("button", { name: "Leave the tour" }).click();
    await strip().waitFor({ state: "detached" });
    await ask(page, "#/ask");
    await page.getByRole("button", { name: "Go on with the tour, 3 of 7" }).click();
    await step("Tour, 3 of 7");
  });
  it("goes on over feeds, a cut, an entry and its undo to the check", async () => {
    const { page } = journey;
    await find("BKR", "What feeds it?");
    await step("Tour, 4 of 7");
    await find("F-006", "How is it mended where it is cut?");
    await step("Tour, 5 of 7");
    await journey.plant.run("record.edit", { kind: "cable", id: "F-012", values: { notes: "from the tour" } });
    await step("Tour, 6 of 7");
    await page.keyboard.press("Control+z");
    await step("Tour, 7 of 7");
    await ask(page, "#/check");
    await strip().getByText("That was the tour").waitFor();
    await strip().getByRole("button", { name: "Close" }).click();
    await strip().waitFor({ state: "detached" });
    await expect.poll(async () => (await journey.open.kept()).settings).toMatchObject({ touring: false });
    await ask(page, "#/ask");
    expect(await shown(page.locator(".tour-offer"))).toContain("Take the tour");
  });
});
