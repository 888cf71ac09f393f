/** The plan of the demo campus in a real browser: walked by keyboard and mouse, the same choice in table and leaf. */
import { describe, expect, it } from "vitest";
import { newSample } from "../support/made.ts";
import { everyPage } from "./support/every-page.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newSample, NOTHING);

const chosen = () => journey.page.locator('.plan-table tr[aria-selected="true"] td').first().textContent();
const leaf = () => journey.page.locator(".leaf .leaf-head h2").first().textContent();

describe("the plan by keyboard", () => {
  it("goes along a cable's way, with the same thing chosen in table and leaf", async () => {
    const { page } = journey;
    await ask(page, "#/plan?of=F-002");
    await page.getByText("F-002 lies in 5 ways by 6 stops").waitFor();
    await page.locator(".plan-drawing").focus();
    await page.keyboard.press("PageDown");
    await page.keyboard.press("PageDown");
    expect([await chosen(), await leaf()]).toEqual(["DB-10", "DB-10"]);
    expect(await page.locator(".plan-drawing").getAttribute("aria-valuetext")).toMatch(/^DB-10, duct bank, 11\d/);
    await page.keyboard.press("PageUp");
    expect([await chosen(), await leaf()]).toEqual(["MH-01", "MH-01"]);
    // From the hole the arrows follow the ways themselves.
    await page.keyboard.press("ArrowDown");
    expect(await leaf()).toBe("DB-12");
  });

  it("zooms with plus and minus, and shows all of it again with Home", async () => {
    const { page } = journey;
    const bar = () => page.locator(".plan-scale .hush").textContent();
    await page.locator(".plan-drawing").focus();
    await page.keyboard.press("Home");
    const all = await bar();
    for (let n = 0; n < 5; n++) await page.keyboard.press("+");
    expect(await bar()).not.toBe(all);
    await page.keyboard.press("Home");
    expect(await bar()).toBe(all);
  });
});

describe("the plan by mouse", () => {
  it("chooses what is clicked, and is moved by dragging without choosing", async () => {
    const { page } = journey;
    await ask(page, "#/plan?of=MH-04");
    await page.getByText("MH-04 is on the plan.").waitFor();
    // What is asked about stands in the middle; a click there chooses it even when something else was chosen.
    await page.locator(".plan-drawing").focus();
    await page.keyboard.press("ArrowUp");
    expect(await leaf()).not.toBe("MH-04");
    await page.getByRole("button", { name: "Fit the way" }).click();
    const box = await page.locator(".plan-drawing").boundingBox();
    if (!box) throw new Error("the plan isn't drawn");
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.click(x, y);
    expect(await leaf()).toBe("MH-04");
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 120, y + 40, { steps: 4 });
    await page.mouse.up();
    expect(await leaf()).toBe("MH-04");
    await page.mouse.click(x + 120, y + 40);
    expect(await leaf()).toBe("MH-04");
  });

  it("follows a choice in the table into sight", async () => {
    const { page } = journey;
    await ask(page, "#/plan");
    await page.getByText("16 buildings").waitFor();
    await page.locator('.plan-table tr:has-text("MH-06")').first().click();
    expect(await leaf()).toBe("MH-06");
    await page.locator('.plan-name:has-text("MH-06")').waitFor();
  });
});

describe("a break on the plan", () => {
  it("is marked at its coordinates with how far off it may be", async () => {
    const { page } = journey;
    await ask(page, "#/plan?of=F-001&mark=-38.598,41.9&off=12");
    await page.locator('.plan-name:has-text("break")').waitFor();
  });
});

const PAGES = {
  "the whole plan": { address: "#/plan", shows: ".plan-table" },
  "a cable beside another": { address: "#/plan?of=F-002&beside=F-003&at=space-23", shows: ".plan-table" },
};
everyPage(PAGES, ["a cable beside another"], () => journey.plant);
