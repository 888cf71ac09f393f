/** Words that stand in an empty field tell what it takes: none of them is cut off by its field. */
import type { Page } from "playwright";
import { describe, expect, it } from "vitest";
import { ACTS } from "../../renderer/forms/acts/index.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

// Every form is drawn here, so whatever React minds about one is told.
const journey = journeyOn(newCampus, undefined, { telling: true });

/** The placeholders of the page that need more room than their fields have, in its own letters. */
const cutOff = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const pen = document.createElement("canvas").getContext("2d");
    return [...document.querySelectorAll<HTMLInputElement>("input[placeholder]")].flatMap((field) => {
      const style = getComputedStyle(field);
      if (!pen || field.clientWidth === 0) return [];
      pen.font = style.font;
      const room = field.clientWidth - Number.parseFloat(style.paddingLeft) - Number.parseFloat(style.paddingRight);
      return pen.measureText(field.placeholder).width > room + 0.5 ? [field.placeholder] : [];
    });
  });

describe("an empty field", () => {
  it("shows its example whole on the page of a new run", async () => {
    const { page } = journey;
    await ask(page, "#/run");
    await page.locator('[data-field="strands"]').waitFor();
    expect(await page.locator('[data-field="strands"]').getAttribute("placeholder")).not.toBe("");
    expect(await cutOff(page)).toEqual([]);
  });

  it("shows its example whole in the form of every act", async () => {
    const { page } = journey;
    for (const { name, title } of ACTS) {
      await ask(page, `#/acts?do=${name}`);
      await page.locator("main .form-input, main .blank-input").first().waitFor();
      expect(await cutOff(page), title).toEqual([]);
    }
  });
});
